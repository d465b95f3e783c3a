"""Does an empty workshop say where to begin, and stop when it has begun?"""

import re

import pytest

from turnscrew.web.records.models import Batch
from turnscrew.web.records.services import people
from web.counter_case import signed_in

STEPS = ("/batches/", "/people/", "/docs/")
NOTHING = ("Batches here", "Standing open", "Parcels expected", "Money")


def told(person) -> str:
    return signed_in(person).get("/").content.decode().split("<main")[1]


@pytest.mark.parametrize("who", ["lead", "helper", "desk"])
def test_an_empty_workshop_has_three_first_steps(who, request, clock) -> None:
    person = request.getfixturevalue(who)
    page = told(person)

    assert list(STEPS) == re.findall(r'<li><a href="([^"]*)"', page)
    for address in STEPS:
        assert 200 == signed_in(person).get(address).status_code
    assert [] == [one for one in NOTHING if one in page]


def test_what_is_due_stands_below_them(lead, clock) -> None:
    people.begin_safety()
    page = told(lead)

    assert page.index("Three first steps") < page.index("Safety checks due")
    assert "never looked at" in page


def test_it_speaks_of_them_in_german(lead, clock, now) -> None:
    people.speak_to(lead, "de", now=now)
    page = told(lead)

    assert "Drei erste Schritte" in page
    assert "Ein Los annehmen" in page
    assert "Three first steps" not in page


def test_a_workshop_that_has_begun_shows_its_work(sallowmere, lead, clock, now) -> None:
    page = told(lead)
    assert "Three first steps" not in page
    assert [] == [one for one in NOTHING if one not in page]

    Batch.objects.update(closed_on=now.date())
    page = told(lead)
    assert "Three first steps" not in page
    assert "Book one" in page

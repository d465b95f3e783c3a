"""Is a claim that a part fits kept apart from what was fitted once?"""

import pytest
from django.test import Client

from turnscrew.web.records.models import Entry, Part, PartFit
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import kitting
from web.browser.bench_case import describe
from web.counter_case import signed_in

GLASS = 4
"""Line of the example batch: a tablet V80 of revision 2 with a cracked front."""


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def glass(sallowmere) -> Part:
    return Part.objects.get(number="T-GL2")


def claim(counter: Client, part: Part, **told: str) -> int:
    entered = {"act": "claim", "claimed_by": "Wolder Parts", **told}
    return counter.post(f"/stock/{part.number}/", entered).status_code


def test_a_claim_is_told_as_such(counter, glass) -> None:
    assert 302 == claim(counter, glass)
    page = counter.get(f"/stock/{glass.number}/").content.decode()

    assert "claim of Wolder Parts, 1 Feb 2027: never fitted there" in page
    assert "By the parts list also V80 2: a claim, never fitted there." in page
    entry = Entry.objects.get(verb="said to fit")
    assert "Wolder Parts" == entry.words.text
    # The same again, and a revision of no model, are refused.
    assert 422 == claim(counter, glass)
    assert 422 == claim(counter, glass, revision="2")
    assert 422 == claim(counter, glass, model="V80", claimed_by=" ")


def test_fitting_makes_a_fact_of_the_very_place_alone(
    counter, sallowmere, glass, lead, clock
) -> None:
    describe(sallowmere, lead, clock.at)
    claim(counter, glass)
    claim(counter, glass, model="V80", revision="2", position="front glass")
    claim(counter, glass, model="V80", revision="1", position="front glass")
    job = sallowmere.jobs.get(line=GLASS)
    kitting.allot(sallowmere, reckoned(sallowmere, clock.at), by=lead, now=clock.at)
    kitting.fit(job, by=lead, now=clock.at)

    facts = {
        (one.model, one.revision, one.position)
        for one in PartFit.objects.filter(part=glass)
        if one.is_fact
    }
    assert {("V80", "2", "front glass")} == facts
    assert 3 == PartFit.objects.filter(part=glass).count()
    fitted = PartFit.objects.get(part=glass, revision="2")
    assert (job, clock.at.date(), "Wolder Parts") == (
        fitted.job, fitted.fitted_on, fitted.claimed_by,
    )  # fmt: skip
    page = counter.get(f"/stock/{glass.number}/").content.decode()
    assert "<strong>fitted</strong> 1 Feb 2027" in page
    assert "By the parts list also" not in page


def test_without_a_description_the_position_is_not_said(
    sallowmere, glass, lead, now
) -> None:
    job = sallowmere.jobs.get(line=GLASS)
    kitting.take_fitted(job, {"T-GL2": 1}, by=lead, now=now)

    fit = PartFit.objects.get(part=glass)
    assert ("V80", "2", "", True) == (
        fit.model, fit.revision, fit.position, fit.is_fact,
    )  # fmt: skip

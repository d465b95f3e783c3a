"""Does a part's page tell what is wanted of it, and how far that is to be trusted?"""

import re
from datetime import timedelta

import pytest

from turnscrew.web.records.models import Allotment, Job, Part
from turnscrew.web.records.queries.part_demand import demand_of, demand_picture
from web.counter_case import signed_in


@pytest.fixture
def glass(sallowmere, now) -> Part:
    """Give a part that jobs asked for in the months before."""
    part = Part.objects.get(number="T-GL2")
    job = Job.objects.filter(batch=sallowmere).first()
    for ago, n in enumerate((5, 8, 4, 5, 7, 3, 6, 4), start=1):
        at = now - timedelta(days=30 * ago)
        for _ in range(n):
            Allotment.objects.create(part=part, job=job, state=Allotment.USED, at=at)
    released = Allotment.RELEASED
    Allotment.objects.create(part=part, job=job, state=released, at=now)
    return part


def test_it_counts_whole_months_and_leaves_out_what_was_given_back(glass, now) -> None:
    told = demand_of(glass, now.date())

    assert "own demand" == told.basis
    assert 42 == sum(told.past)
    assert told.check is not None
    picture = demand_picture(glass, told)
    assert picture is not None
    assert f"hold {told.level.stock}" in picture.says


def test_a_part_of_the_same_model_speaks_for_one_that_is_new(glass, now) -> None:
    Allotment.objects.exclude(part=glass).delete()
    camera = Part.objects.get(number="T-CM")
    told = demand_of(camera, now.date())

    # Its own months are known to be empty: eight of them are own demand.
    assert "own demand" == told.basis
    assert 0 == sum(told.past)
    keyboard = Part.objects.get(number="C-KBA")
    assert 0 == sum(demand_of(keyboard, now.date()).past)


def test_the_page_shows_the_picture_the_level_and_its_check(glass, lead, clock) -> None:
    html = signed_in(lead).get("/stock/T-GL2/").content.decode()
    text = re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", html))

    assert re.search(r'<img src="data:image/svg[^"]+" alt="[^"]*hold \d+', html)
    assert "Held against its own past" in text
    assert "cover lead time and one month" in text


def test_nothing_known_is_said(sallowmere, lead, clock) -> None:
    Allotment.objects.all().delete()
    html = signed_in(lead).get("/stock/T-GL2/").content.decode()

    assert "Nothing is known of it yet" in html


def test_a_part_is_listed_to_be_bought_again_from_its_own_page(
    sallowmere, lead, clock
) -> None:
    client = signed_in(lead)
    part = Part.objects.get(number="T-GL2")
    listed = client.get("/stock/").content.decode().split("Buy again")
    assert 1 == len(listed) or "T-GL2" not in listed[1]

    post = {"act": "buy_again", "n": "50"}
    answer = client.post("/stock/T-GL2/", post, follow=True)

    assert 200 == answer.status_code
    part.refresh_from_db()
    assert 50 == part.reorder_point
    assert "T-GL2" in client.get("/stock/").content.decode().split("Buy again")[1]

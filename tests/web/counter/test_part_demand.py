"""Does a part's page tell what is wanted of it, and how far that is to be trusted?"""

import re
from datetime import date, timedelta

import pytest

from turnscrew.core.model.spare_part import SparePart
from turnscrew.web.records.models import (
    Allotment,
    Donor,
    DonorPart,
    Job,
    OrderLine,
    Part,
)
from turnscrew.web.records.queries.part_demand import (
    EndAsked,
    demand_of,
    demand_picture,
    end_of,
)
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.services import parts_list
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


def test_the_file_of_parts_brings_the_point_at_which_it_is_bought_again(
    sallowmere, lead, clock
) -> None:
    terms = terms_of(sallowmere)
    told = [
        SparePart("TAPE", "tape", "V80", cost_minor=90, unit="metre", reorder_point=3),
        SparePart("T-AD", "frame", "V80", reorder_point=12),
        SparePart("H-GK", "seal", "R50", reorder_point=2),
    ]
    Part.objects.filter(number="H-GK").update(reorder_point=9)
    parts_list.keep_parts(told, terms, by=lead, now=clock.at)

    points = dict(Part.objects.values_list("number", "reorder_point"))
    # A point set by hand is not overwritten by a file.
    assert (3, 12, 9) == (points["TAPE"], points["T-AD"], points["H-GK"])
    assert "metre" == Part.objects.get(number="TAPE").unit
    assert "0 metre" in signed_in(lead).get("/stock/").content.decode()


def test_the_morning_names_what_lies_at_its_point(sallowmere, lead, clock) -> None:
    client = signed_in(lead)
    assert "T-AD" not in client.get("/").content.decode()

    Part.objects.filter(number="T-AD").update(reorder_point=10)
    assert "T-AD Adhesive frame set" in client.get("/").content.decode()


def test_the_page_answers_two_prices_with_the_level_they_imply(
    sallowmere, lead, clock
) -> None:
    job = Job.objects.first()
    glass = Part.objects.get(number="T-GL2")
    for month in range(1, 9):
        at = clock.at - timedelta(days=31 * month)
        for _ in range(month % 3):
            Allotment.objects.create(part=glass, job=job, state="used", at=at)
    client = signed_in(lead)
    assert "These prices imply" not in client.get("/stock/T-GL2/").content.decode()

    page = client.get("/stock/T-GL2/?lacking=12.00&over=3.00").content.decode()
    assert "These prices imply a level of 80 %: hold " in page
    wrong = client.get("/stock/T-GL2/?lacking=12.00&over=0").content.decode()
    assert "found 0, wanted more than 0" in wrong
    assert "These prices imply" not in wrong


ASKED = "until=2028-09-30&fleet=whole&lost=180.00&left=2.00"


def end_told(client, query: str) -> str:
    html = client.get(f"/stock/T-GL2/?{query}").content.decode()
    return re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", html))


def test_the_page_says_how_many_last_to_the_end_of_the_model(
    glass, lead, clock
) -> None:
    Part.objects.filter(pk=glass.pk).update(on_hand=9, promised=2)
    OrderLine.objects.create(
        part=glass, n=6, n_received=1, n_rejected=1, ordered_on=clock.at.date()
    )
    client = signed_in(lead)

    told = end_told(client, ASKED)

    known = Part.objects.get(pk=glass.pk)
    asked = EndAsked(date(2028, 9, 30), False, 18000, 200)
    end = end_of(known, clock.at.date(), asked)
    assert end is not None
    # Seven free on the shelf, four still to come.
    assert 11 == end.n_there
    assert f"In these {end.n_months} months" in told
    assert f"Buy {end.told.buy.quantity} while it can be had." in told
    assert f"With 11 free or on their way that makes {end.told.buy.stock};" in told
    assert "say how many of ten" in told

    half = end_told(client, ASKED.replace("whole", "shrinking"))
    assert f"as a whole one in {-(-end.n_months // 2)} months" in half
    assert int(re.search(r"Buy (\d+) while", half)[1]) < end.told.buy.quantity


def test_donors_in_place_of_pieces_go_by_what_was_tested(glass, lead, clock) -> None:
    job = Job.objects.first()
    donor = Donor.objects.create(job=job)
    for state in ("good", "used", "bad", "untested", "untested"):
        DonorPart.objects.create(donor=donor, part=glass, state=state)
    client = signed_in(lead)

    told = end_told(client, ASKED)

    # Two and a half of four: (2 + 0.5) / (3 + 1).
    assert "Reckoned with 62 % of their pieces good." in told
    assert re.search(r"Or keep \d+ donors of this model and buy none", told)
    assert "kept without its pack and without its storage" in told
    better = end_told(client, f"{ASKED}&good=9")
    n_donors = [
        int(re.search(r"Or keep (\d+) donors", one)[1]) for one in (told, better)
    ]
    assert n_donors[0] > n_donors[1]


@pytest.mark.parametrize(
    ("query", "says"),
    [
        ("until=2020-01-01&fleet=whole&lost=180.00", "wanted a day to come"),
        ("until=2028-09-30&fleet=whole&lost=", "This field is required"),
        ("until=2028-09-30&fleet=whole&lost=9.00&left=900", "found its cost or more"),
        ("until=2028-09-30&fleet=whole&lost=9.00&good=11", "less than or equal to 10"),
    ],
)
def test_a_wrong_end_is_refused_where_it_was_entered(
    glass, lead, clock, query, says
) -> None:
    told = end_told(signed_in(lead), query)

    assert says in told
    assert "while it can be had" not in told


def test_a_piece_not_worth_its_price_is_not_bought(glass, lead, clock) -> None:
    told = end_told(signed_in(lead), "until=2028-09-30&fleet=whole&lost=0.01")

    assert "Buy none: one lacking costs no more than one bought." in told


def test_without_a_cost_no_end_is_reckoned(glass, lead, clock) -> None:
    Part.objects.filter(pk=glass.pk).update(cost_minor=None)

    assert "To the end of its model" not in end_told(signed_in(lead), ASKED)

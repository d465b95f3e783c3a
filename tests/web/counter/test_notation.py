"""Do pages and papers read as the workshop chose, with nothing that is kept changed?"""

import json
import re
from decimal import Decimal

import pypdfium2
import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from turnscrew.core.model.notation import Notation
from turnscrew.web.counter.fields import AmountField
from turnscrew.web.counter.notation_now import NotationGate
from turnscrew.web.counter.templatetags import reads
from turnscrew.web.keeping.tables import carried, rows_of
from turnscrew.web.records.models import Job
from turnscrew.web.records.queries import notation as queries
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.bench_page import bench_state
from turnscrew.web.records.services import people
from turnscrew.web.records.services.notation import choose_notation
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in


@pytest.fixture
def counter(lead, clock, sallowmere):
    return signed_in(lead)


@pytest.fixture
def job(sallowmere) -> Job:
    return Job.objects.get(line=1, batch=sallowmere)


def checks_of(job: Job) -> str:
    return reverse("counter:checks", args=[job.item.ref])


def choose(counter, lengths: str = "mm", sign: str = "", week: str = "monday"):
    chosen = {"act": "notation", "lengths": lengths, "sign": sign, "week": week}
    return counter.post("/account/", chosen)


def seen_gap(counter, job: Job, gap: str):
    told = {"act": "condition", "gap_mm": gap, "feet": "0", "screws": "0", "trims": "0",
            "keys": "0", "covers": "0"}  # fmt: skip
    return counter.post(checks_of(job), told)


def kept() -> dict[str, list[str]]:
    """Give every row of every table but the choice itself, and who looked at what."""
    apart = {"records_howitreads", "records_viewing"}
    told = {
        name: rows_of(model, with_secrets=True)
        for name, model in carried(with_secrets=True).items()
        if name not in apart
    }
    return {
        name: [json.dumps(row, sort_keys=True) for row in rows]
        for name, rows in told.items()
    }


def shown(counter, job: Job) -> str:
    """Give a page without what is drawn anew for each."""
    page = counter.get(checks_of(job)).content.decode()
    return re.sub(r'name="(csrfmiddlewaretoken|key|once)" value="\w+"', "", page)


def words_of(pdf: bytes) -> str:
    with pypdfium2.PdfDocument(pdf) as sheets:
        told = " ".join(sheet.get_textpage().get_text_range() for sheet in sheets)
    return " ".join(told.split())


def test_a_lead_chooses_for_everybody(counter, helper) -> None:
    answer = choose(counter, "inch", "comma", "sunday")

    assert 302 == answer.status_code
    assert Notation("inch", "comma", "sunday") == queries.notation()
    assert (
        "How figures read in this workshop" in counter.get("/account/").content.decode()
    )
    theirs = signed_in(helper)
    assert "How figures read" not in theirs.get("/account/").content.decode()
    assert 404 == choose(theirs).status_code


def test_it_refuses_what_is_not_known(db) -> None:
    with pytest.raises(RefusedError) as refused:
        choose_notation("feet", "dot", "")

    assert 3 == len(refused.value.reasons)


def test_lengths_have_inches_beside_them_on_a_page(counter, job) -> None:
    assert 302 == seen_gap(counter, job, "1.5").status_code
    assert "Gap of the case: 1.5 mm." in counter.get(checks_of(job)).content.decode()

    choose(counter, "inch")
    assert "1.5 mm (0.059 in)." in counter.get(checks_of(job)).content.decode()
    choose(counter, "inch", "comma")
    assert "1,5 mm (0,059 in)." in counter.get(checks_of(job)).content.decode()


def test_the_other_sign_is_shown_back_before_anything_is_saved(counter, job) -> None:
    answer = seen_gap(counter, job, "1,5")

    told = answer.content.decode()
    assert 422 == answer.status_code
    assert "found 1,5, which may mean 1 whole and 5 tenths; nothing was saved" in told
    assert 'value="1,5"' in told
    job.refresh_from_db()
    assert job.gap_mm is None

    choose(counter, sign="comma")
    assert 302 == seen_gap(counter, job, "1,5").status_code
    job.refresh_from_db()
    assert Decimal("1.5") == job.gap_mm
    assert 'value="1,5"' in counter.get(checks_of(job)).content.decode()
    answer = seen_gap(counter, job, "2.55")
    assert 422 == answer.status_code
    assert "found 2.55, which may mean 2 whole and 55" in answer.content.decode()


@pytest.mark.parametrize(
    ("sign", "text", "minor"),
    [("", "116.12", 11612), ("comma", "116,12", 11612), ("comma", "116", 11600)],
)
def test_an_amount_is_taken_with_the_sign_of_the_workshop(
    db, sign, text, minor
) -> None:
    choose_notation("mm", sign, "monday")
    taken = NotationGate(lambda _: AmountField().clean(text))

    assert minor == taken(None)


@pytest.mark.parametrize(
    ("sign", "text", "said"),
    [
        ("", "116,12", "116 whole and 12 hundredths; nothing was saved"),
        ("comma", "116.12", "if that is meant, write 116,12"),
        ("comma", "1,234", "wanted an amount such as 116,12, with a comma"),
        ("", "-5", "wanted an amount such as 116.12, with a point"),
    ],
)
def test_another_amount_is_shown_back(db, sign, text, said) -> None:
    choose_notation("mm", sign, "monday")
    taken = NotationGate(lambda _: AmountField().clean(text))

    with pytest.raises(ValidationError, match=said):
        taken(None)


def test_nothing_that_is_kept_changes_by_switching_there_and_back(
    counter, job, lead, now
) -> None:
    assert 302 == seen_gap(counter, job, "1.5").status_code
    before, journals = kept(), audited()
    counter.get("/")
    first = shown(counter, job)

    for lengths, sign, week in (
        ("inch", "comma", "sunday"),
        ("inch", "point", "saturday"),
        ("mm", "", "monday"),
    ):  # fmt: skip
        choose(counter, lengths, sign, week)
        for address in ("/", checks_of(job), "/own-times/", "/stock/"):
            assert 200 == counter.get(address).status_code
        assert before == kept()
        assert journals == audited()

    assert first == shown(counter, job)


def test_the_papers_follow_and_their_drawings_stay_true(
    counter, job, sallowmere
) -> None:
    assert 302 == seen_gap(counter, job, "1.5").status_code
    address = reverse("counter:paper", args=[sallowmere.ref, "receipt.pdf"])
    sheet = reverse("counter:paper", args=[sallowmere.ref, "batch-sheet.pdf"])
    scale = reverse("counter:length-scale-a4")
    usual = counter.get(scale).content

    assert "116.12" in words_of(counter.get(sheet).content)
    choose(counter, "inch", "comma")

    assert "gap of the case 1,5 mm (0,059 in)" in words_of(counter.get(address).content)
    told = words_of(counter.get(sheet).content)
    assert "116,12" in told
    assert "116.12" not in told
    shown = counter.get(scale).content
    assert "the bar measures 100 mm (3,94 in)" in words_of(shown)
    with pypdfium2.PdfDocument(usual) as old, pypdfium2.PdfDocument(shown) as new:
        assert old[0].get_size() == new[0].get_size()


def test_the_bench_is_told_how_figures_read(sallowmere, lead, now) -> None:
    choose_notation("inch", "comma", "monday")

    told = bench_state("bench 1", lead, now)["notation"]

    assert {"lengths": "inch", "sign": "comma", "week": "monday"} == told


def test_filters_read_as_chosen(counter, lead, now) -> None:
    assert "3,712.18" == reads.money(371218)
    people.speak_to(lead, "de", now=now)
    choose(counter, sign="point")
    told = counter.get("/account/").content.decode()

    assert '<option value="point" selected>' in told


@pytest.mark.parametrize(
    ("week", "first", "second"),
    [
        ("monday", "Mon 1 Feb", "Mon 8 Feb"),
        ("sunday", "Sun 31 Jan", "Sun 7 Feb"),
        ("saturday", "Sat 30 Jan", "Sat 6 Feb"),
    ],
)
def test_the_plan_is_parted_by_weeks_as_they_begin_here(
    counter, sallowmere, week, first, second
) -> None:
    choose(counter, week=week)
    page = counter.get(f"/batches/{sallowmere.ref}/plan/").content.decode()

    # By a calendar: 1 February 2027 is a Monday.
    begins = re.findall(
        r'<th colspan="3" scope="rowgroup">Week from ([^<]+)</th>', page
    )
    assert [first, second] == begins
    days = page.index("day 5, Fri 5 Feb</td>"), page.index("day 7, Tue 9 Feb</td>")
    assert days[0] < page.index(f"Week from {second}") < days[1]

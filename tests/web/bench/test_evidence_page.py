"""Does the evidence page bear what was answered at the bench and what was cleared?"""

from collections import Counter
from datetime import timedelta
from typing import Any

import pypdfium2
import pytest

from turnscrew.core.photo.drawing import Mask
from turnscrew.web.records.models import Allotment, Batch, Finding, Job, Part
from turnscrew.web.records.photo_files import drawing_of
from turnscrew.web.records.queries.adapters import adapters_of
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.bench_runs import run_in
from turnscrew.web.records.queries.paper_beside import beside_of
from turnscrew.web.records.services import photos
from web.bench.case import anew, taken, work
from web.browser.bench_case import kitted
from web.counter_case import signed_in
from web.photos.conftest import board, written

KEYS = 18
"""Line of the example batch with worn keys of a scanner."""


@pytest.fixture
def job(batch, lead, now, clock, settings, tmp_path) -> Job:
    clock.move_on(hours=1)
    settings.PHOTOS = tmp_path / "photos"
    return kitted(batch, KEYS, lead, now)


def photo_of(job: Job, lead: Any, now: Any, caption: str) -> Any:
    content = written(board(), "JPEG")
    return photos.add_photo(job, content, by=lead, now=now, caption=caption)


def paper(person: Any, batch: Batch, name: str, **asked: str) -> pypdfium2.PdfDocument:
    address = f"/batches/{batch.ref}/papers/{name}"
    answer = signed_in(person).get(address, asked)
    assert 200 == answer.status_code
    return pypdfium2.PdfDocument(answer.content)


def half_of(document: pypdfium2.PdfDocument, line: int) -> str:
    pages = [page.get_textpage().get_text_bounded() for page in document]
    halves = " ".join(" ".join(pages).split()).split("Device ")
    return next(half for half in halves if half.startswith(f"{line}-"))


def n_pictures(document: pypdfium2.PdfDocument) -> int:
    kind = pypdfium2.raw.FPDF_PAGEOBJ_IMAGE
    return sum(len(list(page.get_objects([kind]))) for page in document)


def test_it_bears_the_outcomes_of_the_bench_with_who_and_when(
    job, batch, lead, helper, now
) -> None:
    before = half_of(paper(lead, batch, "evidence.pdf"), KEYS)
    run = taken(job, lead, now)
    work(run, lead, now, helper)
    after = half_of(paper(lead, batch, "evidence.pdf"), KEYS)

    assert "not applicable" in before
    assert "Charge at hand-back, in per cent: passed 80 % Imke Vasterling" in after
    assert "01 Feb 2027" in after
    assert "done by Imke Vasterling" in after
    assert "not applicable" not in after
    # One that nobody touched keeps its boxes to fill by hand.
    assert "not applicable" in half_of(paper(lead, batch, "evidence.pdf"), KEYS + 1)


def test_it_names_no_part_of_what_was_closed_up_as_it_is(
    job, batch, lead, at_lead, helper, now
) -> None:
    planned = half_of(paper(lead, batch, "evidence.pdf"), KEYS)
    run = taken(job, lead, now)
    work(run, lead, now, helper, lambda line: line.phase == "work")
    work(anew(at_lead, job, why="left so", is_closing=True), lead, now, helper)
    after = half_of(paper(lead, batch, "evidence.pdf"), KEYS)

    name = Part.objects.get(number="H-KP").description
    assert "planned exchange, see parts parts" in planned
    assert name in planned
    assert "done closed up as it is: nothing was exchanged parts none" in after
    assert name not in after


def test_it_names_the_part_that_was_fitted(job, batch, lead, helper, now) -> None:
    work(taken(job, lead, now), lead, now, helper)

    half = half_of(paper(lead, batch, "evidence.pdf"), KEYS)
    assert "done exchanged, see parts parts" in half
    assert Part.objects.get(number="H-KP").description in half


def test_an_adapter_that_passed_at_the_bench_was_looked_at(
    batch, lead, helper, now
) -> None:
    job = kitted(batch, 1, lead, now)
    [unseen] = adapters_of(job.accessories.all())
    work(taken(job, lead, now), lead, now, helper)
    [passed] = adapters_of(job.accessories.all())

    assert "not looked at" in unseen.says
    assert (
        "adapter: NOT HANDED BACK AS FIT "
        "(passed at the bench; no reading is on record)" == passed.says
    )


def test_it_plans_nothing_where_no_fault_is_found(batch, lead) -> None:
    Finding.objects.filter(job__batch=batch, job__line=KEYS).delete()

    half = half_of(paper(lead, batch, "evidence.pdf"), KEYS)

    assert "planned nothing yet: no fault is found parts none" in half


def test_what_was_fitted_is_off_the_shelf_once_whether_allotted_or_not(
    job, batch, lead, helper, now
) -> None:
    Allotment.objects.filter(job=job).delete()
    before = {part.number: part.on_hand for part in Part.objects.all()}
    run = taken(job, lead, now)
    work(run, lead, now, helper)

    lines = run_in(run).lines
    fitted = Counter(line.spare for line in lines if line.spare)
    assert fitted
    used = job.allotments.filter(state=Allotment.USED)
    assert fitted == Counter(one.part.number for one in used)
    after = {part.number: part.on_hand for part in Part.objects.all()}
    assert {number: before[number] - n for number, n in fitted.items()} == {
        number: after[number] for number in fitted
    }
    assert () == audited().breaks


def test_it_keeps_apart_what_was_not_tested(job, batch, lead, helper, now) -> None:
    run = taken(job, lead, now)
    work(run, lead, now, helper, lambda line: line.name == "charge")

    tests = {one.says: one for one in beside_of("evidence.pdf", batch, now).tests[KEYS]}
    charge = tests["Charge at hand-back, in per cent:"]
    assert ("not tested", "", "", "") == (
        charge.outcome, charge.value, charge.by, charge.at,
    )  # fmt: skip
    assert {"passed"} < {one.outcome for one in tests.values()}


def test_it_says_of_a_time_what_was_known_then(job, batch, lead, helper, now) -> None:
    work(taken(job, lead, now), lead, now, helper)

    assert (
        KEYS
        not in beside_of(
            "evidence.pdf", batch, now - timedelta(seconds=1), past_time=True
        ).tests
    )
    assert KEYS in beside_of("evidence.pdf", batch, now).tests


def test_it_bears_a_photo_only_once_it_is_cleared(job, batch, lead, now) -> None:
    photo = photo_of(job, lead, now, "the keys")
    assert 0 == n_pictures(paper(lead, batch, "evidence.pdf"))
    photos.hide(photo, [Mask(0, 0, 25, 25)], by=lead, now=now)
    assert 0 == n_pictures(paper(lead, batch, "evidence.pdf"))
    photo.refresh_from_db()
    photos.clear(photo, looked_at=drawing_of(photo), by=lead, now=now)

    cleared = paper(lead, batch, "evidence.pdf")
    assert 1 == n_pictures(cleared)
    assert "the keys" in half_of(cleared, KEYS)


def test_the_receipt_names_the_photos_taken_before_any_work(
    job, batch, lead, now
) -> None:
    photo_of(job, lead, now, "the lid")
    taken(job, lead, now + timedelta(minutes=1))
    photo_of(job, lead, now + timedelta(minutes=2), "opened")

    told = half_of(paper(lead, batch, "receipt.pdf"), KEYS)
    assert "1 on arrival: the lid" in told
    assert "opened" not in told

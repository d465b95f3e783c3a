"""A text too long for its column is refused, in SQLite too, and nothing is kept."""

from dataclasses import replace
from datetime import date

import pytest

from turnscrew.core.model.batch import BatchLine, ListedDevice
from turnscrew.core.model.past_job import PastJob
from turnscrew.web.records.models import Accessory, Batch, Customer, Job, ListedRow
from turnscrew.web.records.services import booking, handing_back
from turnscrew.web.records.services.refusal import RefusedError
from web.conftest import SALLOWMERE

TERMS = (SALLOWMERE / "terms.yaml").read_text("utf-8")


def terms_with(key: str, value: str) -> str:
    lines = [
        f"  {key}: {value}" if line.startswith(f"  {key}:") else line
        for line in TERMS.splitlines()
    ]
    assert "\n".join(lines) != TERMS.strip()
    return "\n".join(lines) + "\n"


def booked(lead, now, text: str, name: str = "More") -> Batch:
    said = booking.Booking(name, date(2027, 3, 1), text)
    return booking.book(said, by=lead, now=now)


@pytest.mark.parametrize(
    ("key", "told", "most"),
    [("order", "order", 60), ("contact", "contact, name", 120)],
)
def test_it_refuses_terms_with_a_text_too_long(lead, now, key, told, most) -> None:
    wanted = f"^{told}: found {most + 1} characters, wanted at most {most}"

    with pytest.raises(RefusedError, match=wanted):
        booked(lead, now, terms_with(key, "o" * (most + 1)))

    assert (0, 0) == (Batch.objects.count(), Customer.objects.count())
    booked(lead, now, terms_with(key, "o" * most))


def test_it_refuses_a_name_of_a_batch_too_long(lead, now) -> None:
    with pytest.raises(RefusedError, match="^name: found 201 characters, wanted at"):
        booked(lead, now, TERMS, "n" * 201)


@pytest.mark.parametrize(
    ("field", "told", "most"),
    [
        ("asset", "asset", 120), ("serial", "serial", 120), ("model", "model", 120),
        ("revision", "rev", 120), ("site", "site", 200),
    ],
)  # fmt: skip
def test_it_refuses_a_list_with_a_cell_too_long(
    lead, now, sallowmere, field, told, most
) -> None:
    before = ListedRow.objects.filter(batch=sallowmere, until=None).count()
    right = ListedDevice(row=2, asset="A1", serial="S1")
    wrong = replace(right, row=3, **{field: "c" * (most + 1)})

    with pytest.raises(RefusedError) as refused:
        booking.keep_list(sallowmere, [right, wrong], by=lead, now=now)

    said = f"row 3, {told}: found {most + 1} characters, wanted at most {most}"
    assert (said,) == refused.value.reasons
    assert before == ListedRow.objects.filter(batch=sallowmere, until=None).count()
    longest = replace(right, **{field: "c" * most})
    booking.keep_list(sallowmere, [longest], by=lead, now=now)


@pytest.mark.parametrize(
    ("field", "told", "most"),
    [("serial", "serial", 60), ("asset", "asset", 60), ("site", "site", 120)],
)
def test_it_refuses_a_device_with_a_text_too_long(
    lead, now, sallowmere, field, told, most
) -> None:
    n, model = Job.objects.count(), sallowmere.jobs.all()[0].model
    line = BatchLine(line=900, serial="", model=model)

    with pytest.raises(RefusedError) as refused:
        wrong = replace(line, **{field: "s" * (most + 1)})
        booking.receive(sallowmere, [wrong], by=lead, now=now)

    said = f"line 900, {told}: found {most + 1} characters, wanted at most {most}"
    assert (said,) == refused.value.reasons
    assert n == Job.objects.count()
    longest = replace(line, **{field: "s" * most})
    assert 1 == len(booking.receive(sallowmere, [longest], by=lead, now=now))


def test_it_refuses_a_closed_job_with_a_serial_too_long(lead, now, sallowmere) -> None:
    past = PastJob(family="L240", end="mended", serial="s" * 61, day=date(2026, 5, 1))

    with pytest.raises(RefusedError, match="^closed job 1, serial: found 61 char"):
        booking.keep_history([past], sallowmere.customer, by=lead, now=now)


def test_it_refuses_an_explanation_too_long(lead, now, sallowmere) -> None:
    one = Accessory.objects.exclude(job=None)[0]
    assert one.job is not None
    Job.objects.filter(pk=one.job.pk).update(state="packed")

    def gives(words: str) -> None:
        handing_back.hand_back(
            sallowmere, [one.job.line], taken_by="Office", by=lead, now=now,
            explained={one.pk: handing_back.Stay(words)},
        )  # fmt: skip

    wanted = f"device {one.job.line}, explanation: found 201 characters, wanted at most"
    with pytest.raises(RefusedError, match=wanted):
        gives("w" * 201)
    gives("w" * 200)
    one.refresh_from_db()
    assert "w" * 200 == one.explanation

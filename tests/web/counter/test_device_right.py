"""Is a device that was received with a slip of the hand set right, and told so?"""

from datetime import timedelta

import pytest
from django.test import Client

from turnscrew.core.model.batch import BatchLine
from turnscrew.web.records.models import Asset, Entry, Item, Job
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.batch_input import batch_input
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import booking, kitting
from turnscrew.web.records.services.device_right import RightDevice, correct_device
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in


@pytest.fixture
def client(sallowmere, lead, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def job(sallowmere, lead, clock) -> Job:
    line = BatchLine(
        90, "S-W0RNG", "L240", asset="A-9000", revision="A", site="Ward 9", due_day=4
    )
    return booking.receive(sallowmere, [line], by=lead, now=clock.at)[0]


def test_a_slip_in_the_serial_is_set_right_on_the_page(
    client, sallowmere, job, clock
) -> None:
    before = clock.at
    clock.at += timedelta(hours=1)
    sent = {
        "act": "correct", "serial": "S-WRONG", "asset": "A-9001", "site": "Ward 8",
        "due_day": "6", "why": "a nought for an O",
    }  # fmt: skip

    answer = client.post(f"/items/{job.item.ref}/", sent)

    assert (302, f"/items/{job.item.ref}/") == (answer.status_code, answer.url)
    job.refresh_from_db()
    said = (job.serial, job.asset_number, job.site, job.due_day, job.item.serial)
    assert ("S-WRONG", "A-9001", "Ward 8", 6, "S-WRONG") == said
    assert ["A-9001"] == [one.number for one in job.item.assets.all()]
    page = client.get(answer.url).content.decode()
    assert "a nought for an O (serial was: S-W0RNG; asset was: A-9000" in page
    then = batch_input(sallowmere, before, past_time=True).lines
    assert "S-W0RNG" == next(one.serial for one in then if one.line == job.line)
    assert () == audited().breaks


def test_the_right_serial_may_be_that_of_a_body_known_already(
    sallowmere, job, lead, clock
) -> None:
    known = Item.objects.create(
        customer=sallowmere.customer, serial="S-KNOWN", model="L240"
    )
    wrong = job.item

    correct_device(
        job, RightDevice(serial="S-KNOWN"), by=lead, now=clock.at, words="misread"
    )

    job.refresh_from_db()
    assert known.pk == job.item_id
    assert ["A-9000"] == [one.number for one in known.assets.all()]
    assert not Asset.objects.filter(item=wrong).exists()


def test_a_body_with_a_past_keeps_it_when_another_one_came(
    sallowmere, job, lead, clock
) -> None:
    past = job.item
    Job.objects.filter(pk=sallowmere.jobs.first().pk).update(item=past)

    correct_device(
        job, RightDevice(serial="S-OTHER"), by=lead, now=clock.at, words="misread"
    )

    job.refresh_from_db()
    past.refresh_from_db()
    assert ("S-W0RNG", "S-OTHER") == (past.serial, job.item.serial)


def test_another_model_is_refused_once_its_parts_are_promised(
    sallowmere, job, lead, clock
) -> None:
    by = {"by": lead, "now": clock.at, "words": "a slip"}
    with pytest.raises(RefusedError, match="model: found V8O, wanted perhaps .V80."):
        correct_device(job, RightDevice(model="V8O"), **by)
    correct_device(job, RightDevice(model="V80"), **by)
    job.refresh_from_db()
    assert ("V80", "", "V80", "") == (
        job.model, job.revision, job.item.model, job.item.revision,
    )  # fmt: skip

    other = sallowmere.jobs.get(line=1)
    answer = reckoned(sallowmere, clock.at)
    kitting.allot(sallowmere, answer, by=lead, now=clock.at)
    assert other.allotments.exists()
    with pytest.raises(RefusedError) as caught:
        correct_device(other, RightDevice(model="V80"), **by)
    told = " | ".join(caught.value.reasons)
    assert "found L-KBD, wanted one for V80" in told
    assert "model: found pieces promised or used, wanted none yet" in told


def test_nothing_changed_no_reason_and_a_device_that_left_are_refused(
    sallowmere, job, lead, clock
) -> None:
    by = {"by": lead, "now": clock.at}
    with pytest.raises(RefusedError) as caught:
        correct_device(job, RightDevice(serial="S-W0RNG"), words=" ", **by)
    assert 2 == len(caught.value.reasons)
    long = RightDevice(serial="S" * 61)
    with pytest.raises(RefusedError, match="serial: found 61 characters"):
        correct_device(job, long, words="misread", **by)
    Job.objects.filter(pk=job.pk).update(state="handed back")
    with pytest.raises(RefusedError, match="found one handed back, wanted one still"):
        correct_device(job, RightDevice(site="Ward 1"), words="misread", **by)
    assert not Entry.objects.filter(verb="device corrected").exists()


def test_another_serial_is_no_comeback_of_the_one_misread(
    sallowmere, job, lead, clock
) -> None:
    earlier = sallowmere.jobs.first()
    Job.objects.filter(pk=job.pk).update(comeback_of=earlier, comeback_class="ours")
    by = {"by": lead, "now": clock.at, "words": "misread"}

    correct_device(job, RightDevice(site="Ward 8"), **by)
    job.refresh_from_db()
    assert earlier == job.comeback_of
    correct_device(job, RightDevice(serial="S_OTHER"), **by)

    job.refresh_from_db()
    assert (None, "") == (job.comeback_of, job.comeback_class)
    correct_device(job, RightDevice(serial="S-LAST"), **by)
    said = Entry.objects.filter(verb="device corrected").order_by("-sequence")[0]
    assert "misread (serial was: S_OTHER)" == said.words.text

"""Are two adapters that came with one device both accounted for?"""

import json

import pytest

from turnscrew.files.batch_file import read_batch
from turnscrew.web.records.models import Accessory, Batch, Entry, Job
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import booking
from web.counter_case import signed_in

TABLE = b"line,serial,model,acc\n900,K7,%s,adapter+adapter+sleeve\n"


@pytest.fixture
def adapters(sallowmere, lead, now) -> Accessory:
    """Give the two adapters of a device that may go back."""
    model = sallowmere.jobs.all()[0].model.encode()
    lines = read_batch(TABLE % model, "batch.csv")
    (job,) = booking.receive(sallowmere, lines, by=lead, now=now)
    Job.objects.filter(pk=job.pk).update(state="packed")
    return Accessory.objects.get(job=job, kind="adapter")


def gives(lead, batch: Batch, explained: str, *, is_done: bool = True) -> str:
    job = Job.objects.get(serial="K7")
    answer = signed_in(lead).post(
        f"/batches/{batch.ref}/hand-back/",
        {
            "act": "give", "lines": str(job.line), "taken_by": "Office",
            "explained": explained,
        },
    )  # fmt: skip
    assert (302 if is_done else 422) == answer.status_code
    return answer.content.decode()


def told() -> list[tuple[str, int]]:
    """Give what the journal says of adapters of the device."""
    job = Job.objects.get(serial="K7")
    entries = Entry.objects.filter(subject=job.ref, verb__startswith="accessory")
    facts = [(one.verb, json.loads(one.facts)) for one in entries.order_by("pk")]
    return [(verb, fact["n"]) for verb, fact in facts if fact["kind"] == "adapter"]


def test_both_are_received_and_both_go_back(adapters, sallowmere, lead) -> None:
    assert (2, 2) == (adapters.n_in, adapters.n_here)
    gives(lead, sallowmere, "")

    adapters.refresh_from_db()
    assert (2, 2, 0) == (adapters.n_in, adapters.n_out, adapters.n_here)
    assert [("accessory in", 2), ("accessory out", 2)] == told()
    assert not [one for one in audited().breaks if "accessory" in one.where]


def test_one_goes_back_and_the_other_is_explained(adapters, sallowmere, lead) -> None:
    gives(lead, sallowmere, f"{adapters.job.line} 1 Adapter = cable cut")

    adapters.refresh_from_db()
    assert (2, 1, 1, 0) == (
        adapters.n_in, adapters.n_out, adapters.n_explained, adapters.n_here
    )  # fmt: skip
    assert "cable cut" == adapters.explanation
    assert [("accessory explained", 1), ("accessory out", 1)] == told()[1:]
    assert not [one for one in audited().breaks if "accessory" in one.where]


def test_without_a_number_all_of_a_kind_stay(adapters, sallowmere, lead) -> None:
    gives(lead, sallowmere, f"{adapters.job.line} adapter = lost")

    adapters.refresh_from_db()
    assert (0, 2) == (adapters.n_out, adapters.n_explained)


@pytest.mark.parametrize("n", [0, 3])
def test_no_more_stay_than_came(adapters, sallowmere, lead, n) -> None:
    page = gives(
        lead, sallowmere, f"{adapters.job.line} {n} adapter = lost", is_done=False
    )

    assert f"accessory: found {n} adapter, wanted 1 to 2" in page
    adapters.refresh_from_db()
    assert 2 == adapters.n_here

"""The example batch through the pages, from the customer's files to the last coin."""

import re
from typing import Any

import pypdfium2
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from turnscrew.core.model.job_state import STATES
from turnscrew.web.records.models import (
    Accessory,
    Batch,
    DataPart,
    DonorPart,
    Invoice,
    Job,
    OrderLine,
    Part,
)
from turnscrew.web.records.queries.audit import audited
from web.conftest import Clock, sallowmere_contents
from web.counter_case import signed_in
from web.known_faults import NOT_SHOWN, TRIAL, TRIED, WRONG, codes_of


class Counter:
    """Somebody at the counter, who enters things and reads what comes back."""

    def __init__(self, person: Any) -> None:
        self.person = person
        self.client = signed_in(person)

    def comes_in_again(self) -> None:
        """Sign in after the session of another day has ended."""
        self.client = signed_in(self.person)

    def enters(self, address: str, act: str, **entered: Any) -> str:
        """Enter something that is taken; give the page that follows."""
        answer = self.client.post(address, {"act": act, **entered}, follow=True)
        page = answer.content.decode()
        wrong = re.findall(r'<(?:li|strong class="wrong"[^>]*)>([^<]*)', page)
        assert 200 == answer.status_code, wrong
        return page

    def is_refused(self, address: str, act: str, **entered: Any) -> str:
        """Enter something that is not taken; give the page with the reasons."""
        answer = self.client.post(address, {"act": act, **entered})
        assert 422 == answer.status_code
        return answer.content.decode()

    def reads(self, address: str) -> str:
        answer = self.client.get(address)
        assert 200 == answer.status_code
        return answer.content.decode()


@pytest.fixture
def counter(lead, clock) -> Counter:
    return Counter(lead)


@pytest.fixture
def batch(counter, helper) -> Batch:
    """Give the example batch, received from its files on the page."""
    files = [
        SimpleUploadedFile(name, content)
        for name, content in sallowmere_contents().items()
    ]
    counter.enters("/batches/", "load", chosen=files)
    return Batch.objects.exclude(terms_text="").get()


def at(batch: Batch, page: str = "") -> str:
    return f"/batches/{batch.ref}/{page}"


def move(counter: Counter, batch: Batch, lines: str, *states: str) -> None:
    for state in states:
        holder = batch.jobs.order_by("line")[0].holder
        if holder == "customer":
            holder = batch.jobs.exclude(holder="customer")[0].holder
        counter.enters(
            at(batch), "move", lines=lines, state=state, place="bench 1", holder=holder
        )


def lines_of(batch: Batch, *states: str) -> str:
    jobs = batch.jobs.filter(state__in=states).values_list("line", flat=True)
    return ", ".join(map(str, jobs))


def test_it_brings_the_whole_batch_home(counter, batch, clock) -> None:
    page = counter.reads(at(batch, "receive/"))
    # Planted irregularities of the invented demo batch.
    assert "60 here, 60 on the list" in page
    assert "SHN-0688" in page
    assert "duplicate serial: the same as 49" in page
    assert "no owner&#x27;s number" in page or "no owner's number" in page

    counter.enters(at(batch, "approvals/"), "ask")
    assert 8 == batch.jobs.filter(state="awaiting answer").count()
    counter.enters(
        at(batch, "approvals/"), "take", name="the equipment desk", yes="40, 59"
    )
    assert {4, 11, 12, 26, 44, 60} == set(
        batch.jobs.filter(state="awaiting answer").values_list("line", flat=True)
    )
    counter.enters(
        at(batch, "approvals/"),
        "take",
        name="the equipment desk",
        yes="4, 11, 12, 26, 44, 60",
    )

    counter.enters(at(batch, "donors/"), "declare", lines="2 6 14 17 21 34 35 45")
    assert 8 == batch.jobs.filter(state="donor").count()
    for part in DonorPart.objects.filter(state="untested"):
        counter.enters(
            at(batch, "donors/"), "test", part=part.pk, is_good="yes", how="known good"
        )
    page = counter.reads(at(batch, "order/"))
    assert "322.00" in page
    assert "433.00" in page
    needs = re.findall(r'name="numbers" value="([^"]+)"', page)
    counter.enters(at(batch, "order/"), "place", numbers=needs)
    assert 32200 == sum(line.cost_minor for line in OrderLine.objects.all())

    counter.enters(at(batch), "kit")
    clock.move_on(days=8)
    counter.comes_in_again()
    open_parcels(counter)
    mend(counter, batch)
    hand_back(counter, batch, clock)
    settle(counter, batch)
    close(counter, batch, clock)


def open_parcels(counter: Counter) -> None:
    for line in OrderLine.objects.all():
        counter.enters(
            "/stock/goods-in/",
            "book",
            order=line.ref,
            n=line.n,
            marks_seen="as the known one",
            outcome="accepted",
        )


def mend(counter: Counter, batch: Batch) -> None:
    quoted = lines_of(batch, "quoted")
    assert 52 == len(quoted.split(","))
    counter.enters(at(batch), "kit")
    move(counter, batch, quoted, "kitted")
    counter.enters(at(batch), "fitted", lines=quoted)
    move(counter, batch, quoted, "open", "tested open", "closed", "final-tested")
    move(counter, batch, quoted, "charged and clean")
    say_what_was_wrong(counter, batch)
    move(counter, batch, quoted, "packed")


def say_what_was_wrong(counter: Counter, batch: Batch) -> None:
    """Write part, mode and cause on the page of the batch, and each trial."""
    lines = lines_of(batch, "charged and clean")
    told = counter.is_refused(
        at(batch), "move", lines=lines, state="packed", place="bench 1",
        holder=counter.person.ref,
    )  # fmt: skip
    assert 52 <= told.count("confirmed: found nothing, wanted part, mode and cause")
    ready = batch.jobs.filter(state="charged and clean")
    for code, jobs in codes_of(ready).items():
        if code == TRIED:
            for job in jobs:
                run_a_trial(counter, job)
            continue
        counter.enters(
            at(batch), "confirm", lines=", ".join(str(job.line) for job in jobs),
            code=code, **WRONG,
        )  # fmt: skip


def run_a_trial(counter: Counter, job: Job) -> None:
    page = f"/items/{job.item.ref}/checks/"
    counter.enters(
        page, "plan_trial", hours="4", load=TRIAL.load, position=TRIAL.position,
        temperature_c=TRIAL.temperature_c, ago="4",
    )  # fmt: skip
    counter.enters(
        page, "end_trial", hours="4.0", tried=NOT_SHOWN.tried, result="not shown",
        told=NOT_SHOWN.words,
    )  # fmt: skip


def paper_text(counter: Counter, address: str) -> str:
    document = pypdfium2.PdfDocument(counter.client.get(address).content)
    return "".join(page.get_textpage().get_text_range() for page in document)


def hand_back(counter: Counter, batch: Batch, clock: Clock) -> None:
    first = batch.jobs.filter(state="packed", due_day=4)
    lines = ", ".join(map(str, first.values_list("line", flat=True)))
    counter.enters(at(batch, "hand-back/"), "give", lines=lines, taken_by="Night team")
    clock.move_on(minutes=30)
    one = Accessory.objects.filter(job__state="packed")[0]
    assert one.job is not None
    counter.enters(
        at(batch, "hand-back/"), "give", lines=lines_of(batch, "packed"),
        taken_by="Office", strays="on",
        explained=f"{one.job.line} {one.kind} = kept, cable cut",
    )  # fmt: skip
    assert 52 == batch.jobs.filter(state="handed back").count()
    tranche = batch.tranches.order_by("id")[0]
    note = paper_text(counter, at(batch, f"hand-back/{tranche.ref}/"))
    assert "Night team" in note
    assert str(tranche.jobs.count()) in note
    assert 52 - tranche.jobs.count() + 8 == note.count(", packed") + note.count(
        ", donor"
    )
    assert [52, 60] == [
        sum(tranche.jobs.count() for tranche in batch.tranches.all()),
        batch.jobs.count(),
    ]


def settle(counter: Counter, batch: Batch) -> None:
    page = counter.is_refused(at(batch), "close")
    assert "8 devices still here" in page
    assert "9 parts with data without an end on record" in page

    assert "no piece is written as fitted" not in counter.reads(at(batch, "invoice/"))
    counter.enters(at(batch, "invoice/"), "bill")
    invoice = Invoice.objects.get()
    # The golden figure of the invented demo batch.
    assert (371218, 0) == (invoice.net_minor, invoice.tax_minor)
    sheet = paper_text(counter, f"/money/{invoice.ref}/paper/")
    assert f"Invoice {invoice.number}" in sheet
    assert "3,712.18" in sheet
    assert "Draft" not in sheet
    counter.enters(
        f"/money/{invoice.ref}/", "pay", minor="3712.18", on="2027-02-09", how="bank"
    )
    invoice.refresh_from_db()
    assert 0 == invoice.owed_minor

    for part in DataPart.objects.all():
        counter.enters(
            at(batch, "donors/"), "end", part=part.ref, end="destroyed", how="seen"
        )
    donors = batch.jobs.filter(state="donor")
    swollen = donors.get(line=14)
    told = {"receiver": "Wolder Yard", "receipt": "W-14", "line": 14}
    refused = counter.is_refused(at(batch, "donors/"), "dispose", **told)
    assert "device 14: pack swollen or not known" in refused
    counter.enters(
        "/safety/", "pack", pack="P-14", event="taken out", place="fire box 1",
        job=swollen.number,
    )  # fmt: skip
    for job in donors:
        counter.enters(
            at(batch, "donors/"),
            "dispose",
            line=job.line,
            receiver="Wolder Yard",
            receipt=f"W-{job.line}",
        )


def close(counter: Counter, batch: Batch, clock: Clock) -> None:
    counter.enters(at(batch), "close")
    closed_on = clock.at.date()
    clock.move_on(days=9)
    counter.comes_in_again()
    refused = counter.is_refused(at(batch), "close")
    assert "wanted an open one" in refused
    assert closed_on == Batch.objects.get(pk=batch.pk).closed_on
    assert () == audited().breaks
    assert all(part.on_hand >= 0 for part in Part.objects.all())
    assert 60 == Job.objects.filter(batch=batch, state__in=STATES).count()

"""Rows to values of the core and back: the only place that knows both."""

import json
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any, cast

from turnscrew.core.ledger.entry import Entry as LedgerEntry
from turnscrew.core.ledger.entry import JournalName
from turnscrew.core.model.batch import BatchLine, ComebackClass, DataClass, ListedDevice
from turnscrew.core.model.job_state import Standing
from turnscrew.core.model.past_job import End, PastJob
from turnscrew.core.model.person import Person as BenchPerson
from turnscrew.core.model.quote import (
    Agreed,
    Charge,
    ChargeKind,
    Code,
    DecidedDevice,
    Decision,
)
from turnscrew.core.model.spare_part import PriceBreak, SparePart
from turnscrew.core.model.terms import Customer as TermsCustomer
from turnscrew.core.price.account import InvoiceItem
from turnscrew.web.records.models import (
    Batch,
    Customer,
    Entry,
    InvoiceLine,
    Job,
    ListedRow,
    Part,
    Person,
    Quote,
)
from turnscrew.web.records.times import time_text


def standing_of(job: Job) -> Standing:
    """Give where a device is, who holds it and what it waits for."""
    return Standing(
        state=job.state,
        place=job.place,
        holder=job.holder,
        until=job.waits_until,
        main=job.main_state,
        reason=job.reason,
        is_donor=job.state == "isolated" and hasattr(job, "donor"),
    )


def ledger_entry(row: Entry) -> LedgerEntry:
    """Give an entry of a journal as the core reads it."""
    facts: Any = json.loads(row.facts)
    return LedgerEntry(
        journal=cast("JournalName", row.journal),
        sequence=row.sequence,
        at=time_text(row.at),
        author=row.author,
        verb=row.verb,
        subject=row.subject,
        facts=facts,
        words_digest=row.words_digest,
        corrects=row.corrects,
        previous=row.previous,
    )


def batch_line(
    job: Job, found: Iterable[str], told: tuple[str, ...] = (), came: date | None = None
) -> BatchLine:
    """Give a device of a batch as it was received and found."""
    return BatchLine(
        line=job.line,
        serial=job.serial,
        model=job.model,
        asset=job.asset_number,
        revision=job.revision,
        site=job.site,
        due_day=job.due_day,
        reported=job.reported,
        found=tuple(found),
        accessories=tuple(filter(None, job.accessories_told.split("+"))),
        data=cast("DataClass", job.data_class),
        remarks=job.remarks,
        comeback_class=cast("ComebackClass", job.comeback_class)
        if job.is_comeback_settled
        else None,
        gap_mm=None if job.gap_mm is None else float(job.gap_mm),
        told=told,
        came=came,
    )


def listed_device(row: ListedRow) -> ListedDevice:
    """Give a row of the customer's list."""
    return ListedDevice(
        row=row.row,
        asset=row.asset,
        serial=row.serial,
        model=row.model,
        revision=row.revision,
        site=row.site,
    )


def spare_part(part: Part, row: int, n_free: int, lead_days: int | None) -> SparePart:
    """Give a part with the pieces that are free for a batch."""
    return SparePart(
        part=part.number,
        description=part.description,
        model=part.model,
        revisions=tuple(filter(None, part.revisions.split("+"))),
        cost_minor=part.cost_minor,
        lead_days=lead_days,
        stock=n_free,
        pack=part.pack,
        breaks=tuple(PriceBreak(n, minor) for n, minor in part.breaks),
        supplier=part.supplier,
        place=part.place,
        row=row,
        is_free=part.is_free,
        unit=part.unit,
        reorder_point=part.reorder_point,
        is_sold_no_more=part.is_sold_no_more,
    )


def part_fields(spare: SparePart) -> dict[str, Any]:
    """Give the fields of a part read from a parts list."""
    return {
        "description": spare.description,
        "model": spare.model,
        "revisions": "+".join(spare.revisions),
        "cost_minor": spare.cost_minor,
        "is_free": spare.is_free,
        "lead_days": spare.lead_days,
        "pack": spare.pack,
        "breaks": [[one.n, one.cost_minor] for one in spare.breaks],
        "supplier": spare.supplier,
        "place": spare.place,
        "unit": spare.unit,
        "reorder_point": spare.reorder_point,
        "is_sold_no_more": spare.is_sold_no_more,
    }


def bench_person(person: Person, skills: Iterable[str], away: Iterable[Any]) -> Any:
    """Give somebody at a bench, with the sign-offs they hold."""
    return BenchPerson(
        name=person.name,
        minutes_a_day=person.minutes_a_day,
        pay_minor=person.pay_minor,
        pace=person.pace,
        skills=tuple(skills),
        away=tuple(away),
    )


def terms_customer(customer: Customer, batch: Batch) -> TermsCustomer:
    """Give the customer of a batch as its papers name it."""
    return TermsCustomer(
        name=customer.name,
        contact=batch.contact,
        order=batch.order_number,
        address=tuple(customer.address.splitlines()),
        contract=customer.contract,
        tax_number=customer.tax_number,
    )


_PROVEN = ("handed back", "promise over")
"""States that only a device gets to whose final test was passed."""


def past_job(
    job: Job,
    confirmed: Sequence[str],
    parts: Iterable[str],
    left: tuple[str, ...] = (),
) -> PastJob:
    """Give a closed job as history knows it: the fault confirmed last leads."""
    told = tuple(filter(None, job.parts_told.split("; ")))
    results: list[tuple[str, str]] = []
    for result in filter(None, job.results_told.split("; ")):
        name, _, outcome = result.partition("=")
        results.append((name, outcome))
    if not results and job.state in _PROVEN:
        results.append(("function check-out", "passed"))
    return PastJob(
        family=job.model,
        end=cast("End", job.ended_as or "mended"),
        confirmed=confirmed[-1] if confirmed else "",
        besides=tuple(confirmed[:-1]),
        signs=(job.reported,) if job.reported else (),
        findings=tuple(results),
        revision=job.revision,
        site=job.site,
        day=job.closed_on,
        asset=job.asset_number,
        serial=job.serial,
        parts=(*told, *parts),
        left=left,
    )


def agreed(quote: Quote) -> Agreed:
    """Give a quote as it was agreed."""
    decision = Decision(
        cast("Code", quote.code), quote.reason, quote.quote_minor, quote.limit_minor
    )
    return Agreed(decision, tuple(Charge(**row) for row in quote.charges))


def charges_json(charges: Iterable[Charge]) -> list[dict[str, Any]]:
    """Write charges as they are kept with a quote."""
    return [
        {
            "kind": one.kind,
            "says": one.says,
            "net_minor": one.net_minor,
            "tax_minor": one.tax_minor,
            "n": one.n,
            "part": one.part,
        }
        for one in charges
    ]


def item_of(device: DecidedDevice, lines: Iterable[InvoiceLine]) -> InvoiceItem:
    """Give what was billed for a device, words at no charge among it, credits apart."""
    charges = [
        Charge(
            kind=cast("ChargeKind", line.kind), says=line.says,
            net_minor=line.net_minor, tax_minor=line.tax_minor, n=line.n,
        )
        for line in lines
    ]  # fmt: skip
    return InvoiceItem(
        device,
        tuple(one for one in charges if one.net_minor >= 0),
        tuple(one for one in charges if one.net_minor < 0),
    )

"""Of which quote does an answer speak, and what went without one?"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import datetime

from django.db.models import Q
from django.utils.timezone import localtime

from turnscrew.core.price.comeback import AT_NO_CHARGE
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import Approval, Batch, Entry, Job, Quote
from turnscrew.web.records.queries.as_of import written_by
from turnscrew.web.records.queries.in_parts import among

REPAIR = frozenset({"go", "ask"})
"""Codes of the quotes that price a repair."""


def holds_for(approval: Approval, code: str, quote_minor: int | None) -> bool:
    """
    Say whether an answer still speaks of what is quoted now.

    It speaks of the quote that it was given to: a yes of what costs as much or less, a
    no of what costs as much or more, or of what no price is known of yet. A no to what
    a comeback has besides stands.
    """
    if code in {"", "comeback"}:
        return True
    if approval.answer == Approval.NO:
        return quote_minor is None or quote_minor >= approval.quote_minor
    if code != "ask":
        return True
    return quote_minor is not None and quote_minor <= approval.quote_minor


def is_husk(quote: Quote) -> bool:
    """
    Say whether a quote prices a repair and says nothing of what it charges.

    Of what went back as it came none charges anything, and is whole so.
    """
    is_priced = quote.code in REPAIR and bool(quote.quote_minor)
    is_as_it_came = quote.job.state == "returned unrepaired"
    return is_priced and not quote.charges and not is_as_it_came


def is_refused(answer: Approval | None, quote: Quote | None) -> bool:
    """Say whether an answer is a no to what is quoted now."""
    if answer is None or answer.answer != Approval.NO:
        return False
    return quote is None or holds_for(answer, quote.code, quote.quote_minor)


def was_refused(job: Job) -> bool:
    """Say whether the customer said no to what is quoted now for a device."""
    return is_refused(job.approvals.last(), job.quotes.last())


def let_go_before(
    jobs: Iterable[Job], now: datetime, then: datetime | None = None
) -> frozenset[int]:
    """Name the lines whose quote lets them go without asking since an earlier day."""
    line = {job.pk: job.line for job in jobs}
    last: dict[int, Quote] = {}
    quotes = Quote.objects.filter(written_by(then)).order_by("id")
    for quote in among(quotes, "job", line):
        last[quote.job_id] = quote
    today = localtime(now).date()
    return frozenset(
        line[pk]
        for pk, quote in last.items()
        if quote.code == "go" and localtime(quote.at).date() < today
    )


def asked_last(batch: Batch, then: datetime | None = None) -> list[Approval]:
    """Give what was asked last of each device; what was answered later waited then."""
    asked = Approval.objects.filter(written_by(then, "asked_at"), job__batch=batch)
    if then is not None:
        asked = asked.filter(Q(corrects=None) | Q(answered_at__lte=then))
    last = {one.job_id: one for one in asked.select_related("job").order_by("id")}
    for one in last.values():
        if then and one.answered_at and one.answered_at > then:
            one.answer = Approval.PENDING
    return list(last.values())


def answers_in_hand(
    asked: Iterable[Approval], then: datetime | None = None
) -> dict[int, bool]:
    """
    Give the answers in hand by line.

    Each holds for the quote that it was given to; what is quoted since is asked anew.
    """
    told = [one for one in asked if one.answer]
    quotes = Quote.objects.filter(written_by(then)).order_by("id")
    prices = quotes.values_list("job_id", "code", "quote_minor")
    jobs = [one.job_id for one in told]
    quoted = {job: price for job, *price in among(prices, "job", jobs)}
    return {
        one.job.line: one.answer == Approval.YES
        for one in told
        if holds_for(one, *quoted.get(one.job_id, ("", None)))
    }


def said_yes(asked: Iterable[Approval], then: datetime | None = None) -> dict[int, int]:
    """Give by line the price of the last yes to devices, whatever was asked since."""
    line = {one.job_id: one.job.line for one in asked}
    told = Approval.objects.exclude(answered_at=None).order_by("id")
    told = told.filter(written_by(then, "answered_at"))
    last = {one.job_id: one for one in among(told, "job", line)}
    return {
        line[pk]: one.quote_minor
        for pk, one in last.items()
        if one.answer == Approval.YES
    }


def settled_free_since(
    quotes: Iterable[Quote], then: datetime | None = None
) -> frozenset[int]:
    """
    Name the jobs whose comeback became one at no charge after they were quoted so.

    A yes to the price that was told before, or work begun by it, keeps no such quote.
    One that was free when it was quoted was quoted for what it had besides.
    """
    settled = {
        quote.job.ref: quote
        for quote in quotes
        if quote.job.is_comeback_settled and quote.job.comeback_class in AT_NO_CHARGE
    }
    told: dict[str, list[Entry]] = defaultdict(list)
    rows = Entry.objects.filter(written_by(then), journal="money", verb="comeback")
    for row in among(rows.order_by("sequence"), "subject", settled):
        told[row.subject].append(row)
    return frozenset(
        quote.job_id
        for ref, quote in settled.items()
        if not _was_free([one for one in told[ref] if one.at <= quote.at])
        and any(one.at > quote.at for one in told[ref])
    )


def _was_free(told: Sequence[Entry]) -> bool:
    """Say whether a comeback was one at no charge by what was told of it last."""
    return bool(told) and ledger_entry(told[-1]).text("class") in AT_NO_CHARGE

"""What were the devices of an invoice charged, by their own records?"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Q, QuerySet

from turnscrew.core.model.job_state import ENDED
from turnscrew.web.records.models import (
    Allotment,
    Approval,
    Batch,
    Invoice,
    InvoiceLine,
    Job,
    Quote,
)
from turnscrew.web.records.queries.answers import REPAIR, holds_for, is_husk, is_refused
from turnscrew.web.records.queries.bench_runs import closed_up_by, goals_by_job
from turnscrew.web.records.queries.in_parts import among
from turnscrew.web.records.queries.terms_text import currency_of


def charged_minor(invoice: Invoice) -> int:
    """
    Add up what the records of its devices say, tax among it.

    Each device pays once, what its quote says that stood at its first invoice. Parts
    from a donor are credited at the price of their own charge where they were used,
    each on the one invoice that names it; credits by an older rule stand as billed. A
    donor that stands there with its credits alone is charged for nothing.
    """
    charged = InvoiceLine.objects.filter(credits=None, is_by_older_rule=False)
    here, earlier = charged.filter(invoice=invoice), charged.filter(invoice__lt=invoice)
    first = Job.objects.filter(pk__in=here.values("job"))
    first = first.exclude(pk__in=earlier.values("job"))
    total = 0
    for quote in agreed_quotes(first):
        total += sum(row["net_minor"] + row["tax_minor"] for row in quote.charges)
    older = invoice.lines.filter(is_by_older_rule=True)
    total += sum(net + tax for net, tax in older.values_list("net_minor", "tax_minor"))
    own = Q(credit__invoice=invoice, credit__is_by_older_rule=False)
    named = dict(Allotment.objects.filter(own).values_list("pk", "job"))
    credits = credits_of(named.values())
    for pk in named:
        row = credits.get(pk, {"net_minor": 0, "tax_minor": 0})
        total += row["net_minor"] + row["tax_minor"]
    return total


def agreed_quotes(jobs: Iterable[Job], then: datetime | None = None) -> list[Quote]:
    """
    Give of each job the last quote that was agreed; none where none ever was.

    Of one that was closed up as it was, that which speaks of what was fitted; none if
    nothing was done.

    With ``then`` those by quotes and answers of that time.
    """
    listed = list(jobs)
    agreed: dict[int, list[Quote]] = defaultdict(list)
    answers = defaultdict(list)
    corrected = set()
    for one in _asked_by(listed, then):
        answers[one.job_id].append(one)
        corrected.add(one.corrects_id)
    goals = goals_by_job(listed)
    begun = {
        *goals,
        *among(
            Allotment.objects.filter(state=Allotment.USED)
            .values_list("job", flat=True), "job", listed,
        ),
    }  # fmt: skip
    quotes = Quote.objects.select_related("job").order_by("job__line", "id")
    quotes = quotes.filter(at__lte=then) if then else quotes
    for quote in among(quotes, "job", listed):
        told = [one for one in answers[quote.job_id] if one.pk not in corrected]
        if quote.job_id not in begun and told and _is_left(quote, told[-1]):
            continue
        # Quotes kept after a no once said nothing of what they charge.
        if is_husk(quote) and agreed.get(quote.job_id):
            continue
        if quote.code != "ask" or _is_agreed(quote, told):
            agreed[quote.job_id].append(quote)
    closed = closed_up_by(goals)
    fitted = _fitted_in(closed)
    return [
        min(reversed(told), key=lambda quote: _beside_fitted(quote, fitted))
        if pk in closed
        else told[-1]
        for pk, told in agreed.items()
        if closed.get(pk, True)
    ]


def _is_left(quote: Quote, last: Approval) -> bool:
    """
    Say whether a repair was left by the last answer, had nothing been done before.

    Then nothing is owed of any price told until then; what was quoted since is another.
    """
    if last.answer != Approval.NO or quote.code not in REPAIR:
        return False
    is_before = quote.at <= (last.answered_at or last.asked_at)
    return is_before or is_refused(last, quote)


def _asked_by(jobs: Iterable[Job], then: datetime | None) -> Iterator[Approval]:
    """Give the questions as they stand, or stood; what was answered later waited."""
    for one in among(Approval.objects.order_by("id"), "job", jobs):
        is_later = then and one.answered_at is not None and one.answered_at > then
        if then and (one.asked_at > then or (is_later and one.corrects_id)):
            continue
        if is_later:
            one.answer = Approval.PENDING
        yield one


def refused_jobs(jobs: Iterable[Job]) -> set[int]:
    """Give the jobs of which the customer said no last: without a price they pay 0."""
    answers = Approval.objects.order_by("id").values_list("job", "answer")
    last = dict(among(answers, "job", jobs))
    return {pk for pk, answer in last.items() if answer == Approval.NO}


def unanswered_jobs(jobs: Iterable[Job]) -> set[int]:
    """Give those that left before the customer answered: nobody can answer now."""
    gone = [job for job in jobs if job.state in ENDED]
    answers = Approval.objects.order_by("id").values_list("job", "answer")
    last = dict(among(answers, "job", gone))
    return {pk for pk, answer in last.items() if answer == Approval.PENDING}


def _is_agreed(quote: Quote, answers: Iterable[Approval]) -> bool:
    """Say whether the last answer that speaks of a quote was yes."""
    told = [
        one
        for one in answers
        if one.answer and holds_for(one, quote.code, quote.quote_minor)
    ]
    return bool(told) and told[-1].answer == Approval.YES


@dataclass(frozen=True)
class Unfitted:
    """Pieces that a device is to pay for, and that nobody wrote as fitted."""

    line: int
    part: str
    n: int


def charged_unfitted(jobs: Iterable[Job]) -> list[Unfitted]:
    """Give what some devices would be charged for without a piece on record."""
    listed = list(jobs)
    fitted = _fitted_in(listed)
    return [
        Unfitted(quote.job.line, part, n)
        for quote in agreed_quotes(listed)
        for part, n in _unfitted(quote, fitted).items()
    ]


def _fitted_in(jobs: Iterable[Job | int]) -> dict[int, Counter[str]]:
    """Count by job and part what was fitted."""
    used = Allotment.objects.filter(state=Allotment.USED)
    fitted: dict[int, Counter[str]] = defaultdict(Counter)
    for pk, part in among(used.values_list("job", "part__number"), "job", jobs):
        fitted[pk][part] += 1
    return fitted


def _beside_fitted(quote: Quote, fitted: dict[int, Counter[str]]) -> tuple[int, int]:
    """
    Count how far a quote is off what was fitted, and give its price.

    Of two as near the lower is owed: nothing shows that more was done.
    """
    charged, own = _charged(quote), fitted[quote.job_id]
    off = (charged - own).total() + (own - charged).total()
    return off, quote.quote_minor or 0


def _unfitted(quote: Quote, fitted: dict[int, Counter[str]]) -> Counter[str]:
    """Count by part what a quote charges beyond what was fitted, by job and part."""
    return _charged(quote) - fitted[quote.job_id]


def _charged(quote: Quote) -> Counter[str]:
    """Count by part what a quote charges."""
    charged: Counter[str] = Counter()
    for row in quote.charges:
        if row["part"]:
            charged[row["part"]] += max(row["n"], 1)
    return charged


def donor_uses(donors: Iterable[Job]) -> QuerySet[Allotment]:
    """Give the pieces of donors among some jobs that went into other devices."""
    return Allotment.objects.filter(
        state=Allotment.USED, donor_part__donor__job__in=donors
    ).select_related("part", "job__batch", "donor_part__donor__job__batch")


def credits_of(jobs: Iterable[int]) -> dict[int, dict[str, Any]]:
    """
    Give by piece of a donor what the job it went into pays for it, below 0.

    A job pays for as many pieces as its agreed quote names: no more of them are
    credited, those fitted first. Where nothing is paid, as for a comeback or after a
    no, nothing is credited, nor what is paid in another currency than the donor's.
    """
    return {
        use.pk: _credit(use, row)
        for use, row in _paid_for(jobs)
        if hasattr(use, "credit") or not _is_in_other_money(use)
    }


def _paid_for(jobs: Iterable[int]) -> Iterator[tuple[Allotment, dict[str, Any]]]:
    """Give the pieces of donors that some jobs pay for, each with its charge."""
    users = list(among(Job.objects.all(), "pk", jobs))
    paid: dict[tuple[int, str], list[dict[str, Any]]] = defaultdict(list)
    for quote in agreed_quotes(users):
        for row in quote.charges:
            if row["part"]:
                paid[quote.job_id, row["part"]] += [row] * max(row["n"], 1)
    used = Allotment.objects.filter(state=Allotment.USED).exclude(donor_part=None)
    uses = used.select_related(
        "part", "job__batch", "credit", "donor_part__donor__job__batch"
    )
    for use in sorted(among(uses, "job", users), key=_in_turn):
        if left := paid[use.job_id, use.part.number]:
            yield use, left.pop()


def _in_turn(use: Allotment) -> tuple[bool, bool, str, int]:
    """
    Order pieces: those credited already keep their credit, then as they came.

    Those that are not credited, as another currency was paid, come last.
    """
    is_new = not hasattr(use, "credit")
    return is_new, is_new and _is_in_other_money(use), str(use.used_at), use.pk


def _credit(use: Allotment, row: dict[str, Any]) -> dict[str, Any]:
    n = max(row["n"], 1)
    says = f"credit: {use.part.description}, used for device {use.job.line}"
    if use.job.batch_id != _donor_of(use).batch_id:
        says += f" of {use.job.batch.name}"
    return {
        "kind": "parts",
        "says": says[:300],
        "n": 1,
        "net_minor": -(row["net_minor"] // n),
        "tax_minor": -(row["tax_minor"] // n),
    }


def _donor_of(use: Allotment) -> Job:
    assert use.donor_part is not None
    return use.donor_part.donor.job


def _is_in_other_money(use: Allotment) -> bool:
    """Say whether a piece went into a batch that pays in another currency."""
    return currency_of(use.job.batch) != currency_of(_donor_of(use).batch)


@dataclass(frozen=True)
class Credit:
    """What the owner of a donor is to be credited for one of its pieces."""

    donor: Job
    use: Allotment
    row: dict[str, Any]


def due_credits(donors: Iterable[Job], billing: Iterable[Job] = ()) -> list[Credit]:
    """
    Give the credits for pieces of some donors that are on no invoice yet.

    A credit arises with the charge: once the device that the piece went into is on an
    invoice, or among those that come on one now. One that is never billed, whatever
    became of it, paid for no piece. The donor itself is billed first, or with it, or
    went back to its owner and never is.
    """
    uses = {
        use.pk: (use.donor_part.donor.job, use)
        for use in donor_uses(donors).filter(credit=None)
        if use.donor_part is not None
    }
    both = {pk for donor, use in uses.values() for pk in (donor.pk, use.job_id)}
    lines = InvoiceLine.objects.values_list("job_id", flat=True)
    billed = {job.pk for job in billing} | set(among(lines, "job", both))
    rows = credits_of({use.job_id for _, use in uses.values()} & billed)
    return [
        Credit(donor, use, rows[pk])
        for pk, (donor, use) in uses.items()
        if pk in rows and (donor.pk in billed or donor.state == "returned unrepaired")
    ]


def in_other_money(batch: Batch) -> list[Allotment]:
    """Give pieces of the donors of a batch that were billed in another currency."""
    uses = donor_uses(batch.jobs.all()).filter(credit=None).exclude(job__batch=batch)
    users = {use.job_id for use in uses if _is_in_other_money(use)}
    lines = InvoiceLine.objects.values_list("job_id", flat=True)
    return [
        use
        for use, _ in _paid_for(set(among(lines, "job", users)))
        if not hasattr(use, "credit")
        and _is_in_other_money(use)
        and _donor_of(use).batch_id == batch.pk
    ]


def late_credits(batch: Batch) -> list[Credit]:
    """Give credits for pieces that were charged after their donor was billed."""
    return due_credits(batch.jobs.all())

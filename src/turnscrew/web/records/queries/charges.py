"""What were the devices of an invoice charged, by their own records?"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from typing import Any

from django.db.models import OuterRef, Subquery

from turnscrew.web.records.models import (
    Allotment,
    Approval,
    Batch,
    BenchRun,
    Invoice,
    InvoiceLine,
    Job,
    Quote,
)


def charged_minor(invoice: Invoice) -> int:
    """
    Add up what the records of its devices say, tax among it.

    Each device pays once, what its quote says that stood at its first invoice. Parts
    from a donor are credited at the price of their own charge where they were used, in
    the order in which they were fitted, each on one invoice.
    """
    jobs = Job.objects.filter(invoice_lines__invoice=invoice).distinct()
    first = jobs.exclude(invoice_lines__invoice__id__lt=invoice.pk)
    total = 0
    for quote in agreed_quotes(first):
        total += sum(row["net_minor"] + row["tax_minor"] for row in quote.charges)
    return total - sum(_credited_on(invoice, job) for job in jobs.exclude(donor=None))


def _credited_on(invoice: Invoice, donor: Job) -> int:
    """Add up the credits of a donor that this invoice is the one to bear."""
    lines = donor.invoice_lines.filter(net_minor__lt=0)
    n_before = lines.filter(invoice__id__lt=invoice.pk).count()
    n_here = lines.filter(invoice=invoice).count()
    uses = sorted(donor_uses([donor]), key=lambda use: (str(use.used_at), use.pk))
    credits = list(filter(None, map(credit_of, uses)))[n_before : n_before + n_here]
    return -sum(int(row["net_minor"] + row["tax_minor"]) for row in credits)


def standing_quotes(jobs: Iterable[Job]) -> list[Quote]:
    """Give the last quote of each job."""
    last = Quote.objects.filter(job=OuterRef("job")).order_by("-id").values("id")[:1]
    return list(
        Quote.objects.filter(job__in=jobs, id=Subquery(last))
        .select_related("job")
        .order_by("job__line")
    )


def agreed_quotes(jobs: Iterable[Job]) -> list[Quote]:
    """Give of each job the last quote that was agreed; none where none ever was."""
    listed = list(jobs)
    agreed: dict[int, Quote] = {}
    answers = defaultdict(list)
    corrected = set()
    for one in Approval.objects.filter(job__in=listed).order_by("id"):
        answers[one.job_id].append(one)
        corrected.add(one.corrects_id)
    begun = {
        *BenchRun.objects.filter(job__in=listed).values_list("job", flat=True),
        *Allotment.objects.filter(job__in=listed, state=Allotment.USED)
        .values_list("job", flat=True),
    }  # fmt: skip
    quotes = Quote.objects.filter(job__in=listed).select_related("job")
    for quote in quotes.order_by("job__line", "id"):
        told = [one for one in answers[quote.job_id] if one.pk not in corrected]
        is_left = bool(told) and told[-1].answer == Approval.NO
        if is_left and quote.code in {"go", "ask"} and quote.job_id not in begun:
            # Nothing was done before the no, so nothing is owed of either price.
            continue
        if quote.code != "ask" or _is_agreed(quote, told):
            agreed[quote.job_id] = quote
    return list(agreed.values())


def _is_agreed(quote: Quote, answers: Iterable[Approval]) -> bool:
    """Say whether the last answer that speaks of a quote was yes."""
    minor = quote.quote_minor or 0
    is_agreed = False
    for one in answers:
        if one.answer == Approval.YES and one.quote_minor >= minor:
            is_agreed = True
        elif one.answer == Approval.NO and one.quote_minor <= minor:
            is_agreed = False
    return is_agreed


def donor_uses(jobs: Iterable[Job]) -> list[Allotment]:
    """Give the pieces of donors among some jobs that went into other devices."""
    return list(
        Allotment.objects.filter(
            state=Allotment.USED, donor_part__donor__job__in=jobs
        ).select_related("part", "job", "donor_part__donor__job")
    )


def credit_of(use: Allotment) -> dict[str, Any] | None:
    """
    Give the credit for a donor's piece: what its user was charged for it, below 0.

    Where nothing was charged, as for a comeback, nothing is credited.
    """
    quote = use.job.quotes.last()
    rows = quote.charges if quote else []
    row = next((r for r in rows if r["part"] == use.part.number), None)
    if row is None:
        return None
    n = max(row["n"], 1)
    return {
        "kind": "parts",
        "says": f"credit: {use.part.description}, used for device {use.job.line}",
        "n": 1,
        "net_minor": -(row["net_minor"] // n),
        "tax_minor": -(row["tax_minor"] // n),
    }


def late_credits(batch: Batch) -> list[tuple[Job, dict[str, Any]]]:
    """Give credits for pieces that were fitted after their donor was billed."""
    donors = batch.jobs.exclude(invoice_lines=None)
    billed = Counter(
        InvoiceLine.objects.filter(job__in=donors, net_minor__lt=0)
        .values_list("job_id", "says")
    )  # fmt: skip
    late = []
    for use in donor_uses(donors):
        credit = credit_of(use)
        if credit is None or use.donor_part is None:
            continue
        donor = use.donor_part.donor.job
        if billed[donor.pk, credit["says"]]:
            billed[donor.pk, credit["says"]] -= 1
        else:
            late.append((donor, credit))
    return late

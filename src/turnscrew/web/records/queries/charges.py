"""What were the devices of an invoice charged, by their own records?"""

from collections.abc import Iterable
from typing import Any

from django.db.models import OuterRef, Subquery

from turnscrew.web.records.models import Allotment, Invoice, Job, Quote


def charged_minor(invoice: Invoice) -> int:
    """
    Add up what the records of its devices say, tax among it.

    Each device pays what its quote says that stood at the invoice; parts from a donor
    are credited at the price of their own charge where they were used.
    """
    jobs = Job.objects.filter(invoice_lines__invoice=invoice).distinct()
    total = 0
    for quote in standing_quotes(jobs):
        total += sum(row["net_minor"] + row["tax_minor"] for row in quote.charges)
    return total - credited_minor(jobs)


def standing_quotes(jobs: Iterable[Job]) -> list[Quote]:
    """Give the last quote of each job."""
    last = Quote.objects.filter(job=OuterRef("job")).order_by("-id").values("id")[:1]
    return list(
        Quote.objects.filter(job__in=jobs, id=Subquery(last))
        .select_related("job")
        .order_by("job__line")
    )


def donor_uses(jobs: Iterable[Job]) -> list[Allotment]:
    """Give the pieces of donors among some jobs that went into other devices."""
    return list(
        Allotment.objects.filter(
            state=Allotment.USED, donor_part__donor__job__in=jobs
        ).select_related("part", "job", "donor_part__donor__job")
    )


def credited_minor(donors: Iterable[Job]) -> int:
    """Add up what the owners of donors are credited, tax among it."""
    total = 0
    for row in filter(None, map(credit_of, donor_uses(donors))):
        total -= row["net_minor"] + row["tax_minor"]
    return total


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

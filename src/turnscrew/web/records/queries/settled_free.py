"""Which quotes did a lead overrule, by settling that a promise covers the device?"""

from collections.abc import Iterable

from turnscrew.core.price.comeback import AT_NO_CHARGE
from turnscrew.web.records.models import Entry, Quote
from turnscrew.web.records.queries.in_parts import among


def settled_free_since(quotes: Iterable[Quote]) -> frozenset[int]:
    """
    Name the jobs whose comeback was settled at no charge after they were quoted so.

    A yes to the price that was told before, or work begun by it, keeps no such quote.
    """
    settled = {
        quote.job.ref: quote
        for quote in quotes
        if quote.job.is_comeback_settled and quote.job.comeback_class in AT_NO_CHARGE
    }
    told = Entry.objects.filter(journal="money", verb="comeback").order_by("sequence")
    last = {one.subject: one for one in among(told, "subject", settled)}
    return frozenset(
        quote.job_id
        for ref, quote in settled.items()
        if ref in last and last[ref].at > quote.at
    )

"""What do the terms of a batch say, and in which currency?"""

from dataclasses import replace
from datetime import datetime
from functools import lru_cache
from typing import Any

from turnscrew.core.model.calendar import Calendar
from turnscrew.core.model.terms import Terms
from turnscrew.errors import BadArgumentError
from turnscrew.files.terms_file import read_terms
from turnscrew.web.records import convert
from turnscrew.web.records.models import Batch, Customer
from turnscrew.web.records.queries.as_of import rows_at


@lru_cache(maxsize=64)
def terms_in(text: str) -> Terms:
    """Read terms once for each text of them."""
    return read_terms(text)


def currency_of(batch: Batch) -> str:
    """Give the currency of all money of a batch."""
    return terms_in(batch.terms_text).currency if batch.terms_text else ""


def terms_of(batch: Batch, then: datetime | None = None) -> Terms:
    """Give the terms of a batch, the customer's own data among them."""
    row: Any = batch if then is None else rows_at(Batch, then, id=batch.pk).first()
    if row is None:
        raise BadArgumentError(f"as of: found {then}, wanted a time it was booked by")
    # As the debtor was called then: an invoice is printed again as it was sent.
    customer = rows_at(Customer, then, id=row.customer_id).first()
    if customer is None:
        customer = Customer.objects.get(pk=row.customer_id)
    terms = terms_in(row.terms_text)
    return replace(
        terms,
        batch=row.name,
        received=row.received,
        customer=convert.terms_customer(customer, row),
    )


def danger_of(batch: Batch, code: str) -> str:
    """Name the danger that a code of its terms stands for; nothing if for none."""
    if not code or not batch.terms_text:
        return ""
    fault = terms_in(batch.terms_text).faults.get(code)
    return (fault.hazard or "") if fault else ""


def calendar_of(batch: Batch) -> Calendar:
    """Give the days on which a batch is worked."""
    return terms_in(batch.terms_text).calendar

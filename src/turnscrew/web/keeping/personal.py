"""Where do names, addresses and other words about people stand in the tables?"""

from collections.abc import Iterable
from typing import Any

from django.db.models import CharField, F, QuerySet, TextField, Value
from django.db.models.functions import Replace

from turnscrew.web.keeping.tables import Model
from turnscrew.web.records.models import (
    Accessory,
    AdapterCheck,
    Approval,
    ArrivalMark,
    Asset,
    Batch,
    Contact,
    ContactLink,
    Customer,
    DataPart,
    Donor,
    DonorPart,
    Duty,
    Expected,
    Finding,
    Finishing,
    Fleet,
    Incident,
    Invoice,
    InvoiceLine,
    Item,
    Job,
    ListedRow,
    LockRequest,
    MissingPiece,
    OrderLine,
    PackLog,
    Payment,
    Photo,
    Quote,
    Sighting,
    Signature,
    Site,
    SupplierReturn,
    Tranche,
    Trial,
    Waste,
    WrittenYes,
)

ERASED = "erased"

OF_CUSTOMER: dict[Model, str] = {
    Customer: "pk",
    Contact: "customer",
    Site: "customer",
    Fleet: "customer",
    Item: "customer",
    Batch: "customer",
    Asset: "item__customer",
    Tranche: "batch__customer",
    ListedRow: "batch__customer",
    Expected: "batch__customer",
    Job: "batch__customer",
    Accessory: "batch__customer",
    ContactLink: "batch__customer",
    OrderLine: "batch__customer",
    Invoice: "batch__customer",
    InvoiceLine: "invoice__batch__customer",
    Payment: "invoice__batch__customer",
    Signature: "tranche__batch__customer",
    Finding: "job__batch__customer",
    Approval: "job__batch__customer",
    WrittenYes: "job__batch__customer",
    DataPart: "job__batch__customer",
    Quote: "job__batch__customer",
    Photo: "job__batch__customer",
    SupplierReturn: "job__batch__customer",
    Waste: "job__batch__customer",
    Incident: "job__batch__customer",
    PackLog: "job__batch__customer",
    AdapterCheck: "accessory__batch__customer",
    Trial: "job__batch__customer",
    LockRequest: "job__batch__customer",
    Finishing: "job__batch__customer",
    MissingPiece: "job__batch__customer",
    ArrivalMark: "job__batch__customer",
    Sighting: "job__batch__customer",
    Duty: "customer",
    Donor: "job__batch__customer",
    DonorPart: "donor__job__batch__customer",
}
"""How each table with rows of customers leads to the customer."""

WORDS: dict[Model, tuple[str, ...]] = {
    Customer: ("name", "address", "contract", "tax_number"),
    Contact: ("name", "reach"),
    Batch: ("name", "order_number", "contact", "donor_consent"),
    Tranche: ("taken_by", "note"),
    ListedRow: ("site",),
    Job: (
        "site", "reported", "remarks", "data_decision", "data_allowed_by", "reason",
        "again_words",
    ),
    Accessory: ("explanation",),
    ContactLink: ("name",),
    Payment: ("how",),
    Signature: ("name", "strokes"),
    Finding: ("words", "part", "mode"),
    Approval: ("answered_by",),
    WrittenYes: ("said_by",),
    DataPart: ("serial", "verified_how"),
    Photo: ("caption",),
    Donor: ("consent", "carcass_receipt"),
    DonorPart: ("tested_how",),
    SupplierReturn: ("reason", "evidence", "why_ended"),
    Waste: ("receiver", "receipt"),
    Incident: ("what", "done", "learnt"),
    PackLog: ("pack", "reading"),
    AdapterCheck: ("owner",),
    Trial: ("load", "position", "tried", "words"),
    LockRequest: ("asked_of", "words", "answer"),
    Finishing: ("marks_left",),
    ArrivalMark: ("words",),
    Duty: ("words",),
}  # fmt: skip
"""Columns that name people or hold whatever somebody typed."""

NAMES: dict[Model, tuple[str, ...]] = {
    Customer: ("name",),
    Contact: ("name", "reach"),
    Batch: ("name", "contact"),
    Tranche: ("taken_by",),
    ContactLink: ("name",),
    Signature: ("name",),
    Approval: ("answered_by",),
    WrittenYes: ("said_by",),
    AdapterCheck: ("owner",),
    LockRequest: ("asked_of",),
}
"""Columns whose contents are looked for in every other column of the customer."""

_SHORTEST = 6
"""Shorter names stand inside other words, and the word put in their place is longer."""

_AT_ONCE = 20


def rows_with_past(rows: QuerySet[Any]) -> list[QuerySet[Any]]:
    """Give rows, and where a table has a past, the earlier forms of the same rows."""
    past = getattr(rows.model, "history", None)
    if past is None:
        return [rows]
    return [rows, past.model._default_manager.filter(id__in=rows.values("pk"))]


def names_in(rows: QuerySet[Any], columns: Iterable[str]) -> set[str]:
    """Give what some columns hold now and held before, if it is long enough."""
    found: set[str] = set()
    for some in rows_with_past(rows):
        for column in columns:
            found.update(some.values_list(column, flat=True).distinct())
    return {name for name in found if len(name) >= _SHORTEST and name != ERASED}


def blank(rows: QuerySet[Any], columns: Iterable[str]) -> None:
    """Put a word that tells nothing in place of what was written, past and present."""
    for some in rows_with_past(rows):
        for column in columns:
            some.exclude(**{column: ""}).update(**{column: ERASED})


def replace(
    rows: QuerySet[Any], names: Iterable[str], *, without: Iterable[str] = ()
) -> None:
    """Take names out of the texts of some rows, past and present."""
    kept = {"ref", *without}
    # The longest first: a short one may be part of it.
    ordered = sorted(names, key=len, reverse=True)
    columns = [
        field.attname
        for field in rows.model._meta.concrete_fields
        if isinstance(field, CharField | TextField) and field.attname not in kept
    ]
    for some in rows_with_past(rows):
        for column in columns:
            for first in range(0, len(ordered), _AT_ONCE):
                spelled: Any = F(column)
                for name in ordered[first : first + _AT_ONCE]:
                    spelled = Replace(spelled, Value(name), Value(ERASED))
                some.exclude(**{column: ""}).update(**{column: spelled})

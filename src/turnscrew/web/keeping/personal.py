"""Where do names, addresses and other words about people stand in the tables?"""

import re
from collections.abc import Iterable
from typing import Any

from django.db.models import QuerySet

from turnscrew.web.keeping.tables import Model
from turnscrew.web.records.models import (
    Accessory,
    AdapterCheck,
    Approval,
    ArrivalMark,
    Asset,
    Batch,
    Bench,
    BenchRun,
    BenchStroke,
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
    KnownGood,
    ListedRow,
    LockRequest,
    Lot,
    MissingPiece,
    OrderLine,
    PackLog,
    Payment,
    Photo,
    Quote,
    SafetyCheck,
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
    Lot: "order_line__batch__customer",
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
    BenchRun: "job__batch__customer",
    BenchStroke: "run__job__batch__customer",
    Bench: "in_hand__batch__customer",
    Donor: "job__batch__customer",
    DonorPart: "donor__job__batch__customer",
}
"""How each table with rows of customers leads to the customer."""

BY_ORDER: dict[Model, str] = {SupplierReturn: "order_line__batch__customer"}
"""How a row leads there that is about no device, but about an order of a batch."""

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
    Lot: ("marks_seen", "first_use_how"),
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
    BenchRun: ("why",),
    Bench: ("layer",),
}  # fmt: skip
"""Columns that name people or hold whatever somebody typed."""

PHRASES: dict[Model, tuple[str, ...]] = {
    Batch: ("terms_text", "columns_text"),
    Job: ("parts_told", "results_told"),
    Finding: ("result",),
    DataPart: ("what",),
    Quote: ("reason",),
    InvoiceLine: ("says",),
    Waste: ("what",),
    BenchStroke: ("against",),
}
"""Columns in words that tell what a thing is: they stay, without the names in them."""

BY_US: dict[Model, tuple[str, ...]] = {
    KnownGood: ("what", "fits", "verified_with"),
    SafetyCheck: ("reading",),
}
"""Columns beside those of customers in which a colleague may be named."""

_READ_BY_US = {"terms_text", "columns_text"}
"""Keys and codes in them are in small letters; a name like one leaves them whole."""

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
"""Columns whose contents are looked for in all words about the customer."""

FACTS = ("reason", "other", "value")
"""Facts of a stroke at a bench that somebody types."""

_SHORTEST = 4
"""Shorter ones are often no names."""


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


def words_of(names: Iterable[str]) -> set[str]:
    """Give each word of some names that is long enough to be looked for alone."""
    words = {word for name in names for word in re.split(r"[\W_]+", name)}
    # What begins with a small letter is rather a word of the language, or a domain.
    return {word for word in words if len(word) >= _SHORTEST and word[0].isupper()}


def blank(rows: QuerySet[Any], columns: Iterable[str]) -> None:
    """Put a word that tells nothing in place of what was written, past and present."""
    for some in rows_with_past(rows):
        for column in columns:
            some.exclude(**{column: ""}).update(**{column: ERASED})


def replace(
    rows: QuerySet[Any], names: Iterable[str], *, without: Iterable[str] = ()
) -> None:
    """Take names out of the words of some rows, past and present; codes stay."""
    model, names, kept = rows.model, set(names), set(without)
    tables = (WORDS, PHRASES, BY_US)
    columns = [one for table in tables for one in table.get(model, ())]
    for column in columns:
        if column in kept:
            continue
        sought = names
        if column in _READ_BY_US:
            sought = {name for name in names if name != name.lower()}
        if sought:
            _replace_in(rows, column, _any_of(sought))


def replace_in_facts(rows: QuerySet[Any], names: set[str]) -> None:
    """Blank the reasons typed at a bench, and take names out of what else is."""
    sought = _any_of(names) if names else None
    for stroke in list(rows):
        told = dict(stroke.facts)
        for key in FACTS:
            text = told.get(key)
            if type(text) is not str or not text:
                continue
            if key == "reason":
                told[key] = ERASED
            elif sought:
                told[key] = sought.sub(ERASED, text)
        if told != stroke.facts:
            rows.filter(pk=stroke.pk).update(facts=told)


def _replace_in(rows: QuerySet[Any], column: str, sought: re.Pattern[str]) -> None:
    most = rows.model._meta.get_field(column).max_length
    for some in rows_with_past(rows):
        for pk, text in list(some.exclude(**{column: ""}).values_list("pk", column)):
            told = sought.sub(ERASED, text)
            if told != text:
                some.filter(pk=pk).update(**{column: told[:most]})


def _any_of(names: Iterable[str]) -> re.Pattern[str]:
    """Find a name where it stands as a word of its own."""
    # The longest first: a short one may be part of it.
    ordered = sorted(names, key=len, reverse=True)
    any_one = "|".join(map(re.escape, ordered))
    # With the s of a genitive, as German adds it.
    return re.compile(rf"(?<!\w)(?:{any_one})s?(?!\w)")

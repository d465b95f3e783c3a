"""Are the journals whole, and does everything on record add up?"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from django.db.models import F, Sum

from turnscrew.core.ledger.balance import Balance, Standing
from turnscrew.core.ledger.chain import Break, ChainCheck
from turnscrew.core.ledger.entry import JOURNALS, JournalName, words_digest
from turnscrew.core.ledger.gaps import RESTORED_IN_PART, gaps_text, numbers_in
from turnscrew.core.model.job_state import CLOSED, GIVEN_BACK
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import (
    Entry,
    EntryWords,
    Head,
    Invoice,
    InvoiceLine,
    Job,
    Part,
    SupplierReturn,
    Waste,
)
from turnscrew.web.records.queries.charges import charged_minor
from turnscrew.web.records.queries.moment import one_moment
from turnscrew.web.records.queries.photo_audit import photo_breaks, told_lost

_CHUNK = 5000


@dataclass(frozen=True)
class Audit:
    """What an audit found."""

    n_entries: dict[str, int] = field(default_factory=dict)
    n_words_erased: int = 0
    last_digests: dict[str, str] = field(default_factory=dict)
    breaks: tuple[Break, ...] = ()
    known: tuple[Break, ...] = ()
    lost: dict[str, str] = field(default_factory=dict)
    photos: tuple[Break, ...] = ()


def audited(photo_digests: Mapping[str, str] | None = None) -> Audit:
    """
    Walk every journal from its first entry and compare with the records.

    The files of photos are compared too; of a backup that is not unpacked their
    digests are given by name.
    """
    # Whoever writes meanwhile would look like a break between two tables.
    with one_moment():
        found = _audited()
    lost = told_lost()
    photos = {one: _is_of(one, lost) for one in photo_breaks(photo_digests)}
    return replace(
        found,
        known=(*found.known, *(one for one, is_known in photos.items() if is_known)),
        photos=tuple(one for one, is_known in photos.items() if not is_known),
    )


def _is_of(one: Break, lost: frozenset[str]) -> bool:
    return any(one.where.startswith(f"photo {ref} ") for ref in lost)


def _audited() -> Audit:
    balance = Balance()
    breaks: list[Break] = []
    counts: dict[str, int] = {}
    last: dict[str, str] = {}
    lost: dict[str, str] = {}
    for journal in JOURNALS:
        check = ChainCheck(journal, lost_entries(journal))
        for row in _rows(journal):
            entry = ledger_entry(row)
            check.take(entry, row.digest)
            balance.take(entry)
        head = Head.objects.get(journal=journal)
        check.end(head.sequence, head.digest)
        last[journal] = check.digest
        counts[journal] = check.n
        if check.lost:
            lost[journal] = gaps_text(check.lost)
        if check.first_break is not None:
            breaks.append(check.first_break)
    breaks += _changed_words()
    unproven = _unproven()
    unequal = list(balance.breaks(_standing()))
    breaks += [one for one in unequal if one.where not in unproven]
    known = tuple(one for one in unequal if one.where in unproven)
    with_words = Entry.objects.exclude(words_digest="").count()
    erased = with_words - EntryWords.objects.count()
    return Audit(counts, erased, last, tuple(breaks), known, lost)


def unequal_sums() -> list[Break]:
    """Give the sums of the journals that differ from what is on record."""
    balance = Balance()
    for journal in JOURNALS:
        for row in _rows(journal):
            balance.take(ledger_entry(row))
    return list(balance.breaks(_standing()))


def lost_entries(journal: JournalName) -> frozenset[int]:
    """Give the numbers of the entries that a journal is known to lack."""
    told = (str(facts.get("lacking", "")) for facts in _restored_facts(journal))
    return frozenset().union(*map(numbers_in, told))


def _unproven() -> frozenset[str]:
    """Name the sums that cannot be proven since a restore in part."""
    told = (str(facts.get("unproven", "")) for facts in _restored_facts("custody"))
    return frozenset(name for text in told for name in text.split("; ") if name)


def _restored_facts(journal: JournalName) -> list[dict[str, Any]]:
    rows = Entry.objects.filter(journal=journal, verb=RESTORED_IN_PART)
    return [json.loads(facts) for facts in rows.values_list("facts", flat=True)]


def _rows(journal: JournalName) -> Iterator[Entry]:
    rows = Entry.objects.filter(journal=journal).order_by("sequence")
    return rows.iterator(chunk_size=_CHUNK)


def _changed_words() -> Iterator[Break]:
    """Compare the words that are still there with their digests."""
    words = EntryWords.objects.select_related("entry")
    for one in words.iterator(chunk_size=_CHUNK):
        if words_digest(one.salt, one.text) != one.entry.words_digest:
            where = f"words of {one.entry.journal} entry {one.entry.sequence}"
            yield Break(where, "other words", "those that were sealed")


def _standing() -> Standing:
    jobs = list(Job.objects.values_list("ref", "state"))
    returns = list(
        SupplierReturn.objects.values_list("ref", "n", "end", "credited_minor")
    )
    lines = (
        InvoiceLine.objects.values(ref=F("invoice__ref"))
        .annotate(minor=Sum(F("net_minor") + F("tax_minor")))
        .values_list("ref", "minor")
    )
    return Standing(
        on_hand=dict(Part.objects.values_list("ref", "on_hand")),
        promised=dict(Part.objects.values_list("ref", "promised")),
        owed_minor=dict(Invoice.objects.values_list("ref", "owed_minor")),
        line_sums_minor=dict(lines),
        item_sums_minor={one.ref: charged_minor(one) for one in Invoice.objects.all()},
        gone=frozenset(ref for ref, state in jobs if state in GIVEN_BACK),
        states=dict(jobs),
        closed=frozenset(ref for ref, state in jobs if state in CLOSED),
        waste_g=dict(
            Waste.objects.filter(gone_on=None, taken_back_on=None).values_list(
                "ref", "mass_g"
            )
        ),
        at_supplier={ref: 0 if end else n for ref, n, end, _ in returns},
        credited_minor={ref: minor for ref, _, _, minor in returns},
    )

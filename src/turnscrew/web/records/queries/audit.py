"""Are the journals whole, and does everything on record add up?"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from django.db.models import F, Sum

from turnscrew.core.ledger.balance import Balance, Standing
from turnscrew.core.ledger.chain import Break, ChainCheck
from turnscrew.core.ledger.entry import JOURNALS, JournalName, words_digest
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

_CHUNK = 5000


@dataclass(frozen=True)
class Audit:
    """What an audit found."""

    n_entries: dict[str, int] = field(default_factory=dict)
    n_words_erased: int = 0
    last_digests: dict[str, str] = field(default_factory=dict)
    breaks: tuple[Break, ...] = ()


def audited() -> Audit:
    """Walk every journal from its first entry and compare with the records."""
    # Whoever writes meanwhile would look like a break between two tables.
    with one_moment():
        return _audited()


def _audited() -> Audit:
    balance = Balance()
    breaks: list[Break] = []
    counts: dict[str, int] = {}
    last: dict[str, str] = {}
    for journal in JOURNALS:
        check = ChainCheck(journal)
        for row in _rows(journal):
            entry = ledger_entry(row)
            check.take(entry, row.digest)
            balance.take(entry)
        head = Head.objects.get(journal=journal)
        check.end(head.sequence, head.digest)
        last[journal] = check.digest
        counts[journal] = check.n
        if check.first_break is not None:
            breaks.append(check.first_break)
    breaks += _changed_words()
    breaks += balance.breaks(_standing())
    with_words = Entry.objects.exclude(words_digest="").count()
    erased = with_words - EntryWords.objects.count()
    return Audit(counts, erased, last, tuple(breaks))


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

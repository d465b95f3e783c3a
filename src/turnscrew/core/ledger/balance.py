"""Does everything that came in add up to what is here, used, given back or lost?"""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from turnscrew.core.ledger.chain import Break
from turnscrew.core.ledger.entry import Entry
from turnscrew.core.ledger.verbs import (
    ACCESSORY_SIGNS,
    MONEY_SIGNS,
    PROMISE_SIGNS,
    RETURN_SIGNS,
    STOCK_SIGNS,
    WASTE_SIGNS,
    tray_sign,
)


@dataclass(frozen=True)
class Standing:
    """
    What the records say now, beside the journals.

    Parameters
    ----------
    on_hand
        Pieces on hand by part.
    promised
        Pieces promised by part.
    owed_minor
        Money owed by invoice. [minor units]
    line_sums_minor
        Sum of an invoice's lines, tax among them, by invoice. [minor units]
    item_sums_minor
        Sum of what the devices of an invoice were charged, tax among it, by invoice.
        [minor units]
    gone
        Jobs whose device was handed back.
    states
        State by job.
    closed
        Jobs whose device is closed or beyond.
    waste_g
        Mass of what lies here to be thrown away, by piece. [g]
    at_supplier
        Faulty pieces a supplier still owes for, by return.
    credited_minor
        Credit of a supplier, by return. [minor units]
    """

    on_hand: Mapping[str, int] = field(default_factory=dict)
    promised: Mapping[str, int] = field(default_factory=dict)
    owed_minor: Mapping[str, int] = field(default_factory=dict)
    line_sums_minor: Mapping[str, int] = field(default_factory=dict)
    item_sums_minor: Mapping[str, int] = field(default_factory=dict)
    gone: frozenset[str] = frozenset()
    states: Mapping[str, str] = field(default_factory=dict)
    closed: frozenset[str] = frozenset()
    waste_g: Mapping[str, int] = field(default_factory=dict)
    at_supplier: Mapping[str, int] = field(default_factory=dict)
    credited_minor: Mapping[str, int] = field(default_factory=dict)


class Balance:
    """The sums of the journals, entry by entry."""

    def __init__(self) -> None:
        self.moved: dict[str, Counter[str]] = defaultdict(Counter)
        self.promised: Counter[str] = Counter()
        self.at_supplier: Counter[str] = Counter()
        self.credited: Counter[str] = Counter()
        self.tray: Counter[tuple[str, str]] = Counter()
        self.accessories: Counter[tuple[str, str]] = Counter()
        self.waste_g: Counter[str] = Counter()
        self.owed: Counter[str] = Counter()
        self.invoiced: Counter[str] = Counter()
        self.states: dict[str, str] = {}

    def take(self, entry: Entry) -> None:
        """
        Count one entry.

        Parameters
        ----------
        entry
            The entry; its journal must be whole.
        """
        counters: Mapping[str, Callable[[Entry], None]] = {
            "stock": self._count_stock,
            "bench": self._count_tray,
            "custody": self._count_custody,
            "money": self._count_money,
        }
        counters[entry.journal](entry)

    def _count_stock(self, entry: Entry) -> None:
        if entry.verb in STOCK_SIGNS:
            self.moved[entry.subject][entry.verb] += entry.n("n")
        sign = PROMISE_SIGNS.get(entry.verb, 0)
        self.promised[entry.subject] += sign * entry.n("n")
        if entry.verb in RETURN_SIGNS:
            name = entry.text("return")
            self.at_supplier[name] += RETURN_SIGNS[entry.verb] * entry.n("n")
            if entry.verb in {"credited", "return corrected"}:
                self.credited[name] += entry.n("minor")

    def _count_tray(self, entry: Entry) -> None:
        kind = entry.subject, entry.text("kind")
        sign = tray_sign(entry.verb, entry.facts)
        if sign:
            self.tray[kind] += sign * entry.n("n")

    def _count_custody(self, entry: Entry) -> None:
        kind = entry.subject, entry.text("kind")
        if entry.verb == "moved":
            self.states[entry.subject] = entry.text("state")
        elif entry.verb in ACCESSORY_SIGNS:
            self.accessories[kind] += ACCESSORY_SIGNS[entry.verb] * entry.n("n")
        elif entry.verb in WASTE_SIGNS:
            self.waste_g[entry.text("waste")] += WASTE_SIGNS[entry.verb] * entry.n("g")

    def _count_money(self, entry: Entry) -> None:
        sign = MONEY_SIGNS.get(entry.verb, 0)
        self.owed[entry.subject] += sign * entry.n("minor")
        if entry.verb == "invoiced":
            self.invoiced[entry.subject] += entry.n("minor")

    def on_hand(self, part: str) -> int:
        """
        Give the pieces on hand by the journal.

        Parameters
        ----------
        part
            The part.

        Returns
        -------
        int
            Pieces; below 0 if more were taken than ever came. [1]
        """
        return sum(STOCK_SIGNS[verb] * n for verb, n in self.moved[part].items())

    def breaks(self, now: Standing) -> Iterator[Break]:
        """
        Compare the journals with what the records say.

        Parameters
        ----------
        now
            What the records say.

        Yields
        ------
        Break
            Everything that does not add up.
        """
        yield from self._stock_breaks(now)
        yield from self._bench_breaks(now)
        yield from self._money_breaks(now)
        yield from _unequal("mass of waste", self.waste_g, now.waste_g, 0)
        yield from _unequal("state of job", self.states, now.states, "")

    def _stock_breaks(self, now: Standing) -> Iterator[Break]:
        by_journal = {part: self.on_hand(part) for part in tuple(self.moved)}
        yield from _unequal("pieces on hand of part", by_journal, now.on_hand, 0)
        yield from _unequal("pieces promised of part", self.promised, now.promised, 0)
        yield from _unequal(
            "pieces owed on return", self.at_supplier, now.at_supplier, 0
        )
        yield from _unequal("credit of return", self.credited, now.credited_minor, 0)

    def _bench_breaks(self, now: Standing) -> Iterator[Break]:
        for (job, kind), n in self.tray.items():
            if n < 0 or (n and job in now.closed):
                wanted = "0, as it is closed" if n > 0 else "no more back than taken"
                yield Break(f"tray of job {job}, kind {kind}", str(n), wanted)
        for (job, kind), n in self.accessories.items():
            if n < 0 or (n and job in now.gone):
                wanted = "0, as it was handed back" if n > 0 else "no more out than in"
                yield Break(f"accessory {kind} of job {job}", str(n), wanted)

    def _money_breaks(self, now: Standing) -> Iterator[Break]:
        yield from _unequal("money owed on invoice", self.owed, now.owed_minor, 0)
        yield from _unequal("lines of invoice", self.invoiced, now.line_sums_minor, 0)
        yield from _unequal(
            "device records of invoice", self.invoiced, now.item_sums_minor, 0
        )


def _unequal(
    what: str, wanted: Mapping[str, object], found: Mapping[str, object], none: object
) -> Iterator[Break]:
    for name in sorted({*wanted, *found}):
        by_journal, by_record = wanted.get(name, none), found.get(name, none)
        if by_journal != by_record:
            yield Break(
                f"{what} {name}",
                f"{_told(by_record)} on record",
                f"{_told(by_journal)} by journal",
            )


def _told(value: object) -> str:
    return "nothing" if value == "" else str(value)

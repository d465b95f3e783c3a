"""
Is a device mended, asked about, stripped, or mended at no charge?

Order of the questions: did this workshop mend the same fault within the promise, and is
there another one besides; was no fault found; is there liquid inside; can the price and
the value be told at all; is it worth mending; may it be mended without asking. A quote
equal to a limit is within it. Who agreed to have a device mended is asked before it is
stripped.
Limits are compared with amounts before tax, those of permission with tax where the
terms say so; where their currency or tax is not clear, everything is asked about.
"""

from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass, replace

from turnscrew.core.model.amounts import money
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.quote import DecidedDevice, Decision
from turnscrew.core.model.terms import Terms
from turnscrew.core.price.limits import counted_minor, device_minor, unclear_limits


@dataclass(frozen=True)
class Figures:
    """
    What a decision rests on.

    Parameters
    ----------
    quote_minor
        Cost of mending before tax; ``None`` if it can not be told. [minor units]
    unknown
        Why it can not be told; empty if it can.
    each_minor
        Quote with each fault alone, by fault code. [minor units]
    comeback
        Why it is mended at no charge; empty if it is charged.
    besides
        Faults that the promise does not cover, in words; empty if it covers all. The
        quote is of them alone then.
    disputed
        Why the promise does not cover what its owner may count on; empty if nobody
        counts on it.
    tax_minor
        Tax on the quote. [minor units]
    agreed_minor
        What its owner agreed to pay for it before; ``None`` if nothing. [minor units]
    """

    quote_minor: int | None
    unknown: str = ""
    each_minor: tuple[tuple[str, int], ...] = ()
    comeback: str = ""
    besides: str = ""
    disputed: str = ""
    tax_minor: int = 0
    agreed_minor: int | None = None


def decided(line: BatchLine, terms: Terms, figures: Figures) -> Decision:
    """
    Decide one device.

    Parameters
    ----------
    line
        The device.
    terms
        The terms.
    figures
        What the decision rests on.

    Returns
    -------
    Decision
        What is to be done, why, and the figure that would change it.
    """
    decision = _decided(line, terms, figures)
    estimated = line.revision in terms.models[line.model].worth_estimated
    is_estimate = estimated and decision.limit_minor is not None
    if figures.disputed and decision.code == "go":
        # Who counts on a promise that does not hold is asked before it is charged.
        decision = replace(
            decision, code="ask", reason=figures.disputed, flips_at_minor=None
        )
    return replace(decision, is_estimate=is_estimate)


def _decided(line: BatchLine, terms: Terms, figures: Figures) -> Decision:
    limit = worth_limit_minor(line, terms)
    faults = terms.faults_of(line)
    quote = figures.quote_minor
    if figures.comeback and figures.besides:
        return _besides(figures, limit)
    if figures.comeback:
        return Decision("comeback", figures.comeback, 0, limit)
    if faults and all(fault.is_trial for fault in faults):
        return _trial(quote, limit)
    if terms.strip_liquid and any(fault.hazard == "liquid" for fault in faults):
        return Decision("strip", "liquid inside: stripped by agreement", quote, limit)
    if quote is None:
        return Decision("ask", f"no quote yet: {figures.unknown}", None, limit)
    if limit is None:
        lacks = "worth-mending limit" if terms.worth_ratio is None else "residual value"
        says = f"no {lacks} known for {line.seen}: ask the list price and age"
        return Decision("ask", says, quote)
    if quote > limit:
        return _not_worth(figures, quote, limit)
    return _within(figures, quote, limit, terms)


def worth_limit_minor(line: BatchLine, terms: Terms) -> int | None:
    """
    Give the worth-mending limit of a device.

    Parameters
    ----------
    line
        The device.
    terms
        The terms.

    Returns
    -------
    int or None
        The limit, rounded down; ``None`` if value or ratio is unknown. [minor units]
    """
    worth = terms.models[line.model].worth.get(line.revision)
    if worth is None or terms.worth_ratio is None:
        return None
    return int(worth * terms.worth_ratio)


def within_caps(
    devices: Sequence[DecidedDevice],
    terms: Terms,
    gone: Set[int] = frozenset(),
    settled: Set[int] = frozenset(),
    let_go_before: Set[int] = frozenset(),
) -> tuple[DecidedDevice, ...]:
    """
    Hold the sum of what goes without asking to the caps of batch and day.

    Devices are served in order of due day and number, those first that are mended and
    gone, or begun; one that would pass a cap is asked about, and smaller ones behind it
    may still go.

    Parameters
    ----------
    devices
        The devices, each decided for itself.
    terms
        The terms.
    gone
        Numbers of those that left with nothing done: they take nothing of a cap.
    settled
        Numbers of those that left mended, or are begun as agreed: they go, and are not
        asked about.
    let_go_before
        Numbers of those let go on an earlier day: they take nothing of this day's cap.

    Returns
    -------
    tuple[DecidedDevice, ...]
        The devices in their old order.
    """
    caps = _Caps(
        {
            words: cap
            for words, cap in (
                ("one day", terms.day_limit_minor),
                ("the batch", terms.batch_limit_minor),
            )
            if cap is not None
        }
    )
    changed: dict[int, DecidedDevice] = {}
    in_turn = sorted(_by_due_day(devices), key=lambda one: one.name not in settled)
    for device in in_turn:
        quote = device_minor(device, terms)
        if not caps.left or device.decision.code != "go" or device.name in gone:
            continue
        is_before = device.name in let_go_before
        cap = caps.tightest(is_before=is_before)
        if device.name in settled or cap is None or quote <= caps.left[cap]:
            caps.take(quote, is_before=is_before)
            continue
        taken, limit = caps.limits[cap] - caps.left[cap], caps.limits[cap]
        changed[device.name] = replace(
            device,
            decision=replace(
                device.decision,
                code="ask",
                reason=f"would pass the limit for {cap}: {money(taken)} of "
                f"{money(limit)} taken",
                flips_at_minor=max(0, caps.left[cap] - _tax_of(device, terms)),
            ),
        )
    return tuple(changed.get(device.name, device) for device in devices)


class _Caps:
    """What is left of each cap; what went on an earlier day takes nothing of a day."""

    def __init__(self, limits: Mapping[str, int]) -> None:
        self.limits = limits
        self.left = dict(limits)

    def tightest(self, *, is_before: bool) -> str | None:
        """Name the cap of which least is left; none if none holds a device."""
        bound = self._bound(is_before=is_before)
        return min(bound, key=self.left.__getitem__, default=None)

    def take(self, minor: int, *, is_before: bool) -> None:
        """Take an amount of all that hold a device."""
        for words in self._bound(is_before=is_before):
            self.left[words] -= minor

    def _bound(self, *, is_before: bool) -> list[str]:
        """Name the caps that hold a device."""
        return [words for words in self.left if not (is_before and words == "one day")]


def _by_due_day(devices: Iterable[DecidedDevice]) -> list[DecidedDevice]:
    return sorted(
        devices,
        key=lambda d: (d.line.due_day is None, d.line.due_day or 0, d.name),
    )


def _besides(figures: Figures, limit: int | None) -> Decision:
    """Ask about what is charged; what the promise covers is mended either way."""
    if figures.quote_minor is None:
        return Decision("ask", f"no quote yet: {figures.unknown}", None, limit)
    # No limit lets it go by itself: whoever counts on a promise expects no bill.
    says = f"{figures.besides} beside a comeback at no charge, class {figures.comeback}"
    return Decision("ask", says, figures.quote_minor, limit)


def _trial(quote: int | None, limit: int | None) -> Decision:
    # No figure turns it: it is charged as it was agreed for trials.
    says = "no fault found: the trial is recorded and charged"
    return Decision("no_fault_found", says, quote, limit)


def _tax_of(device: DecidedDevice, terms: Terms) -> int:
    return device_minor(device, terms) - (device.decision.quote_minor or 0)


def _within(figures: Figures, quote: int, limit: int, terms: Terms) -> Decision:
    ask = terms.ask_limit_minor
    if ask is None:
        return Decision("ask", "no limit for mending without asking", quote, limit)
    if unclear := unclear_limits(terms):
        return Decision("ask", unclear, quote, limit)
    # The quote is told before tax, so the limit it is held against is told so too.
    ask = max(0, ask - counted_minor(quote, figures.tax_minor, terms) + quote)
    if quote <= ask:
        return Decision("go", "within both limits", quote, limit, min(ask, limit))
    flips = ask if quote - ask < limit - quote else limit
    return Decision("ask", "above the limit without asking", quote, limit, flips)


def _not_worth(figures: Figures, quote: int, limit: int) -> Decision:
    """Strip what is above its limit, or ask whoever agreed to have it mended."""
    says = _over(figures, limit)
    if figures.agreed_minor is None:
        return Decision("strip", says, quote, limit, limit)
    told = f"{money(figures.agreed_minor)} was agreed to before, so ask"
    return Decision("ask", f"{told}: {says}", quote, limit)


def _over(figures: Figures, limit: int) -> str:
    alone = [code for code, quote in figures.each_minor if quote <= limit]
    if len(figures.each_minor) > 1 and len(alone) == len(figures.each_minor):
        return "not worth mending for all its faults; each alone would be"
    return "not worth mending: the quote is above the limit"

"""How is advice on a fleet told?"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import Literal

from turnscrew.core.fleet.prevention import prevention_of
from turnscrew.core.model.amounts import counted, money, percent, small_chance

TERMS_BEYOND = 4
"""Terms of the far look ahead. [1]"""

_MUCH = 1.25
"""Dispersion from which on it is told. [1]"""

Of = Literal["place", "model-year"]
"""What kind of group stands out."""


@dataclass(frozen=True)
class Advice:
    """
    One thing to change, with what it rests on.

    Parameters
    ----------
    model
        The model.
    cause
        The fault.
    of
        What kind of group stands out.
    site
        Which place or model-year.
    n
        Failures there. [1]
    n_all
        Failures of all. [1]
    n_devices
        Of how many devices those there are; ``None`` if nobody knows. [1]
    share
        Share of the time under watch that is there, or of what would fail there if age
        were all that counts. [1]
    is_by_age
        Whether ages were counted so.
    confidence
        Level of both limits together. [1]
    ratio
        Rate there by rate elsewhere; infinite if none failed elsewhere. [1]
    ratio_limits
        Its exact limits. [1]
    within
        How many failures tell as much as one, as they clump on devices. [1]
    chance
        How likely so many or more of all are there if it is like the others. [1]
    p_adjusted
        The same after every comparison made is counted. [1]
    n_compared
        Comparisons made. [1]
    saved_n
        Failures a term that would not be, were it like the others. [1]
    saved_limits
        Limits of that, as of the difference of two rates. [1]
    cost_minor
        What the failures seen there cost, by the mean of those whose cost is known;
        ``None`` if none is known. [minor units]
    saved_minor
        What those saved in a term cost; ``None`` if no cost is known. [minor units]
    known_by
        Most failures next term that still fit a group like the others; more shows that
        it has not become one. [1]
    helped_by
        In how many terms so few failures show that something has changed, as they no
        longer fit the old rate; ``None`` if no such number is to be looked for within
        the terms of the far look ahead.
    same_as
        The model-year that is this very place, if there is one; else empty.
    is_gone
        None of those devices is in service any more.
    """

    model: str
    cause: str
    of: Of
    site: str
    n: int
    n_all: int
    n_devices: int | None
    share: float
    is_by_age: bool
    confidence: float
    ratio: float
    ratio_limits: tuple[float, float]
    within: float
    chance: float
    p_adjusted: float
    n_compared: int
    saved_n: float
    saved_limits: tuple[float, float]
    cost_minor: int | None
    saved_minor: int | None
    known_by: int
    helped_by: tuple[int, int] | None
    same_as: str = ""
    is_gone: bool = False

    @property
    def says(self) -> str:
        """Give it in plain sentences."""
        return self.worded("")

    def worded(self, name: str, *, with_money: bool = True) -> str:
        """
        Give it in plain sentences that call the fault by its name.

        Parameters
        ----------
        name
            What the fault is called; empty for its code alone.
        with_money
            False for somebody whom costs are not for.

        Returns
        -------
        str
            The sentences.
        """
        called = f"{self.cause} {name}".rstrip()
        return " ".join(self._sentences(called, with_money=with_money))

    def _sentences(self, called: str, *, with_money: bool) -> Iterator[str]:
        at = f"at {self.site}" if self.of == "place" else f"of model-year {self.site}"
        least = "what their ages bring" if self.is_by_age else "the time under watch"
        on = f" on {self.model}" if self.model else ""
        yield (
            f"{called}{on}: {self.n} of {self.n_all} {at}, "
            f"which has {percent(self.share, 1)} of {least}."
        )
        low, high = self.ratio_limits
        beyond = "no upper limit" if high == inf else f"{high:.1f}"
        times = f"{self.ratio:.1f} times as often, between {low:.1f} and {beyond}"
        if self.ratio == inf:
            times = f"none there, so at least {low:.1f} times as often"
        yield (
            f"Against elsewhere: {times} (limits of {100 * self.confidence:g} %); "
            f"chance of so many {small_chance(self.chance)}, "
            f"{small_chance(self.p_adjusted)} "
            f"with all {counted(self.n_compared, 'comparison')} counted."
        )
        yield from self._of_devices()
        if with_money and self.cost_minor is not None:
            yield f"They cost about {money(self.cost_minor)}."
        if self.n_devices == 1:
            yield "Look at that device; of the others nothing is told."
            return
        if self.is_gone:
            yield "None of these devices is in service any more: nothing is to save."
            return
        few, many = self.saved_limits
        yield (
            f"Were it like the others: {self.saved_n:.1f} fewer a term ({few:.1f} to "
            f"{many:.1f}){self._less(with_money=with_money)}"
        )
        if self.same_as:
            yield (
                f"These devices are all of model-year {self.same_as}, and no others "
                "are: place and model-year cannot be told apart."
            )
        look = "Look there for the cause."
        if self.of == "model-year":
            look = "Look for what those devices have in common."
        if self.of == "place" and (usual := prevention_of(called)):
            look = f"Usual cause: {usual.cause}. To prevent it: {usual.says}."
        yield f"{look} {self._measured()}"

    def _of_devices(self) -> Iterator[str]:
        """Say whether some devices failed again and again: that may be no place's."""
        if self.n_devices == 1:
            yield f"All {self.n} are of one device."
        elif self.n_devices is not None and self.n_devices < self.n:
            yield f"The {self.n} are of {counted(self.n_devices, 'device')}."
        if self.within >= _MUCH:
            yield (
                "Some devices fail again and again: limits and chances count "
                f"{self.within:.1f} failures as one."
            )

    def _measured(self) -> str:
        """Say which counts will show whether it has helped."""
        told = f"More than {self.known_by} next term show that it has not helped"
        if self.helped_by is None:
            return f"{told}; that it has cannot be shown within {TERMS_BEYOND} terms."
        terms, most = self.helped_by
        if terms == 1:
            return f"{told}, no more than {most} that it has."
        return f"{told}, no more than {most} in {terms} terms that it has."

    def _less(self, *, with_money: bool) -> str:
        """Say what those saved cost."""
        if not with_money:
            return "."
        if self.saved_minor is None:
            return "; what they cost is not known."
        return f", about {money(self.saved_minor)} less."

"""What is charged for a device, what was decided for it, and what does it need?"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.hold import Hold

Code = Literal["go", "ask", "strip", "comeback", "no_fault_found"]
"""Mend without asking, ask first, strip as a donor, mend at no charge, no fault."""

ChargeKind = Literal["labour", "parts"]

ON_COMEBACK = "on the comeback, no charge"
"""Ends the line of work that a promise covers, where something besides is charged."""


@dataclass(frozen=True)
class Charge:
    """
    One line of a quote or invoice.

    Parameters
    ----------
    kind
        What it is charged for; tells the tax.
    says
        The line in words.
    net_minor
        Amount before tax. [minor units]
    tax_minor
        Tax on it. [minor units]
    n
        Number of pieces, or of minutes. [1, min]
    part
        Spare part charged; empty for labour.
    """

    kind: ChargeKind
    says: str
    net_minor: int
    tax_minor: int = 0
    n: int = 1
    part: str = ""


@dataclass(frozen=True)
class Work:
    """
    Standard minutes of one device, hands on.

    Parameters
    ----------
    receive
        Receiving, identifying and pre-check. [min]
    finish
        Final test, cleaning, charging and packing. [min]
    open_close
        Opening and closing, once for all faults. [min]
    exchange
        Exchanges and trials. [min]
    strip
        Taking the donor apart, its data-bearing part among it. [min]
    charge
        On charge afterwards, no hands on. [min]
    """

    receive: int = 0
    finish: int = 0
    open_close: int = 0
    exchange: int = 0
    strip: int = 0
    charge: int = 0

    @property
    def handling(self) -> int:
        """
        Give the minutes of receiving and handing back.

        Returns
        -------
        int
            Minutes. [min]
        """
        return self.receive + self.finish

    @property
    def mending(self) -> int:
        """
        Give the minutes of mending, from receiving to packing.

        Returns
        -------
        int
            Minutes. [min]
        """
        return self.handling + self.open_close + self.exchange


@dataclass(frozen=True)
class Decision:
    """
    What is to be done with a device, and what would change that.

    Parameters
    ----------
    code
        What is to be done.
    reason
        Why, in words.
    quote_minor
        What mending costs; 0 for a comeback; ``None`` if it can not be told.
        [minor units]
    limit_minor
        Up to this the device is worth mending; ``None`` if not known. [minor units]
    flips_at_minor
        The quote at which the decision would change; ``None`` if no figure changes it.
        [minor units]
    is_estimate
        The limit rests on a value that is an estimate.
    """

    code: Code
    reason: str
    quote_minor: int | None
    limit_minor: int | None = None
    flips_at_minor: int | None = None
    is_estimate: bool = False


@dataclass(frozen=True)
class Agreed:
    """
    What a device that is begun, or gone, was agreed to cost, whatever parts cost now.

    Parameters
    ----------
    decision
        What was decided.
    charges
        What is charged.
    """

    decision: Decision
    charges: tuple[Charge, ...] = ()


UsesKnownBy = Literal["nothing is opened", "opening path", "terms"]


@dataclass(frozen=True)
class OpeningUses:
    """
    What opening a device uses up.

    Parameters
    ----------
    parts
        Part numbers of the parts list, each as often as it is used.
    known_by
        Whether the opening path says so, or the terms where there is no path.
    notes
        What is used up beside the parts list, or where path and terms differ, in words.
    """

    parts: tuple[str, ...] = ()
    known_by: UsesKnownBy = "nothing is opened"
    notes: tuple[str, ...] = ()

    def __str__(self) -> str:
        """Give it in words; nothing where nothing is opened."""
        if self.known_by == "nothing is opened":
            return ""
        used = ", ".join(self.parts) or "nothing of the parts list"
        notes = "".join(f"; {note}" for note in self.notes)
        return f"used up by opening, by the {self.known_by}: {used}{notes}"


@dataclass(frozen=True)
class DecidedDevice:
    """
    One device of the batch with all that follows from what was found.

    Parameters
    ----------
    line
        The device as received.
    work
        Its minutes.
    parts
        Spare parts it needs, those used up by opening among them.
    decision
        What is to be done.
    charges
        What mending it would be charged.
    skills
        Sign-offs its work needs.
    holds
        What must be observed or settled before work on it.
    past
        What is known of it from earlier jobs, in words.
    past_held
        What of that a hold tells already.
    uses
        What opening it uses up, and how that is known.
    besides
        Faults charged beside a comeback at no charge, by code; none if it is none.
    """

    line: BatchLine
    work: Work
    parts: tuple[str, ...]
    decision: Decision
    charges: tuple[Charge, ...] = ()
    skills: frozenset[str] = frozenset()
    holds: tuple[Hold, ...] = ()
    past: tuple[str, ...] = ()
    past_held: tuple[str, ...] = ()
    uses: OpeningUses = OpeningUses()
    besides: tuple[str, ...] = ()

    @property
    def past_beside(self) -> tuple[str, ...]:
        """
        Give what is known from earlier jobs that no hold tells.

        Returns
        -------
        tuple[str, ...]
            Sentences.
        """
        return tuple(words for words in self.past if words not in self.past_held)

    @property
    def lacks(self) -> tuple[str, ...]:
        """
        Say what nobody sells any more, for closing or at all, before it is opened.

        Returns
        -------
        tuple[str, ...]
            Sentences; none if all can be had.
        """
        kinds = {"closing", "part gone"}
        return tuple(str(hold) for hold in self.holds if hold.kind in kinds)

    @property
    def name(self) -> int:
        """
        Give its number in the batch.

        Returns
        -------
        int
            The number.
        """
        return self.line.line

    @property
    def is_mended(self) -> bool:
        """
        Say whether it goes back working if every answer is yes.

        Returns
        -------
        bool
            True unless it is stripped.
        """
        return self.decision.code != "strip"

    @property
    def job_minutes(self) -> int:
        """
        Give the minutes of its job at the bench, receiving apart.

        Returns
        -------
        int
            Minutes. [min]
        """
        if not self.is_mended:
            return self.work.strip
        return self.work.mending - self.work.receive


def net_sum(charges: Iterable[Charge]) -> int:
    """
    Add up charges before tax.

    Parameters
    ----------
    charges
        The charges.

    Returns
    -------
    int
        The sum. [minor units]
    """
    return sum(charge.net_minor for charge in charges)

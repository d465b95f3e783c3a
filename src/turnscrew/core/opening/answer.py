"""What can the opening engine say, and how far is it proven?"""

from dataclasses import dataclass
from typing import Literal

Status = Literal["optimal", "bounded", "impossible"]
"""Proven cheapest; a plan with a stated gap; proven not to exist."""

MoveKind = Literal["turn", "take", "remove", "turn-round", "refit", "check"]


@dataclass(frozen=True)
class Move:
    """
    One line of a numeric plan.

    Parameters
    ----------
    kind
        What is done.
    name
        Posture turned to, tool taken, action removed or refitted, check made.
    cost
        Cost of this line in the problem's unit.
    mode
        Index of the mode used, for a removal or a refit.
    posture
        Posture of the device after the line.
    tool
        Tool in hand after the line.
    """

    kind: MoveKind
    name: str
    cost: int
    mode: int = 0
    posture: str = ""
    tool: str = ""

    def __str__(self) -> str:
        """Give the line in words, as in ``take driver`` or ``-- turn-round --``."""
        if self.kind == "turn-round":
            return "-- turn-round --"
        return (
            f"turn to {self.name}"
            if self.kind == "turn"
            else f"{self.kind} {self.name}"
        )


@dataclass(frozen=True)
class NumericAnswer:
    """
    The answer to a numeric problem.

    Parameters
    ----------
    status
        How far the answer is proven.
    cost
        Cost of the plan, in the problem's unit; ``None`` if impossible.
    bound
        Proven lower bound on any plan's cost; ``None`` if impossible.
    plan
        The moves in order; empty if impossible.
    stuck
        Actions that can never be removed and bar the way, if impossible.
    reason
        Why it is impossible, in words; empty otherwise.
    """

    status: Status
    cost: int | None
    bound: int | None
    plan: tuple[Move, ...]
    stuck: tuple[str, ...] = ()
    reason: str = ""

    @property
    def gap(self) -> float:
        """Share of the cost that is not proven. [1]."""
        if not self.cost or self.bound is None:
            return 0.0
        return (self.cost - self.bound) / self.cost

"""What can the opening engine say, and how far is it proven?"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.model.times import Who

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


Verb = Literal[
    "turn", "take", "undo", "lift", "aside", "take out", "bring back", "lay in", "make",
    "test", "look", "put back",
]  # fmt: skip
"""What the hands do: the first six on the way in, the rest on the way back."""


@dataclass(frozen=True, kw_only=True)
class Action:
    """
    One line of the opening path or the refit list, in the words of the bench.

    Parameters
    ----------
    number
        Place in its list, counted from 1. [1]
    verb
        What the hands do.
    name
        The joint, part, posture, tool, test or place to look at.
    kind
        Kind of joint (``screw``, ``clip``, ...), else ``part``, ``posture``,
        ``tool``, ``test`` or ``look``.
    says
        The working line: one sentence.
    letter
        Item letter on the drawing and of the compartment; empty if none.
    n
        Pieces. [1]
    view
        Face on which it is seen; empty if not recorded.
    posture
        Posture of the device.
    tool
        Tool that does it, ``hand`` for none needed.
    seconds
        Estimate of this line alone. [s]
    cautions
        Dangers at this action, each a sentence.
    why
        Why it is done: what it frees, or what wants it.
    details
        Where to hold, direction, noise, seat, orientation, renewal: one sentence each.
    sign_off
        Who may do it; empty for anybody.
    stop
        Safe-stop words for the moment just before this line; empty if not one.
    renew
        What is renewed here, in words; empty if nothing.
    off
        What is off after this line. [1]
    """

    number: int
    verb: Verb
    name: str
    kind: str
    says: str
    letter: str = ""
    n: int = 1
    view: str = ""
    posture: str = ""
    tool: str = ""
    seconds: float = 0.0
    cautions: tuple[str, ...] = ()
    why: str = ""
    details: tuple[str, ...] = ()
    sign_off: str = ""
    stop: str = ""
    renew: str = ""
    off: int = 0


@dataclass(frozen=True)
class Gate:
    """
    One question that must be answered before the device is closed further.

    Parameters
    ----------
    name
        The test, or the place to look at.
    says
        What to do and what is right.
    before
        Joints or parts that go back only afterwards.
    seconds
        Estimate. [s]
    supports
        Supports and leads it needs.
    power
        Whether and how long the device may run as it lies then, in words.
    """

    name: str
    says: str
    before: tuple[str, ...]
    seconds: float
    supports: tuple[str, ...] = ()
    power: str = ""


@dataclass(frozen=True)
class UsedUp:
    """
    One thing that opening uses up.

    Parameters
    ----------
    spare
        Number or name of the spare.
    n
        How much.
    unit
        Unit of ``n``.
    joint
        The joint it belongs to.
    why
        Why it is used up.
    """

    spare: str
    n: float
    unit: str
    joint: str
    why: str

    @property
    def amount(self) -> str:
        """How much with its unit, such as ``2 pieces`` or ``0.1 ml``."""
        is_many = self.n != 1 and self.unit in ("piece", "set")
        return f"{self.n:g} {self.unit}{'s' * is_many}"


@dataclass(frozen=True, kw_only=True)
class OpeningAnswer:
    """
    The opening path and the refit list of one device for the parts wanted.

    Parameters
    ----------
    device
        Name of the family.
    revision
        Revision reckoned with; empty if there is only one.
    reach
        Parts or joints wanted.
    status
        How far it is proven.
    cost_s
        Time of the round trip with its expected losses; ``None`` if impossible. [s]
    bound_s
        Proven lower bound of it; ``None`` if impossible. [s]
    hands_on_s
        Hands-on time alone. [s]
    band_s
        Band in which four of five like jobs fall. [s]
    opening
        The opening path.
    refit
        The refit list.
    gates
        The close gate.
    used_up
        What opening uses up.
    untouched
        Joints that stay as they are.
    confusable
        Sentences naming fasteners of this opening that are easily mistaken.
    reason
        Why it is impossible, in words.
    stuck
        What bars the way, if impossible.
    before_opening
        What is taken out or seen to before anything is undone.
    settings
        Settings to see to after refit.
    final_tests
        Tests after closing that this opening makes necessary.
    about
        How the device and its revision are told, and how sure the facts are.
    signals
        What lamps and sounds mean, where no line of the refit list says it.
    photos
        Photos to compare with, and what gives their scale.
    pace
        Whose times were taken: ``typical``, ``first`` or ``practised``.
    saved_s
        Hands-on time that one opening saves against one for each part wanted;
        ``None`` if only one is wanted. [s]
    apart
        Openings one after another, where the parts wanted cannot be off together;
        empty unless that is why there is no path.
    """

    device: str
    revision: str
    reach: tuple[str, ...]
    status: Status
    cost_s: float | None
    bound_s: float | None
    hands_on_s: float = 0.0
    band_s: tuple[float, float] = (0.0, 0.0)
    opening: tuple[Action, ...] = ()
    refit: tuple[Action, ...] = ()
    gates: tuple[Gate, ...] = ()
    used_up: tuple[UsedUp, ...] = ()
    untouched: tuple[str, ...] = ()
    confusable: tuple[str, ...] = ()
    reason: str = ""
    stuck: tuple[str, ...] = ()
    before_opening: tuple[str, ...] = ()
    settings: tuple[str, ...] = ()
    final_tests: tuple[str, ...] = ()
    about: tuple[str, ...] = ()
    signals: tuple[str, ...] = ()
    photos: tuple[str, ...] = ()
    pace: Who = "typical"
    saved_s: float | None = None
    apart: tuple[tuple[str, ...], ...] = ()

    @property
    def is_opened(self) -> bool:
        """Say whether anything comes off or back; a turn alone opens nothing."""
        told = (*self.opening, *self.refit)
        return any(one.verb not in {"turn", "look", "take"} for one in told)

    @property
    def time_words(self) -> str:
        """Say how long it takes, at whose pace, and within which band."""
        low_s, high_s = self.band_s
        whose = {
            "typical": "",
            "first": ", a first time where it is known",
            "practised": ", practised where it is known",
        }
        return (
            f"hands on {self.hands_on_s / 60:.1f} min{whose[self.pace]}; "
            f"four of five such jobs take {low_s / 60:.0f} to {high_s / 60:.0f} min"
        )

    @property
    def saved_words(self) -> str:
        """Say what one opening saves; nothing if there is nothing to compare."""
        if self.saved_s is None:
            return ""
        return (
            f"one opening for {len(set(self.reach))} saves "
            f"{self.saved_s / 60:.1f} min hands on against one for each"
        )

    @property
    def proof_words(self) -> str:
        """Say how far it is proven."""
        if self.status == "optimal":
            return "proved cheapest, way in and way back together"
        if self.cost_s is None or self.bound_s is None:
            return f"impossible: {self.reason}"
        gap = 100 * (self.cost_s - self.bound_s) / self.cost_s
        return f"not proved cheapest: the best saves {gap:.1f} % at most"

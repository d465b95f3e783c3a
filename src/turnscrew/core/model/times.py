"""
How many seconds does one action take, if nobody has timed it yet?

Element times come from a published service worksheet (in a handbook of design for six
sigma, 104.3 s in nine rows) and a published manual-assembly worksheet (a screw put and
secured in 1.8 + 8.0 s). What neither of them has is marked as common practice. They are
starting values with a wide band: a workshop's own medians replace them as soon as there
are five jobs behind them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from turnscrew.core.model.connection import Plug
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.holding import Bond, Thermal
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.quantities import Checked, Count, Seconds, TimeS
from turnscrew.core.model.refit import ToolUse

BAND = (0.49, 1.76)
"""
Tenth and ninetieth percentile of hand work, as shares of the median.

Recomputed from the open raw data of a published study of 60 orders taken apart; toy
cars and learners, so the spread is used and the minutes are not. [1]
"""

AWKWARD = 11.3 / 8.0
"""Operation time of a screw that is hard to reach, against one that is not. [1]"""

REFIT_PER_STRIP = 1.255
"""Rebuild against strip-down, from one published pair of totals. [1]"""

N_JOBS_MIN = 5
"""Jobs behind an own median before it replaces a default. [1]"""

PRACTICE = "common practice, no published value"
WORKSHEET = "published service worksheet"

Who = Literal["typical", "first", "practised"]


@dataclass(frozen=True)
class ElementTime(Checked):
    """
    The time of one element of work.

    Parameters
    ----------
    strip_s
        Undoing one piece. [s]
    refit_s
        Putting one piece back. [s]
    source
        Where the figures come from.
    n_jobs
        Jobs behind an own median; ``None`` if it is a stated figure. [1]
    """

    strip_s: TimeS
    refit_s: TimeS
    source: str = "own"
    n_jobs: Count | None = None


ELEMENTS: Mapping[str, ElementTime] = {
    "tool": ElementTime(4.2, 4.2, WORKSHEET),
    "turn": ElementTime(4.5, 4.5, WORKSHEET),
    "lift": ElementTime(2.4 + 1.4, 1.4 + 3.8, WORKSHEET),
    "aside": ElementTime(2.4 + 1.4, 1.4 + 3.8, "as lift"),
    "screw": ElementTime(8.0 + 1.4, 1.8 + 8.0, WORKSHEET),
    "awkward screw": ElementTime(11.3 + 1.4, 13.2, WORKSHEET),
    "captive screw": ElementTime(8.0, 8.0, WORKSHEET),
    "nut": ElementTime(8.0 + 1.4, 1.8 + 8.0, "as screw"),
    "clip": ElementTime(3.6, 2.2, WORKSHEET),
    "plug": ElementTime(6.4, 8.0, WORKSHEET),
    "socket": ElementTime(3.6 + 2.4, 2.2 + 3.8, PRACTICE),
    "micro coaxial plug": ElementTime(3.6, 6.0, PRACTICE),
    "slide": ElementTime(3.6, 3.6, PRACTICE),
    "hook": ElementTime(2.4, 3.8, PRACTICE),
    "latch": ElementTime(3.6, 2.2, "as clip"),
    "pin": ElementTime(9.4, 9.8, "as screw"),
    "magnet": ElementTime(2.4, 2.4, PRACTICE),
    "press": ElementTime(8.0, 8.0, PRACTICE),
    "bond": ElementTime(90.0, 120.0, PRACTICE),
    "tape": ElementTime(6.0, 8.0, PRACTICE),
    "fusion": ElementTime(30.0, 60.0, PRACTICE),
    "seal": ElementTime(6.0, 20.0, PRACTICE),
    "thermal": ElementTime(10.0, 25.0, PRACTICE),
    "paste": ElementTime(30.0, 45.0, PRACTICE),
    "contact": ElementTime(2.4, 5.0, PRACTICE),
    "cover": ElementTime(6.0, 8.0, PRACTICE),
    "lead": ElementTime(20.0, 40.0, PRACTICE),
    "unknown": ElementTime(8.0 + 1.4, 1.8 + 8.0, "as screw"),
}
"""Default times by element. [s]"""


def element_of(joint: Joint) -> str:
    """
    Name the element of work a joint asks for.

    Parameters
    ----------
    joint
        The joint.

    Returns
    -------
    str
        A key of ``ELEMENTS``.
    """
    match joint.how:
        case Screw(stays_in=True) | Nut(captive=True):
            return "captive screw"
        case Screw():
            return "awkward screw" if joint.awkward else "screw"
        case Plug(kind="micro coaxial"):
            return "micro coaxial plug"
        case Bond(kind="tape"):
            return "tape"
        case Thermal(kind="paste"):
            return "paste"
    return joint.kind


def element_time(element: str, own: Mapping[str, ElementTime]) -> ElementTime:
    """
    Give the time of an element: the own median if enough jobs stand behind it.

    Parameters
    ----------
    element
        Name of the element.
    own
        Own medians by element.

    Returns
    -------
    ElementTime
        The own time, or the default.
    """
    mine = own.get(element)
    if mine is not None and (mine.n_jobs is None or mine.n_jobs >= N_JOBS_MIN):
        return mine
    return ELEMENTS[element]


def joint_strip_s(
    joint: Joint,
    own: Mapping[str, ElementTime],
    tool: ToolUse | None = None,
    who: Who = "typical",
) -> float:
    """
    Give the time to undo a joint, all its pieces, heat and wait included.

    Picking up the tool and turning the device are not in it.

    Parameters
    ----------
    joint
        The joint.
    own
        Own medians by element.
    tool
        The tool used, if it has a time of its own.
    who
        Whose time.

    Returns
    -------
    float
        The time. [s]
    """
    soften_s = joint.soften.heat_s + joint.soften.wait_s if joint.soften else 0.0
    stated_s = _stated_s(joint.seconds, tool.strip_s if tool else None, who)
    if stated_s is not None:
        return stated_s + soften_s + joint.power.wait_s
    each_s = element_time(element_of(joint), own).strip_s * _awkwardness(joint)
    return joint.n_pieces * each_s + soften_s + joint.power.wait_s


def joint_refit_s(
    joint: Joint,
    own: Mapping[str, ElementTime],
    tool: ToolUse | None = None,
    who: Who = "typical",
) -> float:
    """
    Give the time to make a joint again, all its pieces, cure included.

    Parameters
    ----------
    joint
        The joint.
    own
        Own medians by element.
    tool
        The tool used, if it has a time of its own.
    who
        Whose time.

    Returns
    -------
    float
        The time. [s]
    """
    stated_s = _stated_s(joint.refit.seconds, tool.refit_s if tool else None, who)
    if stated_s is not None:
        return stated_s + joint.cure_s
    if joint.seconds is not None:
        # Only the way out was timed; one published pair of totals gives the way back.
        strip_s = _stated_s(joint.seconds, None, who)
        assert strip_s is not None
        return REFIT_PER_STRIP * strip_s + joint.cure_s
    each_s = element_time(element_of(joint), own).refit_s * _awkwardness(joint)
    return joint.n_pieces * each_s + joint.cure_s


def lift_strip_s(
    doing: Doing,
    own: Mapping[str, ElementTime],
    element: Literal["lift", "aside"] = "lift",
    who: Who = "typical",
) -> float:
    """
    Give the time to lift a part off, or to move it aside.

    Parameters
    ----------
    doing
        The part or the move.
    own
        Own medians by element.
    element
        Which of the two it is.
    who
        Whose time.

    Returns
    -------
    float
        The time. [s]
    """
    stated_s = _stated_s(doing.seconds, None, who)
    if stated_s is not None:
        return stated_s
    return element_time(element, own).strip_s * (AWKWARD if doing.awkward else 1.0)


def lift_refit_s(
    doing: Doing,
    own: Mapping[str, ElementTime],
    element: Literal["lift", "aside"] = "lift",
    who: Who = "typical",
) -> float:
    """
    Give the time to lay a part in again, or to bring it back from aside.

    Parameters
    ----------
    doing
        The part or the move.
    own
        Own medians by element.
    element
        Which of the two it is.
    who
        Whose time.

    Returns
    -------
    float
        The time. [s]
    """
    stated_s = _stated_s(doing.refit.seconds, None, who)
    if stated_s is not None:
        return stated_s
    if doing.seconds is not None:
        return REFIT_PER_STRIP * lift_strip_s(doing, own, element, who)
    return element_time(element, own).refit_s * (AWKWARD if doing.awkward else 1.0)


def band_s(seconds: float) -> tuple[float, float]:
    """
    Give the band within which four of five like jobs fall.

    Parameters
    ----------
    seconds
        The estimate. [s]

    Returns
    -------
    tuple
        Tenth and ninetieth percentile. [s]
    """
    return (BAND[0] * seconds, BAND[1] * seconds)


def _awkwardness(joint: Joint) -> float:
    """Screws have their own element for it; the rest takes the screw's ratio."""
    if not joint.awkward or element_of(joint) == "awkward screw":
        return 1.0
    return AWKWARD


def _stated_s(seconds: Seconds | None, tool_s: float | None, who: Who) -> float | None:
    if tool_s is not None:
        return tool_s
    if seconds is None:
        return None
    first_s, practised_s = seconds.first_s, seconds.practised_s
    if who == "first" and first_s is not None:
        return first_s
    if who == "practised" and practised_s is not None:
        return practised_s
    return seconds.typical_s

"""
When must a fuse hold, and when must it have opened?

Duties of the two families read in a maker's guide on UL 248-14 and in an article on
IEC 60127; the window of slow chip fuses on a data page for 0603 and 1206.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.model.quantities import BadFieldError, Bounds, refuse_outside

_HOUR_S = 3600.0
_MULTIPLE = Bounds(0.1, 100, "times the rating")
_TIME_S = Bounds(0, 1e6, "s")

SLOW_WINDOW_S = {
    100: (4 * _HOUR_S, float("inf")),
    200: (1.0, 120.0),
    300: (0.1, 3.0),
}
"""Slow chip fuse: percent of rating against shortest and longest time to open. [s]"""


@dataclass(frozen=True, slots=True)
class Duties:
    """
    What the two families ask at the same multiple of the rating.

    Parameters
    ----------
    ul
        UL 248-14.
    iec
        IEC 60127, 5 x 20 mm quick.
    note
        Where pages differ, or what else is asked.
    """

    ul: str
    iec: str
    note: str = ""


def duties_at(multiple: float) -> Duties:
    """
    Say what UL 248-14 and IEC 60127 ask of a fuse at a multiple of its rating.

    Rule: UL holds 4 h at 1.0 and opens within 1 h from 1.35 on; IEC holds 1 h up to
    1.5 and opens within 30 min from 2.1 on.

    Parameters
    ----------
    multiple
        Current as a multiple of the rating. [1]

    Returns
    -------
    Duties
        What each family asks.

    Raises
    ------
    BadFieldError
        If the multiple is outside 0.1 to 100.

    References
    ----------
    A maker's guide on UL 248-14 (another page gives 1.1 for the hold point); an article
    on IEC 60127.
    """
    refuse_outside("multiple", multiple, _MULTIPLE)
    return Duties(_ul(multiple), _iec(multiple), _note(multiple))


def slow_chip_state(
    percent: int, time_s: float
) -> Literal["must hold", "may open", "must be open"]:
    """
    Say what a slow chip fuse does after so long at an overload.

    Rule: 100 % holds 4 h; 200 % opens in 1 to 120 s; 300 % opens in 0.1 to 3 s.

    Parameters
    ----------
    percent
        Current as a percentage of the rating: 100, 200 or 300.
    time_s
        Time since it began. [s]

    Returns
    -------
    str
        Must hold, may open, or must be open.

    Raises
    ------
    BadFieldError
        If the table has no such percentage, or the time is outside its range.

    References
    ----------
    Data page of 0603 and 1206 slow chip fuses; others have other windows.
    """
    if percent not in SLOW_WINDOW_S:
        raise BadFieldError("percent", percent, "100, 200 or 300")
    refuse_outside("time_s", time_s, _TIME_S)
    shortest_s, longest_s = SLOW_WINDOW_S[percent]
    if time_s < shortest_s:
        return "must hold"
    return "may open" if time_s <= longest_s else "must be open"


def _ul(multiple: float) -> str:
    if multiple <= 1.0:
        return "holds 4 h"
    return "must open within 1 h" if multiple >= 1.35 else "no figure"


def _iec(multiple: float) -> str:
    if multiple <= 1.5:
        return "must hold 1 h"
    return "must open within 30 min" if multiple >= 2.1 else "no figure"


def _note(multiple: float) -> str:
    notes = []
    if multiple >= 2.0:
        notes.append("UL at 2.0: within 2 min, another page says 5 s for fast ones")
    if 1.25 <= multiple < 2.0:
        notes.append("IEC 60127-4 chip fuses hold 1 h at 1.25 only (from memory)")
    elif multiple >= 2.0:
        notes.append("IEC 60127-4 chip fuses open within 2 min at 2.0 (from memory)")
    for times, words in ((10, "0.02 s"), (4, "0.3 s"), (2.75, "2 s")):
        if multiple >= times:
            notes.append(f"IEC at {times:g}: within {words}")
            break
    return "; ".join(notes)

"""
What is counted in the time until an item works again?

Terms of IEC 60050-192, read in the vocabulary itself; that repair time leaves the
technical delay out is read from the layout of its figure 2. Turnaround is no term
there: it is hand-in to hand-back, every delay included (ours).
"""

from dataclasses import dataclass
from typing import Annotated

from turnscrew.core.handbook.ranges import TIME_S
from turnscrew.core.model.quantities import (
    BadFieldError,
    Bounds,
    Checked,
    refuse_outside,
)

_Time = Annotated[float, Bounds(0, 1e7, "of one unit")]


@dataclass(frozen=True, kw_only=True)
class Stretches(Checked):
    """
    The stretches of one restoration, all in the same unit.

    Parameters
    ----------
    detection
        Until the fault is noticed.
    administrative
        Waiting for a yes.
    logistic
        Waiting for parts, tools or people.
    technical
        Getting ready and gaining access.
    localization
        Finding the faulty item.
    correction
        Putting it right.
    checkout
        Proving that it works.
    """

    detection: _Time = 0.0
    administrative: _Time = 0.0
    logistic: _Time = 0.0
    technical: _Time = 0.0
    localization: _Time = 0.0
    correction: _Time = 0.0
    checkout: _Time = 0.0


@dataclass(frozen=True, slots=True)
class Restoration:
    """
    The times of one restoration, in the unit of its stretches.

    Parameters
    ----------
    repair
        Repair time.
    active
        Active corrective maintenance time.
    corrective
        Corrective maintenance time.
    restoration
        Time to restoration.
    """

    repair: float
    active: float
    corrective: float
    restoration: float


def restoration_of(stretches: Stretches) -> Restoration:
    """
    Say how long repair, maintenance and restoration took.

    Equations: repair = localization + correction + checkout; active = technical +
    repair; corrective = logistic + active; restoration = detection + administrative +
    corrective.

    Parameters
    ----------
    stretches
        The stretches.

    Returns
    -------
    Restoration
        The four times.

    References
    ----------
    IEC 60050-192, figures 1 and 2.
    """
    repair = stretches.localization + stretches.correction + stretches.checkout
    active = stretches.technical + repair
    corrective = stretches.logistic + active
    waiting = stretches.detection + stretches.administrative
    return Restoration(repair, active, corrective, waiting + corrective)


def availability(operating_s: float, restoring_s: float) -> float:
    """
    Say for which share of the time an item was fit to work.

    Equation: A = OT / (OT + TTR).

    Parameters
    ----------
    operating_s
        Operating time OT. [s]
    restoring_s
        Time to restoration TTR. [s]

    Returns
    -------
    float
        Availability. [1]

    Raises
    ------
    BadFieldError
        If a time is outside its range, or both are zero.

    References
    ----------
    EN 13306, read in a note of a maintenance society.
    """
    refuse_outside("operating_s", operating_s, TIME_S)
    refuse_outside("restoring_s", restoring_s, TIME_S)
    if operating_s + restoring_s == 0:
        raise BadFieldError("operating_s", operating_s, "more than 0 s in all")
    return operating_s / (operating_s + restoring_s)

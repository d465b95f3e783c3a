"""
How long does a row of work take, what does it cost, and how does a design compare?

The service worksheet of a handbook of design for six sigma, and a published worksheet
of manual assembly. Element times themselves stand in ``core/model/times.py``, and so
does the band around an estimate.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from turnscrew.core.handbook.ranges import PRESENT_S, TIME_S, N
from turnscrew.core.model.quantities import (
    Bounds,
    Checked,
    Count,
    TimeS,
    refuse_outside,
)
from turnscrew.core.model.times import REFIT_PER_STRIP

IDEAL_ASSEMBLY_S = 3.0
"""Time of one ideal part in the manual-assembly worksheet. [s]"""

TMU_PER_H = 100_000


@dataclass(frozen=True)
class WorkRow(Checked):
    """
    One row of the service worksheet.

    Parameters
    ----------
    what
        What is done.
    n
        Pieces. [1]
    tool_s
        Picking up the tool, once. [s]
    operation_s
        Undoing one piece. [s]
    aside_s
        Setting one piece aside. [s]
    """

    what: str
    n: Annotated[Count, Bounds(1, 500, "1")]
    tool_s: TimeS
    operation_s: TimeS
    aside_s: TimeS = 0.0


def row_s(row: WorkRow) -> float:
    """
    Say how long one row of work takes.

    Equation: t = tool + n (operation + set-aside).

    Parameters
    ----------
    row
        The row.

    Returns
    -------
    float
        Time. [s]

    References
    ----------
    Service worksheet in a handbook of design for six sigma, table 10.5.
    """
    return row.tool_s + row.n * (row.operation_s + row.aside_s)


def strip_s(rows: Iterable[WorkRow]) -> float:
    """
    Say how long all rows take together.

    Equation: Td = sum of t.

    Parameters
    ----------
    rows
        The rows.

    Returns
    -------
    float
        Time. [s]

    References
    ----------
    Service worksheet in a handbook of design for six sigma, table 10.5.
    """
    return sum(row_s(row) for row in rows)


def service_s(strip_s: float, refit_s: float | None = None) -> float:
    """
    Say how long strip-down and rebuild take together.

    Equation: Ts = Td + Tr; Tr = 1.255 Td if only the way out was timed.

    Parameters
    ----------
    strip_s
        Strip-down Td. [s]
    refit_s
        Rebuild Tr; ``None`` takes the ratio of one published pair. [s]

    Returns
    -------
    float
        Time. [s]

    Raises
    ------
    BadFieldError
        If a time is outside its range.

    References
    ----------
    Handbook of design for six sigma, eq. 10.5; the ratio from its one pair of totals.
    """
    refuse_outside("strip_s", strip_s, TIME_S)
    if refit_s is None:
        return strip_s + REFIT_PER_STRIP * strip_s
    refuse_outside("refit_s", refit_s, TIME_S)
    return strip_s + refit_s


def refit_ratio(strip_s: float, refit_s: float) -> float:
    """
    Say how much longer the rebuild took than the strip-down.

    Equation: ratio = Tr / Td.

    Parameters
    ----------
    strip_s
        Strip-down Td. [s]
    refit_s
        Rebuild Tr. [s]

    Returns
    -------
    float
        Ratio. [1]

    Raises
    ------
    BadFieldError
        If a time is outside its range.

    References
    ----------
    Handbook of design for six sigma, one published pair.
    """
    refuse_outside("strip_s", strip_s, PRESENT_S)
    refuse_outside("refit_s", refit_s, TIME_S)
    return refit_s / strip_s


def labour_minor(time_s: float, rate_minor_per_h: int) -> Fraction:
    """
    Say what a time costs, exactly and before rounding.

    Equation: cost = t L / 3600, with t to the nearest millisecond.

    Parameters
    ----------
    time_s
        Time t. [s]
    rate_minor_per_h
        Hourly rate L. [minor units/h]

    Returns
    -------
    Fraction
        Cost. [minor units]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Handbook of design for six sigma, table 10.5.
    """
    refuse_outside("time_s", time_s, TIME_S)
    refuse_outside("rate_minor_per_h", rate_minor_per_h, Bounds(0, 10_000_000, "1"))
    return Fraction(round(1000 * time_s) * rate_minor_per_h, 3_600_000)


def service_efficiency(ideal_s: float, n_parts: int, service_s: float) -> float:
    """
    Say how close a design comes to the shortest thinkable service.

    Equation: efficiency = tmin Nm / Ts.

    Parameters
    ----------
    ideal_s
        Shortest time tmin for one part. [s]
    n_parts
        Parts Nm to be renewed. [1]
    service_s
        Service time Ts. [s]

    Returns
    -------
    float
        Efficiency. [1]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Handbook of design for six sigma, eq. 10.4 to 10.6; the text prints 3 T1 and 4 s
    where only 2 T1 and 1.4 s give its ideal of 9 s.
    """
    refuse_outside("ideal_s", ideal_s, TIME_S)
    refuse_outside("n_parts", n_parts, N)
    refuse_outside("service_s", service_s, PRESENT_S)
    return ideal_s * n_parts / service_s


def assembly_index(total_s: float, n_parts: int) -> float:
    """
    Say how close a design comes to the shortest thinkable assembly.

    Equation: E = 3 s x NM / TM.

    Parameters
    ----------
    total_s
        Assembly time TM. [s]
    n_parts
        Fewest parts NM the product could do with. [1]

    Returns
    -------
    float
        Index. [1]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Manual-assembly worksheet in a journal, tables T3 and T4; its row 4 adds 1.95 and
    5.5 as 5.45.
    """
    refuse_outside("total_s", total_s, PRESENT_S)
    refuse_outside("n_parts", n_parts, N)
    return IDEAL_ASSEMBLY_S * n_parts / total_s


def tmu_s(n_tmu: float) -> float:
    """
    Say how long so many time measurement units are.

    Equation: t = 3600 s n / 100 000.

    Parameters
    ----------
    n_tmu
        Units. [TMU]

    Returns
    -------
    float
        Time. [s]

    Raises
    ------
    BadFieldError
        If the count is below zero or beyond 1e9.

    References
    ----------
    Operation-sequence technique, read on an encyclopaedia page.
    """
    refuse_outside("n_tmu", n_tmu, Bounds(0, 1e9, "TMU"))
    return 3600 * n_tmu / TMU_PER_H

"""
Which head and recess has a standard pan-head screw, and which tip fits?

The tables up to M3 are those of the model, where descriptions are checked against them.
A screw may have a head of its maker's own.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from turnscrew.core.model.fastener import PAN_HEAD_MM, PAN_HEXALOBULAR
from turnscrew.core.model.quantities import BadFieldError

PAN_HEADS_MM: Mapping[float, tuple[float, float, int]] = {
    **PAN_HEAD_MM, 4.0: (8.0, 3.1, 2), 5.0: (9.5, 3.7, 2)
}  # fmt: skip
"""Largest head diameter and height [mm], cross recess number [1], after ISO 7045."""

SOCKET_MM = {3: 1.20, 4: 1.35, 5: 1.50, 6: 1.75, 8: 2.40, 10: 2.80}
"""Point to point across a hexalobular socket, by size. [mm]"""

TIP_MM = {3: 1.10, 4: 1.28, 5: 1.42, 6: 1.70, 8: 2.31, 10: 2.74}
"""Point to point across the tip of its driver, by size. [mm]"""


@dataclass(frozen=True, slots=True)
class PanHead:
    """
    Head of a standard pan-head screw.

    Parameters
    ----------
    head_mm
        Largest diameter. [mm]
    height_mm
        Largest height. [mm]
    recess
        Cross recess number. [1]
    """

    head_mm: float
    height_mm: float
    recess: int


@dataclass(frozen=True, slots=True)
class Hexalobular:
    """
    Hexalobular socket of a standard pan-head screw.

    Parameters
    ----------
    size
        Size number. [1]
    socket_mm
        Point to point across the socket. [mm]
    tip_mm
        Point to point across the tip of the driver. [mm]
    """

    size: int
    socket_mm: float
    tip_mm: float


def pan_head(d_mm: float) -> PanHead:
    """
    Say how large a pan head is and which cross recess it has.

    Rule: table of ISO 7045.

    Parameters
    ----------
    d_mm
        Nominal diameter. [mm]

    Returns
    -------
    PanHead
        Head and recess.

    Raises
    ------
    BadFieldError
        If the table has no such diameter.

    References
    ----------
    ISO 7045, read on a dimension page.
    """
    if d_mm not in PAN_HEADS_MM:
        raise BadFieldError("d_mm", d_mm, _one_of(PAN_HEADS_MM))
    return PanHead(*PAN_HEADS_MM[d_mm])


def hexalobular(d_mm: float) -> Hexalobular:
    """
    Say which hexalobular socket a pan head has.

    Rule: table of ISO 14581; socket and tip of one size are not the same figure.

    Parameters
    ----------
    d_mm
        Nominal diameter. [mm]

    Returns
    -------
    Hexalobular
        Size, socket and tip.

    Raises
    ------
    BadFieldError
        If the table has no such diameter.

    References
    ----------
    ISO 14581 and socket sizes, read in tables of parametric part libraries.
    """
    if d_mm not in PAN_HEXALOBULAR:
        raise BadFieldError("d_mm", d_mm, _one_of(PAN_HEXALOBULAR))
    size = PAN_HEXALOBULAR[d_mm]
    return Hexalobular(size, SOCKET_MM[size], TIP_MM[size])


def _one_of(table: Mapping[float, object]) -> str:
    return "one of " + ", ".join(f"{d_mm:g}" for d_mm in table) + " mm"

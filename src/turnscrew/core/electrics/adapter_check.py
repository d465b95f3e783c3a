"""
May this adapter go back as fit, after a look and one reading under load?

It is a look and a reading, no test to a standard: EN 50678 excludes equipment of
information technology and its supplies by its own scope. Limits of the output are
common practice, without a source, unless somebody says others.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.electrics.adapter import (
    ROUNDED_W,
    VOLTS_TOLERANCE,
    Rating,
    fit_of,
)
from turnscrew.core.model.quantities import BadFieldError

Standing = Literal["fit", "not fit", "not looked at"]

BELONGS = ("yes", "no", "not known")
"""Whether an adapter belongs to the device it came with."""

LEAST_LOAD = 0.1
"""Share of the rated amps below which a reading is none under load; common practice,
no source. [1]"""

WIDEST = 0.1
"""Limits of the output lie within this share of the rated volts, whoever says others;
common practice, no source. [1]"""


@dataclass(frozen=True, kw_only=True, slots=True)
class AdapterSeen:
    """
    What was seen and read of one adapter.

    Parameters
    ----------
    belongs
        Whether it belongs to its device: one of ``BELONGS``.
    is_label_read
        Its rating can be read.
    rated_v
        Volts printed on it; ``None`` if they cannot be read. [V]
    rated_a
        Amps printed on it; ``None`` if watts are printed in their place. [A]
    rated_w
        Watts printed on it; ``None`` if amps are printed in their place. [W]
    device_v
        Volts the device's label asks for; ``None`` if nobody read it. [V]
    device_a
        Amps the device's label asks for; ``None`` if nobody read it. [A]
    is_cable_whole
        Case, pins and cable are whole.
    output_v
        Output under load; ``None`` if it was not measured. [V]
    load_a
        The load; ``None`` or 0 if there was none. [A]
    low_v
        Least output that is right; ``None`` if no limit is known. [V]
    high_v
        Greatest output that is right; ``None`` if no limit is known. [V]
    """

    belongs: str
    is_label_read: bool
    is_cable_whole: bool
    rated_v: float | None = None
    rated_a: float | None = None
    rated_w: float | None = None
    device_v: float | None = None
    device_a: float | None = None
    output_v: float | None = None
    load_a: float | None = None
    low_v: float | None = None
    high_v: float | None = None


def output_limits_v(rated_v: float) -> tuple[float, float]:
    """
    Give the output that counts as right where nobody said other limits.

    Parameters
    ----------
    rated_v
        Volts printed on the adapter. [V]

    Returns
    -------
    tuple[float, float]
        Least and greatest. [V]

    References
    ----------
    Common practice, no source: 5 % either way.
    """
    return rated_v * (1 - VOLTS_TOLERANCE), rated_v * (1 + VOLTS_TOLERANCE)


def reasons_against(seen: AdapterSeen) -> tuple[str, ...]:
    """
    Say what keeps an adapter from going back as fit.

    Parameters
    ----------
    seen
        What was seen and read.

    Returns
    -------
    tuple[str, ...]
        One sentence for each objection; empty if it may go back as fit.
    """
    told = []
    if seen.belongs != "yes":
        told.append(f"that it belongs to its device: {seen.belongs}")
    told += _rating_against(seen)
    if not seen.is_cable_whole:
        told.append("case, pins or cable are not whole")
    told += _output_against(seen)
    return tuple(told)


def standing_of(seen: AdapterSeen | None) -> Standing:
    """
    Say how an adapter stands.

    Parameters
    ----------
    seen
        What was seen and read; ``None`` if nobody looked.

    Returns
    -------
    Standing
        Fit, not fit, or not looked at.
    """
    if seen is None:
        return "not looked at"
    return "not fit" if reasons_against(seen) else "fit"


def _rating_against(seen: AdapterSeen) -> list[str]:
    if not seen.is_label_read or not seen.rated_v:
        return ["its rating cannot be read"]
    if not seen.device_v or not seen.device_a:
        return ["that its rating fits is not tested: the device's label was not read"]
    rated_a = _rated_a(seen)
    if rated_a is None:
        return ["neither amps nor watts are on its label"]
    try:
        has = Rating(seen.rated_v, rated_a, printed_w=seen.rated_w or None)
        wants = Rating(seen.device_v, seen.device_a)
        if fit_of(has, wants).verdict != "does not fit":
            return []
    except BadFieldError as error:
        return [f"a figure on a label cannot be right: {error}"]
    return [
        f"its rating does not fit: {seen.rated_v:g} V {rated_a:.3g} A for "
        f"{seen.device_v:g} V {seen.device_a:g} A"
    ]


def _rated_a(seen: AdapterSeen) -> float | None:
    """Give the amps on the label, printed or reckoned from its watts [A]."""
    if seen.rated_a or not (seen.rated_w and seen.rated_v):
        return seen.rated_a or None
    # Watts as printed are rounded; so are the amps reckoned from them.
    return (seen.rated_w + ROUNDED_W) / seen.rated_v


def _output_against(seen: AdapterSeen) -> list[str]:
    if seen.output_v is None or seen.load_a is None or seen.load_a <= 0:
        return ["its output under load was not measured"]
    rated_a = _rated_a(seen)
    if rated_a is not None and seen.load_a < LEAST_LOAD * rated_a:
        return [
            f"its output was read at {seen.load_a:g} A, wanted "
            f"{LEAST_LOAD * rated_a:.2g} A or more"
        ]
    if seen.low_v is None or seen.high_v is None:
        return ["no limits of its output are known"]
    if seen.low_v <= seen.output_v <= seen.high_v:
        return []
    return [
        f"output under load: found {seen.output_v:g} V, wanted {seen.low_v:g} to "
        f"{seen.high_v:g} V"
    ]

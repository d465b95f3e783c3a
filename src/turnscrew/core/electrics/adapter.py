"""
Does this adapter fit this label, and what does its plug tell?

Volts within a few per cent, amps and watts at least those of the label, and the same
polarity: common practice, no source. Coaxial plugs by RC-5320A, read on an
encyclopaedia page.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.electrics.cautions import MAINS_WORDS
from turnscrew.core.electrics.ranges import (
    FLOWING_A,
    POWER_W,
    PRESENT_V,
    TOLERANCE,
    VOLTAGE_V,
)
from turnscrew.core.model.quantities import refuse_outside

Polarity = Literal["tip positive", "tip negative", "unknown"]
Verdict = Literal["fits", "not proven", "does not fit"]

VOLTS_TOLERANCE = 0.05
"""How far the volts of adapter and label may differ; common practice, no source. [1]"""

# Two equal figures typed in must not differ by the last bit of a float.
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Rating:
    """
    What is printed on an adapter, or on the label of a machine.

    Parameters
    ----------
    voltage_v
        Volts. [V]
    current_a
        Amps. [A]
    polarity
        Which side of the plug is positive.
    printed_w
        Watts as printed; ``None`` if they are not. [W]
    """

    voltage_v: float
    current_a: float
    polarity: Polarity = "unknown"
    printed_w: float | None = None

    def __post_init__(self) -> None:
        """Refuse figures outside their ranges."""
        refuse_outside("voltage_v", self.voltage_v, PRESENT_V)
        refuse_outside("current_a", self.current_a, FLOWING_A)
        if self.printed_w is not None:
            refuse_outside("printed_w", self.printed_w, POWER_W)

    @property
    def power_w(self) -> float:
        """Give the watts as printed, else volts by amps. [W]."""
        if self.printed_w is not None:
            return self.printed_w
        return rating_w(self.voltage_v, self.current_a)


@dataclass(frozen=True, slots=True)
class Fit:
    """
    Whether an adapter fits a machine.

    Parameters
    ----------
    verdict
        Fits, does not fit, or not proven as long as a polarity is unknown.
    why
        One sentence for each thing compared.
    caution
        What is said with every answer about a mains part.
    """

    verdict: Verdict
    why: tuple[str, ...]
    caution: str = MAINS_WORDS


@dataclass(frozen=True, slots=True)
class CoaxialPlug:
    """
    A plug of the coaxial scheme whose size tells its voltage.

    Parameters
    ----------
    name
        Type of the scheme, or ``outside types 1-5``.
    high_v
        Highest voltage of its band; 0 outside the scheme. [V]
    outer_mm
        Outer diameter; 0 outside the scheme. [mm]
    inner_mm
        Inner diameter; 0 outside the scheme. [mm]
    pin_mm
        Diameter of the centre pin; 0 if there is none. [mm]
    why
        What the size proves, as a sentence.
    """

    name: str
    high_v: float
    outer_mm: float
    inner_mm: float
    pin_mm: float
    why: str


_IN_SCHEME = "the size stands for this band, 2 A at most; measure the polarity"
PLUGS = (
    CoaxialPlug("type 1", 3.15, 2.35, 0.7, 0, _IN_SCHEME),
    CoaxialPlug("type 2", 6.3, 4.0, 1.7, 0, _IN_SCHEME),
    CoaxialPlug("type 3", 10.5, 4.75, 1.7, 0, _IN_SCHEME),
    CoaxialPlug("type 4", 13.5, 5.5, 3.3, 1.0, _IN_SCHEME),
    CoaxialPlug("type 5", 18.0, 6.5, 4.4, 1.4, _IN_SCHEME),
)
"""Bands of RC-5320A; another page gives 3.4 mm inside type 4."""

OUTSIDE = CoaxialPlug(
    "outside types 1-5", 0, 0, 0, 0,
    "the bands stop at 18 V and 2 A: here the size proves neither volts nor polarity",
)  # fmt: skip


ROUNDED_W = 0.5
"""Most by which watts that are printed as a whole number are rounded. [W]"""


def rating_w(voltage_v: float, current_a: float) -> float:
    """
    Say how many watts volts and amps make.

    Equation: P = V I.

    Parameters
    ----------
    voltage_v
        Voltage. [V]
    current_a
        Current. [A]

    Returns
    -------
    float
        Power. [W]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Definition.
    """
    refuse_outside("voltage_v", voltage_v, PRESENT_V)
    refuse_outside("current_a", current_a, FLOWING_A)
    return voltage_v * current_a


def fit_of(
    adapter: Rating, label: Rating, volts_tolerance: float = VOLTS_TOLERANCE
) -> Fit:
    """
    Say whether an adapter fits a machine.

    Rule: volts within the tolerance, amps and watts at least those of the label, the
    same polarity. A meter tells the polarity: tip against sleeve, before plugging.

    Parameters
    ----------
    adapter
        What is printed on the adapter.
    label
        What is printed on the machine.
    volts_tolerance
        How far the volts may differ, as a share of the label's. [1]

    Returns
    -------
    Fit
        The verdict and a sentence for each thing compared.

    Raises
    ------
    BadFieldError
        If the tolerance is outside 0 to 0.5.

    References
    ----------
    Common practice, no source.
    """
    refuse_outside("volts_tolerance", volts_tolerance, TOLERANCE)
    off = abs(adapter.voltage_v - label.voltage_v) / label.voltage_v
    volts_fit = off <= volts_tolerance + _SLACK
    amps, amps_fit = _at_least(adapter.current_a, label.current_a, "A")
    # Watts as printed are rounded: against volts by amps, half a watt is no lack.
    is_mixed = (adapter.printed_w is None) != (label.printed_w is None)
    rounded_w = ROUNDED_W if is_mixed else 0.0
    watts, watts_fit = _at_least(adapter.power_w, label.power_w, "W", rounded_w)
    side, side_fits = _polarity(adapter.polarity, label.polarity)
    verdict: Verdict = "fits"
    if not (volts_fit and amps_fit and watts_fit and side_fits is not False):
        verdict = "does not fit"
    elif side_fits is None:
        verdict = "not proven"
    volts = (
        f"{adapter.voltage_v:g} V for {label.voltage_v:g} V: {100 * off:.1f} % apart, "
        f"{100 * volts_tolerance:g} % allowed"
    )
    return Fit(verdict, (volts, amps, watts, side))


def coaxial_plug(voltage_v: float) -> CoaxialPlug:
    """
    Say which plug of the coaxial scheme stands for a voltage.

    Rule: the first band whose upper end is not below the voltage.

    Parameters
    ----------
    voltage_v
        Rated voltage. [V]

    Returns
    -------
    CoaxialPlug
        The plug; ``OUTSIDE`` above 18 V, where machine adapters are.

    Raises
    ------
    BadFieldError
        If the voltage is outside 0 to 1000 V.

    References
    ----------
    RC-5320A, read on an encyclopaedia page.
    """
    refuse_outside("voltage_v", voltage_v, VOLTAGE_V)
    return next((plug for plug in PLUGS if voltage_v <= plug.high_v), OUTSIDE)


def _at_least(
    has: float, wants: float, unit: str, rounded: float = 0.0
) -> tuple[str, bool]:
    is_enough = has >= wants - rounded - _SLACK
    words = "enough" if is_enough else "too little"
    return f"{has:.4g} {unit} for {wants:.4g} {unit}: {words}", is_enough


def _polarity(adapter: Polarity, label: Polarity) -> tuple[str, bool | None]:
    if "unknown" in (adapter, label):
        return "polarity unknown: measure tip against sleeve before plugging", None
    if adapter == label:
        return f"{adapter} on both", True
    return f"adapter {adapter}, machine {label}: do not plug in", False

"""
What may a USB-C charger offer, what does a sink take, and what may the cable carry?

Power rules by rated watts read on a maker's training page; the choice of an offer as
in the source of an open kernel; cable limits in an article that reproduces them.
"""

from dataclasses import dataclass

from turnscrew.core.electrics.ranges import CURRENT_A, FLOWING_A, PRESENT_V
from turnscrew.core.model.quantities import BadFieldError, Bounds, refuse_outside

RULES = ((5.0, 0.0, 3.0), (9.0, 15.0, 3.0), (15.0, 27.0, 3.0), (20.0, 45.0, 5.0))
"""Level [V], rated watts above which it is offered [W], most current [A]."""

EXTENDED_V = (28.0, 36.0, 48.0)
"""Levels of the extended range, all at 5 A; read on summary pages. [V]"""

PLAIN_CABLE_A = 3.0
MARKED_CABLE_A = 5.0
"""Most current of a cable whose marker says so. [A]"""

CABLE_VBUS_DROP_V = 0.5
CABLE_GROUND_DROP_V = 0.25


@dataclass(frozen=True, slots=True)
class Offer:
    """
    One fixed level that a charger offers.

    Parameters
    ----------
    voltage_v
        Voltage. [V]
    current_a
        Most current. [A]
    """

    voltage_v: float
    current_a: float

    def __post_init__(self) -> None:
        """Refuse figures outside their ranges."""
        refuse_outside("voltage_v", self.voltage_v, PRESENT_V)
        refuse_outside("current_a", self.current_a, CURRENT_A)


@dataclass(frozen=True, slots=True)
class Choice:
    """
    What a sink takes.

    Parameters
    ----------
    position
        Place of the offer in the list, counted from 1; 0 if it takes none. [1]
    voltage_v
        Voltage taken. [V]
    current_a
        Current it may draw. [A]
    power_w
        Power it may draw. [W]
    why
        The reason, as a sentence.
    """

    position: int
    voltage_v: float
    current_a: float
    power_w: float
    why: str


@dataclass(frozen=True, slots=True)
class CableLimit:
    """
    The most resistance a cable may have at a current.

    Parameters
    ----------
    vbus_ohm
        Supply conductor. [ohm]
    ground_ohm
        Return conductor. [ohm]
    loop_ohm
        Both in a row. [ohm]
    """

    vbus_ohm: float
    ground_ohm: float
    loop_ohm: float


def offers_by_rating(rated_w: float) -> tuple[Offer, ...]:
    """
    Say which fixed levels a charger of these rated watts must offer.

    Rule: 5 V; 9 V above 15 W; 15 V above 27 W; 20 V above 45 W. Current is P / V, at
    most 3 A, and at 20 V at most 5 A with a cable marked for it.

    Parameters
    ----------
    rated_w
        Rated power P. [W]

    Returns
    -------
    tuple
        The offers, lowest voltage first.

    Raises
    ------
    BadFieldError
        If the power is outside 0.5 to 100 W.

    References
    ----------
    Power rules, read on a maker's training page.
    """
    refuse_outside("rated_w", rated_w, Bounds(0.5, 100, "W"))
    return tuple(
        Offer(level_v, min(most_a, rated_w / level_v))
        for level_v, above_w, most_a in RULES
        if rated_w > above_w
    )


def extended_rating_w(voltage_v: float) -> float:
    """
    Say how many watts a level of the extended range stands for.

    Equation: P = V x 5 A.

    Parameters
    ----------
    voltage_v
        28, 36 or 48. [V]

    Returns
    -------
    float
        Power. [W]

    Raises
    ------
    BadFieldError
        If it is no level of the extended range.

    References
    ----------
    Summary pages of the extended range.
    """
    if voltage_v not in EXTENDED_V:
        raise BadFieldError("voltage_v", voltage_v, "28, 36 or 48 V")
    return voltage_v * MARKED_CABLE_A


def cable_current_a(*, is_marked_5a: bool) -> float:
    """
    Say how much current a USB-C cable may carry.

    Rule: 3 A; 5 A with an electronic marker that says so.

    Parameters
    ----------
    is_marked_5a
        Its marker says 5 A.

    Returns
    -------
    float
        Most current. [A]

    References
    ----------
    An engineer's article that reproduces the rule.
    """
    return MARKED_CABLE_A if is_marked_5a else PLAIN_CABLE_A


def delivered_w(voltage_v: float, source_a: float, cable_a: float) -> float:
    """
    Say how many watts come through, whichever of charger and cable stops first.

    Equation: P = V min(Isource, Icable).

    Parameters
    ----------
    voltage_v
        Level. [V]
    source_a
        Current of the charger. [A]
    cable_a
        Current of the cable. [A]

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
    Power rules, read on a maker's training page.
    """
    refuse_outside("voltage_v", voltage_v, PRESENT_V)
    refuse_outside("source_a", source_a, CURRENT_A)
    refuse_outside("cable_a", cable_a, CURRENT_A)
    return voltage_v * min(source_a, cable_a)


def offer_taken(
    offers: tuple[Offer, ...], sink_max_v: float, sink_max_a: float
) -> Choice:
    """
    Say which offer a sink takes.

    Rule: most power within the sink's volts and amps; of equal power the higher
    voltage. One policy, not the standard: other firmware chooses otherwise.

    Parameters
    ----------
    offers
        What the charger offers, in its order.
    sink_max_v
        Highest voltage of the sink. [V]
    sink_max_a
        Most current of the sink. [A]

    Returns
    -------
    Choice
        The offer; position 0 if every one is above the sink's voltage.

    Raises
    ------
    BadFieldError
        If a limit of the sink is outside its range.

    References
    ----------
    Source of an open kernel's USB-C port manager.
    """
    refuse_outside("sink_max_v", sink_max_v, PRESENT_V)
    refuse_outside("sink_max_a", sink_max_a, CURRENT_A)
    within = [
        (offer.voltage_v * min(offer.current_a, sink_max_a), offer.voltage_v, number)
        for number, offer in enumerate(offers, 1)
        if offer.voltage_v <= sink_max_v
    ]
    if not within:
        return Choice(0, 0.0, 0.0, 0.0, f"no offer at {sink_max_v:g} V or less")
    power_w, level_v, number = max(within, key=lambda row: row[:2])
    tied = sum(row[0] == power_w for row in within) > 1
    why = "most power; of equal power the higher voltage" if tied else "most power"
    return Choice(number, level_v, power_w / level_v, power_w, why)


def cable_limit(current_a: float) -> CableLimit:
    """
    Say how much resistance a USB-C cable may have.

    Equation: R = V / I with 0.5 V lost in VBUS and 0.25 V in ground.

    Parameters
    ----------
    current_a
        Current through it. [A]

    Returns
    -------
    CableLimit
        Supply, return, and both in a row.

    Raises
    ------
    BadFieldError
        If the current is outside its range.

    References
    ----------
    An engineer's article that reproduces the limits.
    """
    refuse_outside("current_a", current_a, FLOWING_A)
    vbus_ohm = CABLE_VBUS_DROP_V / current_a
    ground_ohm = CABLE_GROUND_DROP_V / current_a
    return CableLimit(vbus_ohm, ground_ohm, vbus_ohm + ground_ohm)

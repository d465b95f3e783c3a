"""How much of a small resistance reading is leads or thermal voltage?"""

from dataclasses import dataclass

from turnscrew.core.electrics.ranges import (
    FLOWING_A,
    RESISTANCE_OHM,
    RESISTOR_OHM,
    SIGNED_V,
)
from turnscrew.core.model.quantities import Bounds, refuse_outside


@dataclass(frozen=True, slots=True)
class LeadError:
    """
    What two and four wires read of the same part.

    Parameters
    ----------
    two_wire_ohm
        Reading with two wires, leads included. [ohm]
    four_wire_ohm
        Reading with four wires, the part alone. [ohm]
    error_share
        Error of the two-wire reading, as a share of the part. [1]
    """

    two_wire_ohm: float
    four_wire_ohm: float
    error_share: float


def lead_error(resistance_ohm: float, leads_ohm: float) -> LeadError:
    """
    Say what two wires and what four wires read of the same part.

    Equations: R2 = R + Rleads; R4 = R; error = Rleads / R.
    Four wires read the part alone only if the sense leads sit inside the force leads.

    Parameters
    ----------
    resistance_ohm
        Resistance R of the part. [ohm]
    leads_ohm
        Resistance of both leads together. [ohm]

    Returns
    -------
    LeadError
        Both readings and the error.

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Article on four-terminal sensing; notes of a meter's maker.
    """
    refuse_outside("resistance_ohm", resistance_ohm, RESISTOR_OHM)
    refuse_outside("leads_ohm", leads_ohm, RESISTANCE_OHM)
    return LeadError(
        resistance_ohm + leads_ohm, resistance_ohm, leads_ohm / resistance_ohm
    )


def smallest_two_wire_ohm(leads_ohm: float, error_share: float = 0.1) -> float:
    """
    Say from which resistance on two wires are good enough.

    Equation: R = Rleads / error; usual leads of 0.2 ohm are 10 % off at 2 ohm.

    Parameters
    ----------
    leads_ohm
        Resistance of both leads together. [ohm]
    error_share
        Error that is still accepted. [1]

    Returns
    -------
    float
        Smallest resistance. [ohm]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Notes of a meter's maker.
    """
    refuse_outside("leads_ohm", leads_ohm, RESISTANCE_OHM)
    refuse_outside("error_share", error_share, Bounds(1e-6, 1, "1"))
    return leads_ohm / error_share


def offset_free_ohm(on_v: float, off_v: float, current_a: float) -> float:
    """
    Say which resistance is left without the voltage that stands there unfed.

    Equation: R = (V_on - V_off) / I.

    Parameters
    ----------
    on_v
        Voltage with the test current on. [V]
    off_v
        Voltage with it off: thermal voltage and offset. [V]
    current_a
        Test current. [A]

    Returns
    -------
    float
        Resistance; below zero says that the part feeds itself. [ohm]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Notes of a meter's maker.
    """
    refuse_outside("on_v", on_v, SIGNED_V)
    refuse_outside("off_v", off_v, SIGNED_V)
    refuse_outside("current_a", current_a, FLOWING_A)
    return (on_v - off_v) / current_a


def reversal_ohm(forward_v: float, reverse_v: float, current_a: float) -> float:
    """
    Say which resistance is left after measuring both ways round.

    Equation: R = (V+ - V-) / (2 I), V- with its own sign.

    Parameters
    ----------
    forward_v
        Voltage V+ with the test current forward. [V]
    reverse_v
        Voltage V- with it reversed; usually negative. [V]
    current_a
        Test current, without sign. [A]

    Returns
    -------
    float
        Resistance. [ohm]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    From memory.
    """
    refuse_outside("forward_v", forward_v, SIGNED_V)
    refuse_outside("reverse_v", reverse_v, SIGNED_V)
    refuse_outside("current_a", current_a, FLOWING_A)
    return (forward_v - reverse_v) / (2 * current_a)

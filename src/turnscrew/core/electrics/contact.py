"""
What does a contact cost in volts and heat, and is it worn?

Limits from two drawings of barrel jacks and plugs rated 5 A: at most 30 milliohm new
and 100 milliohm after 5000 matings.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.electrics.ranges import CURRENT_A, RESISTANCE_OHM
from turnscrew.core.model.quantities import refuse_outside

JACK_NEW_OHM = 0.030
JACK_WORN_OHM = 0.100

ContactState = Literal["as new", "used", "worn out"]


@dataclass(frozen=True, slots=True)
class ContactReading:
    """
    What one contact of a barrel connector tells.

    Parameters
    ----------
    state
        As new, used, or worn out.
    drop_v
        Voltage lost at the current asked for. [V]
    heat_w
        Heat at that current. [W]
    why
        The reason, as a sentence.
    """

    state: ContactState
    drop_v: float
    heat_w: float
    why: str


def drop_v(current_a: float, resistance_ohm: float) -> float:
    """
    Say how much voltage a resistance takes.

    Equation: V = I R.

    Parameters
    ----------
    current_a
        Current. [A]
    resistance_ohm
        Resistance. [ohm]

    Returns
    -------
    float
        Voltage. [V]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Ohm's law.
    """
    refuse_outside("current_a", current_a, CURRENT_A)
    refuse_outside("resistance_ohm", resistance_ohm, RESISTANCE_OHM)
    return current_a * resistance_ohm


def contact_heat_w(current_a: float, resistance_ohm: float) -> float:
    """
    Say how much heat one contact makes.

    Equation: P = I^2 R.

    Parameters
    ----------
    current_a
        Current. [A]
    resistance_ohm
        Resistance of the contact. [ohm]

    Returns
    -------
    float
        Heat. [W]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Joule's law.
    """
    return current_a * drop_v(current_a, resistance_ohm)


def jack_reading(resistance_ohm: float, current_a: float) -> ContactReading:
    """
    Say whether a contact of a barrel connector is worn, and what it costs.

    Equations: V = I R, P = I^2 R.

    Parameters
    ----------
    resistance_ohm
        Resistance of one contact, by four wires. [ohm]
    current_a
        Current of the machine at work. [A]

    Returns
    -------
    ContactReading
        State, drop, heat and the reason.

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Two connector drawings, rated 5 A; other connectors may have other limits.
    """
    lost_v = drop_v(current_a, resistance_ohm)
    heat_w = contact_heat_w(current_a, resistance_ohm)
    reads = f"{1000 * resistance_ohm:.4g} mΩ"
    if resistance_ohm <= JACK_NEW_OHM:
        return ContactReading("as new", lost_v, heat_w, f"{reads}: 30 mΩ new at most")
    if resistance_ohm <= JACK_WORN_OHM:
        why = f"{reads}: above 30 mΩ new, within 100 mΩ after 5000 matings"
        return ContactReading("used", lost_v, heat_w, why)
    why = f"{reads}: above 100 mΩ, and {heat_w:.3g} W heat the contact: renew it"
    return ContactReading("worn out", lost_v, heat_w, why)

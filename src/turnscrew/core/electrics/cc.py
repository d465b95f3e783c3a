"""
What does the voltage on a CC pin of a USB-C port say?

A sink pulls each CC pin down by its own 5.1 kilohm (Rd); the source pulls one of them
up (Rp), and how strongly says how much current it offers. Levels and resistors read on
a distributor's answer page and in an evaluation kit's manual; the upper end of the 3 A
level is from memory.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.electrics.ranges import VOLTAGE_V
from turnscrew.core.model.quantities import Bounds, refuse_outside

CcName = Literal["none", "default", "1.5A", "3A", "above"]


@dataclass(frozen=True, slots=True)
class CcLevel:
    """
    One level of a CC pin as the sink sees it.

    Parameters
    ----------
    name
        Current offered, ``none`` below the levels, ``above`` beyond them.
    low_v
        Lower end, which belongs to the level. [V]
    high_v
        Upper end, which does not. [V]
    source_a
        Current of a current source; 0 if there is none. [A]
    source_tolerance
        Its tolerance. [1]
    pull_up_5v_ohm
        Pull-up to 4.75-5.5 V; 0 if there is none. [ohm]
    pull_up_3v3_ohm
        Pull-up to 3.3 V; 0 if there is none. [ohm]
    pull_up_tolerance
        Tolerance of both pull-ups. [1]
    why
        What the level says, as a sentence.
    """

    name: CcName
    low_v: float
    high_v: float
    source_a: float
    source_tolerance: float
    pull_up_5v_ohm: float
    pull_up_3v3_ohm: float
    pull_up_tolerance: float
    why: str


LEVELS = (
    CcLevel("none", 0.0, 0.20, 0, 0, 0, 0, 0, "no source pulls this pin up"),
    CcLevel(
        "default", 0.20, 0.66, 80e-6, 0.20, 56e3, 36e3, 0.20,
        "a source offers the default current of its port",
    ),
    CcLevel(
        "1.5A", 0.66, 1.23, 180e-6, 0.08, 22e3, 12e3, 0.05,
        "a source offers 1.5 A at 5 V",
    ),
    CcLevel(
        "3A", 1.23, 2.045, 330e-6, 0.08, 10e3, 4.7e3, 0.05,
        "a source offers 3 A at 5 V",
    ),
    CcLevel("above", 2.045, 1000, 0, 0, 0, 0, 0, "above every level: Rd may be open"),
)  # fmt: skip
"""
Levels in rising order.

The last end is 2.04 V from memory; the worst case reckons to 2.042 V, so a reading is
above it from 2.045 V on.
"""

PlugSide = Literal["CC1", "CC2", "none", "both"]


@dataclass(frozen=True, slots=True)
class CcPair:
    """
    What both CC pins say together.

    Parameters
    ----------
    side
        Pin that the source pulls up.
    level
        Its level; that of the higher pin if both are up.
    why
        What it means, as a sentence.
    """

    side: PlugSide
    level: CcLevel
    why: str


def cc_level(cc_v: float) -> CcLevel:
    """
    Say what current a source offers by the voltage on a CC pin of the sink.

    Rule: levels begin at 0.20, 0.66 and 1.23 V and end at 2.04 V.

    Parameters
    ----------
    cc_v
        CC pin to ground, over Rd. [V]

    Returns
    -------
    CcLevel
        The level.

    Raises
    ------
    BadFieldError
        If the voltage is outside 0 to 1000 V.

    References
    ----------
    A distributor's answer page; the upper end from memory.
    """
    refuse_outside("cc_v", cc_v, VOLTAGE_V)
    return next((level for level in LEVELS if cc_v < level.high_v), LEVELS[-1])


def cc_pair(cc1_v: float, cc2_v: float) -> CcPair:
    """
    Say by which CC pin a source is attached; only one is pulled up by a cable.

    Rule: the pin at 0.20 V or more; both up wants a look at the pins.

    Parameters
    ----------
    cc1_v
        CC1 to ground. [V]
    cc2_v
        CC2 to ground. [V]

    Returns
    -------
    CcPair
        The pin, its level and the meaning.

    Raises
    ------
    BadFieldError
        If a voltage is outside 0 to 1000 V.

    References
    ----------
    A distributor's answer page; the words for both pins are common practice.
    """
    one, two = cc_level(cc1_v), cc_level(cc2_v)
    match one.name != "none", two.name != "none":
        case True, True:
            higher = one if cc1_v >= cc2_v else two
            return CcPair("both", higher, "both pulled up: look for a bridge")
        case True, False:
            return CcPair("CC1", one, f"by CC1: {one.why}")
        case False, True:
            return CcPair("CC2", two, f"by CC2: {two.why}")
    return CcPair("none", one, "no pull-up on either pin: cable, plug or charger")


def source_sees_rd(cc_v: float) -> bool:
    """
    Say whether a 3 A source takes the voltage on its CC pin for a sink.

    Rule: 0.85 V <= CC <= 2.45 V.

    Parameters
    ----------
    cc_v
        CC pin to ground at the source. [V]

    Returns
    -------
    bool
        Whether it does.

    Raises
    ------
    BadFieldError
        If the voltage is outside 0 to 6 V.

    References
    ----------
    A distributor's answer page.
    """
    refuse_outside("cc_v", cc_v, Bounds(0, 6, "V"))
    return 0.85 <= cc_v <= 2.45

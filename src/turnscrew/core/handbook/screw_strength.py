"""
What does a small steel screw bear, and at which torque does it break?

Stress areas read on fastener pages that follow the thread standards; classes in a
tightening pocket guide; the breaking torque by the formula of ISO 898-7, read in its
preview. All of it is steel in steel: brass inserts and plastics bear less.
"""

from dataclasses import dataclass
from math import pi

from turnscrew.core.handbook.ranges import AREA_MM2
from turnscrew.core.model.fastener import Thread
from turnscrew.core.model.quantities import BadFieldError, refuse_outside

CLASSES = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "10.9", "12.9")

SHEAR_SHARE = 0.84
"""Shear strength against tensile strength of classes up to 8.8; from memory. [1]"""

SHEAR_SHARES = {"10.9": 0.79, "12.9": 0.75}
"""The same of harder classes, by ISO 898-7, from memory. [1]"""

TENSILE_MIN_MPA = {"4.8": 420.0, "8.8": 800.0, "10.9": 1040.0, "12.9": 1220.0}
"""Smallest tensile strength behind the published loads; other classes nominal. [MPa]"""

COARSE_MM = {1.6: 0.35, 2.0: 0.4, 2.5: 0.45, 3.0: 0.5}
"""Coarse pitch by nominal diameter, by ISO 261. [mm]"""

PITCH_DIAMETER_MIN_MM = {1.6: 1.291, 2.0: 1.654, 2.5: 2.117, 3.0: 2.580}
"""Smallest pitch diameter by nominal diameter, read on a page on ISO 965. [mm]"""


@dataclass(frozen=True, slots=True)
class Strength:
    """
    What the steel of a property class bears.

    Parameters
    ----------
    tensile_mpa
        Tensile strength. [MPa]
    yield_mpa
        Yield strength. [MPa]
    """

    tensile_mpa: float
    yield_mpa: float


def stress_area_mm2(thread: Thread) -> float:
    """
    Say how much metal a thread has across.

    Equation: As = pi / 4 (d - 0.9382 P)^2.

    Parameters
    ----------
    thread
        Thread with diameter d and pitch P. [mm]

    Returns
    -------
    float
        Stress area. [mm2]

    References
    ----------
    Fastener pages that follow the thread standards.
    """
    return pi / 4 * (thread.d_mm - 0.9382 * thread.pitch_mm) ** 2


def strength_of(property_class: str) -> Strength:
    """
    Say what the steel of a property class bears.

    Equations: class a.b has Rm = 100 a and yield = 10 a b.

    Parameters
    ----------
    property_class
        Such as ``8.8``.

    Returns
    -------
    Strength
        Tensile and yield strength.

    Raises
    ------
    BadFieldError
        If it is no class.

    References
    ----------
    ISO 898-1 classes, read in a tightening pocket guide.
    """
    if property_class not in CLASSES:
        wanted = "one of " + ", ".join(CLASSES)
        raise BadFieldError("property_class", property_class, wanted)
    a, b = (int(digits) for digits in property_class.split("."))
    return Strength(100.0 * a, 10.0 * a * b)


def tensile_load_n(area_mm2: float, property_class: str) -> float:
    """
    Say at which pull a screw breaks.

    Equation: F = As Rm, with the smallest Rm of the class, not the nominal one.

    Parameters
    ----------
    area_mm2
        Stress area As. [mm2]
    property_class
        Such as ``8.8``.

    Returns
    -------
    float
        Smallest breaking load. [N]

    Raises
    ------
    BadFieldError
        If the area is outside its range, or the class unknown.

    References
    ----------
    EN ISO 898-1, minimum ultimate loads, read on a fastener page; the smallest
    strengths were reckoned back from those loads.
    """
    refuse_outside("area_mm2", area_mm2, AREA_MM2)
    nominal_mpa = strength_of(property_class).tensile_mpa
    return area_mm2 * TENSILE_MIN_MPA.get(property_class, nominal_mpa)


def breaking_torque_nm(thread: Thread, property_class: str = "8.8") -> float:
    """
    Say at which torque a small screw breaks at least.

    Equations: MB = tau Wp; Wp = pi / 16 d3^3; d3 = d2min - 0.57735 P; tau = X Rm min,
    X by class: 0.84 for 8.8, 0.79 for 10.9, 0.75 for 12.9.

    Parameters
    ----------
    thread
        Thread of 1.6, 2, 2.5 or 3 mm with its coarse pitch P.
    property_class
        Such as ``8.8``.

    Returns
    -------
    float
        Smallest breaking torque. [N m]

    Raises
    ------
    BadFieldError
        If the smallest pitch diameter of the thread is not known, its pitch is not the
        coarse one, or the class is not known.

    References
    ----------
    ISO 898-7, formula read in its preview; d2min read on a page on ISO 965; the shares
    are from memory.
    """
    d2min_mm = PITCH_DIAMETER_MIN_MM.get(thread.d_mm)
    if d2min_mm is None or thread.is_forming:
        raise BadFieldError("thread", thread, "M1.6, M2, M2.5 or M3")
    if thread.pitch_mm != COARSE_MM[thread.d_mm]:
        raise BadFieldError("thread", thread, f"a pitch of {COARSE_MM[thread.d_mm]} mm")
    d3_mm = d2min_mm - 0.57735 * thread.pitch_mm
    nominal_mpa = strength_of(property_class).tensile_mpa
    least_mpa = TENSILE_MIN_MPA.get(property_class, nominal_mpa)
    tau_mpa = SHEAR_SHARES.get(property_class, SHEAR_SHARE) * least_mpa
    return tau_mpa * pi / 16 * d3_mm**3 / 1000

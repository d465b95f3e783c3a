"""
Which torque makes which pull, how deep must a thread go, and is this screw too long?

T = K F d holds steel in steel. The tightening figures published for M1.6 to M3 lie at
75 to 106 % of the breaking torque: they are no set-point for small screws. Into brass
or plastic take the machine's own figure, else stop at the seat and a small turn.
"""

from dataclasses import dataclass
from math import pi

from turnscrew.core.handbook.ranges import (
    AREA_MM2,
    FORCE_N,
    FRICTION_K,
    LENGTH_MM,
    PRESENT_SHARE,
    STRENGTH_MPA,
    WEAKNESS_J,
)
from turnscrew.core.model.fastener import Thread
from turnscrew.core.model.quantities import refuse_outside

K_AS_RECEIVED = 0.20
PROOF_SHARE = 0.75
"""Share of the proof load for a joint that is opened again. [1]"""

PROOF_8_8_MPA = 580.0


@dataclass(frozen=True, slots=True)
class LengthVerdict:
    """
    Whether a screw may go into the hole of another.

    Parameters
    ----------
    may_go_in
        It is not longer than the recorded one.
    why
        The reason, as a sentence.
    """

    may_go_in: bool
    why: str


def preload_n(
    area_mm2: float, proof_mpa: float, proof_share: float = PROOF_SHARE
) -> float:
    """
    Say how hard a tightened screw pulls.

    Equation: F = share x proof x As.

    Parameters
    ----------
    area_mm2
        Stress area As. [mm2]
    proof_mpa
        Proof strength. [MPa]
    proof_share
        Share of it that is used. [1]

    Returns
    -------
    float
        Pull F. [N]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Two web calculators with worked examples.
    """
    refuse_outside("area_mm2", area_mm2, AREA_MM2)
    refuse_outside("proof_mpa", proof_mpa, STRENGTH_MPA)
    refuse_outside("proof_share", proof_share, PRESENT_SHARE)
    return proof_share * proof_mpa * area_mm2


def torque_nm(force_n: float, d_mm: float, friction_k: float = K_AS_RECEIVED) -> float:
    """
    Say which torque makes a pull; not a set-point for M3 and smaller.

    Equation: T = K F d.

    Parameters
    ----------
    force_n
        Pull F. [N]
    d_mm
        Nominal diameter d. [mm]
    friction_k
        Nut factor K: 0.2 as received, 0.15 lubricated, 0.3 dry. [1]

    Returns
    -------
    float
        Torque T. [N m]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Two web calculators with worked examples.
    """
    refuse_outside("force_n", force_n, FORCE_N)
    refuse_outside("d_mm", d_mm, LENGTH_MM)
    refuse_outside("friction_k", friction_k, FRICTION_K)
    return friction_k * force_n * d_mm / 1000


def engagement_mm(area_mm2: float, thread: Thread, weakness: float = 1.0) -> float:
    """
    Say how deep a thread must go so that the screw breaks before it strips.

    Equation: Le = J x 2 As / (0.5 pi (D - 0.64952 P)).

    Parameters
    ----------
    area_mm2
        Stress area As. [mm2]
    thread
        Thread with diameter D and pitch P. [mm]
    weakness
        Factor J, above 1 if the hole is of weaker metal than the screw. [1]

    Returns
    -------
    float
        Engaged length Le. [mm]

    Raises
    ------
    BadFieldError
        If the area is outside its range.

    References
    ----------
    Two thread-engagement pages with worked examples.
    """
    refuse_outside("area_mm2", area_mm2, AREA_MM2)
    refuse_outside("weakness", weakness, WEAKNESS_J)
    pitch_line_mm = thread.d_mm - 0.64952 * thread.pitch_mm
    return weakness * 2 * area_mm2 / (0.5 * pi * pitch_line_mm)


def turns_engaged(engaged_mm: float, thread: Thread) -> float:
    """
    Say by how many turns a screw holds.

    Equation: turns = engaged length / pitch.

    Parameters
    ----------
    engaged_mm
        Engaged length. [mm]
    thread
        Thread with its pitch. [mm]

    Returns
    -------
    float
        Turns. [1]

    Raises
    ------
    BadFieldError
        If the length is outside 0.01 to 1000 mm.

    References
    ----------
    Definition.
    """
    refuse_outside("engaged_mm", engaged_mm, LENGTH_MM)
    return engaged_mm / thread.pitch_mm


def length_verdict(recorded_mm: float, found_mm: float) -> LengthVerdict:
    """
    Say whether a screw may stand in for the one recorded at a hole.

    Rule: never longer than the record; a longer screw can reach board, display or cell.

    Parameters
    ----------
    recorded_mm
        Length recorded at strip-down. [mm]
    found_mm
        Length of the screw in hand. [mm]

    Returns
    -------
    LengthVerdict
        Whether it may, and why.

    Raises
    ------
    BadFieldError
        If a length is outside 0.01 to 1000 mm.

    References
    ----------
    Common practice, no source.
    """
    refuse_outside("recorded_mm", recorded_mm, LENGTH_MM)
    refuse_outside("found_mm", found_mm, LENGTH_MM)
    pair = f"{found_mm:g} mm for {recorded_mm:g} mm"
    if found_mm > recorded_mm:
        return LengthVerdict(
            may_go_in=False, why=f"{pair}: longer, it can reach what lies behind"
        )
    if found_mm < recorded_mm:
        return LengthVerdict(
            may_go_in=True, why=f"{pair}: shorter, count the turns that hold"
        )
    return LengthVerdict(may_go_in=True, why=f"{pair}: as recorded")

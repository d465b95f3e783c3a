"""
By which rule may a lithium pack travel by air?

Read in a data sheet's transport section, a law summary and pages of an industry book;
editions change every year. Common names: PI 965 loose, PI 966 packed with the machine,
PI 967 in the machine.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.electrics.cautions import CARRIER_WORDS, PACK_WORDS, SWOLLEN_WORDS
from turnscrew.core.electrics.ranges import ENERGY_WH
from turnscrew.core.model.quantities import BadFieldError, refuse_outside

BATTERY_WH = 100.0
CELL_WH = 20.0

Packing = Literal["contained in", "packed with", "loose"]
_INSTRUCTION: dict[str, str] = {"contained in": "PI 967", "packed with": "PI 966"}
_MORE: dict[str, tuple[str, ...]] = {
    "contained in": (
        "no mark needed for up to 4 cells or 2 batteries a package, two packages",
    ),
    "packed with": (
        "as many as the machine needs and two spares, 5 kg net a package",
        "a limit of charge from 2026 on is from memory",
    ),
}


@dataclass(frozen=True, slots=True)
class AirRule:
    """
    The rule for a pack that travels by air.

    Parameters
    ----------
    rule
        Packing instruction and section, or ``forbidden by air``.
    why
        The reason, one sentence each.
    first
        What to do before it goes.
    cautions
        What is said with every answer about a pack.
    """

    rule: str
    why: tuple[str, ...]
    first: str = CARRIER_WORDS
    cautions: tuple[str, ...] = PACK_WORDS


def is_lighter(battery_wh: float, cell_wh: float | None = None) -> bool:
    """
    Say whether a pack is small enough for the lighter rules.

    Rule: battery at most 100 Wh, each cell at most 20 Wh, neither rounded.

    Parameters
    ----------
    battery_wh
        Energy of the pack. [Wh]
    cell_wh
        Energy of one cell; ``None`` leaves it out. [Wh]

    Returns
    -------
    bool
        Whether it is.

    Raises
    ------
    BadFieldError
        If an energy is outside 0 to 1000 Wh.

    References
    ----------
    Transport pages on PI 965, 966 and 967.
    """
    refuse_outside("battery_wh", battery_wh, ENERGY_WH)
    if cell_wh is None:
        return battery_wh <= BATTERY_WH
    refuse_outside("cell_wh", cell_wh, ENERGY_WH)
    return battery_wh <= BATTERY_WH and cell_wh <= CELL_WH


def air_rule(
    battery_wh: float,
    packing: Packing,
    *,
    is_damaged: bool,
    cell_wh: float | None = None,
) -> AirRule:
    """
    Say by which rule a pack may travel by air.

    Rule: damaged never; loose PI 965; else PI 967 in or PI 966 with the machine,
    Section II if it is small enough, Section I if not.

    Parameters
    ----------
    battery_wh
        Energy of the pack. [Wh]
    packing
        In the machine, packed with it, or loose.
    is_damaged
        Damaged or defective, or not proven to be sound.
    cell_wh
        Energy of one cell; ``None`` leaves it out. [Wh]

    Returns
    -------
    AirRule
        The rule, the reason and what to do first.

    Raises
    ------
    BadFieldError
        If an energy is outside its range or the packing unknown.

    References
    ----------
    Transport pages on PI 965, 966 and 967.
    """
    if packing not in ("contained in", "packed with", "loose"):
        raise BadFieldError("packing", packing, "contained in, packed with or loose")
    is_small = is_lighter(battery_wh, cell_wh)
    if is_damaged:
        why = "damaged or defective packs, doubtful ones too, may not fly"
        return AirRule("forbidden by air", (why,), cautions=SWOLLEN_WORDS)
    if packing == "loose":
        return AirRule(
            "PI 965, SoC <= 30 %, cargo aircraft only",
            ("a loose pack flies on cargo aircraft only", "charge 30 % at most"),
        )
    told = [_held_against(battery_wh, BATTERY_WH, "a pack")]
    if cell_wh is not None:
        told.append(_held_against(cell_wh, CELL_WH, "a cell"))
    more = _MORE[packing] if is_small else ()
    section = "Section II" if is_small else "Section I"
    return AirRule(f"{_INSTRUCTION[packing]} {section}", (*told, *more))


def _held_against(energy_wh: float, limit_wh: float, what: str) -> str:
    size = "at most" if energy_wh <= limit_wh else "above"
    return f"{energy_wh:.9g} Wh {what}: {size} the limit of {limit_wh:g} Wh"

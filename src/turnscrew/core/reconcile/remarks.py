"""
What must be observed or settled because of what was seen on arrival?

A remark is words. Known words sort it; a remark without any is held for the lead to
read, so that none is lost.
"""

from dataclasses import replace
from functools import lru_cache

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.hold import Hold
from turnscrew.core.model.terms import Terms
from turnscrew.core.reconcile.danger_words import (
    SORTED,
    TOLD_PACK,
    TOLD_WET,
    WRITTEN_PACK,
    WRITTEN_WET,
    Words,
)

PACK_HOLD = Hold(
    "pack", "isolate it, pack may be swollen: no power, no charging, no pressure"
)
WET_HOLD = Hold("wet", "wet inside: no power")
_REMARKED = (
    PACK_HOLD,
    Hold("contaminated", "contaminated: gloves, keep apart until cleaned"),
    Hold(
        "locked",
        "locked: full test not possible until the owner's administrator unlocks it",
    ),
    Hold("damaged", "damaged on arrival: recorded, part of the frame may not fit"),
    Hold("private", "private property inside: take out, label, return to the person"),
    Hold("returned", "old part goes back to the owner: label it and record its end"),
    Hold("glass", "sharp glass: gloves, tape the front"),
    WET_HOLD,
)

GAP_MM = 2.0
"""Gap of a case from which the pack is taken to swell; common practice. [mm]"""

_UNSORTED = Hold("unsorted", "to be read by the lead before any work")

LIQUID_HOLD = Hold(
    "liquid", "liquid inside: no power, gloves; nothing electrical from it is trusted"
)
GLASS_HOLD = Hold("glass", "cracked glass: eye protection, gloves, tape the front")
DATA_HOLD = Hold("data", "data class not known: treated as holding data of persons")
_HAZARDS = {"pack": PACK_HOLD, "liquid": LIQUID_HOLD, "glass": GLASS_HOLD}


def remark_holds(remark: str) -> tuple[Hold, ...]:
    """
    Sort a remark.

    Parameters
    ----------
    remark
        The words; may be empty.

    Returns
    -------
    tuple[Hold, ...]
        What it asks for, each with the words themselves; none for an empty remark.
    """
    words = remark.strip()
    if not words:
        return ()
    found = [hold for hold in _REMARKED if _tells(SORTED[hold.kind], words)]
    return tuple(replace(hold, seen=words) for hold in found or [_UNSORTED])


def observed_holds(line: BatchLine, terms: Terms) -> tuple[Hold, ...]:
    """
    Give all that must be observed of a device: of its faults, its case, its remark.

    Parameters
    ----------
    line
        The device.
    terms
        The terms.

    Returns
    -------
    tuple[Hold, ...]
        What must be observed.
    """
    return (*hazard_holds(line, terms), *remark_holds(line.remarks))


def skills_asked(line: BatchLine, terms: Terms) -> frozenset[str]:
    """
    Name the sign-offs that work on a device asks for.

    Parameters
    ----------
    line
        The device.
    terms
        The terms.

    Returns
    -------
    frozenset[str]
        Those of the faults found; and with a pack seen or told to be bad those of
        whoever may handle such packs under these terms.
    """
    found = frozenset(fault.skill for fault in terms.faults_of(line) if fault.skill)
    return found | pack_skills(line, terms)


def pack_skills(line: BatchLine, terms: Terms) -> frozenset[str]:
    """
    Name the sign-offs that a bad pack asks for of whoever has the device.

    Parameters
    ----------
    line
        The device.
    terms
        The terms.

    Returns
    -------
    frozenset[str]
        Those of the faults of a pack under these terms; none if its pack was neither
        seen nor told to be bad.
    """
    if all(hold.kind != "pack" for hold in observed_holds(line, terms)):
        return frozenset()
    faults = (fault for fault in terms.faults.values() if fault.hazard == "pack")
    return frozenset(fault.skill for fault in faults if fault.skill)


def told_holds(words: str) -> tuple[Hold, ...]:
    """
    Give what is dangerous by the words of a customer.

    Parameters
    ----------
    words
        The words; may be empty.

    Returns
    -------
    tuple[Hold, ...]
        What must be observed, with the words.
    """
    sought = ((TOLD_PACK, PACK_HOLD), (TOLD_WET, WET_HOLD))
    return tuple(
        replace(hold, seen=words.strip())
        for told, hold in sought
        if _tells(told, words)
    )


def hazard_holds(line: BatchLine, terms: Terms) -> tuple[Hold, ...]:
    """
    Give what is dangerous about the faults found, the case, what is told, and the data.

    Parameters
    ----------
    line
        The device.
    terms
        The terms.

    Returns
    -------
    tuple[Hold, ...]
        What must be observed.
    """
    hazards = [fault.hazard for fault in terms.faults_of(line)]
    holds = [_HAZARDS[hazard] for hazard in hazards if hazard is not None]
    holds += told_holds(line.reported)
    for words in line.told:
        if _tells(WRITTEN_PACK, words):
            holds.append(replace(PACK_HOLD, seen=words))
        if _tells(WRITTEN_WET, words):
            holds.append(replace(WET_HOLD, seen=words))
    if line.gap_mm is not None and line.gap_mm >= GAP_MM:
        holds.append(replace(PACK_HOLD, seen=f"gap of the case {line.gap_mm:g} mm"))
    if not line.data:
        holds.append(DATA_HOLD)
    return tuple(dict.fromkeys(holds))


_MOST_KEPT = 2_000
"""Texts kept as they were read; many devices are said to have the same. [1]"""


@lru_cache(maxsize=_MOST_KEPT)
def _tells(sought: Words, told: str) -> bool:
    return sought.are_in(told)

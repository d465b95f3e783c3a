"""
What must be observed or settled because of what was seen on arrival?

A remark is words. Known words sort it; a remark without any is held for the lead to
read, so that none is lost.
"""

import re
from dataclasses import replace

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.hold import Hold
from turnscrew.core.model.terms import Terms

PACK_HOLD = Hold(
    "pack", "isolate it, pack may be swollen: no power, no charging, no pressure"
)
_SORTED: tuple[tuple[Hold, str], ...] = (
    (
        PACK_HOLD,
        r"swell|swollen|bulg|\bgap\b|\bwarm\b|\bhot\b|smok|hiss|punctur|\bbloat|lifting",
    ),
    (
        Hold("contaminated", "contaminated: gloves, keep apart until cleaned"),
        r"smell|disinfect|contamin|\bglove|\bblood|\bmou?ld|body fluid|infect",
    ),
    (
        Hold(
            "locked",
            "locked: full test not possible until the owner's administrator unlocks it",
        ),
        r"\block|\bmanage|enrol|activation|\bpin code|password",
    ),
    (
        Hold("damaged", "damaged on arrival: recorded, part of the frame may not fit"),
        r"\bbent\b|\bcrack|\bdent|\bbroken\b|\bdamag|\bchip|\bscratch|missing|\bcorro",
    ),
    (
        Hold(
            "private", "private property inside: take out, label, return to the person"
        ),
        r"private|personal|memory card|sim card|\bphoto of|somebody's",
    ),
    (
        Hold(
            "returned", "old part goes back to the owner: label it and record its end"
        ),
        r"wants? .*\b(back|returned?)\b|\breturn .*\b(part|module|storage|disk|drive)",
    ),
    (
        Hold("glass", "sharp glass: gloves, tape the front"),
        r"\bsharp|splinter|shatter|glass out",
    ),
    (
        Hold("wet", "wet inside: no power"),
        r"\bwet\b|\bliquid|\bspill|\brinse|\bwater\b|dripping",
    ),
)
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
    found = [
        hold for hold, pattern in _SORTED if re.search(pattern, words, re.IGNORECASE)
    ]
    return tuple(replace(hold, seen=words) for hold in found or [_UNSORTED])


def hazard_holds(line: BatchLine, terms: Terms) -> tuple[Hold, ...]:
    """
    Give what is dangerous about the faults found, and about unknown data.

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
    if not line.data:
        holds.append(DATA_HOLD)
    return tuple(dict.fromkeys(holds))

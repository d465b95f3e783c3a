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
WET_HOLD = Hold("wet", "wet inside: no power")
_SORTED: tuple[tuple[Hold, str], ...] = (
    (
        PACK_HOLD,
        r"swell|swollen|bulg|\bgap\b|\bwarm\b|\bhot\b|smok|hiss|punctur|\bbloat|lifting"
        r"|\bburn(?:t|ed|ing)\b",
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
        r"\block(?:ed|s)?\b|\bmanaged\b|\bmanagement\b|enrol|activation|\bpin code"
        r"|password",
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
        r"\bsharp|splinter|shatter|glass out|\b(?:broken|cracked|loose)\s+glass"
        r"|\bglass\s+(?:is\s+)?(?:broken|cracked|loose)",
    ),
    (
        WET_HOLD,
        r"\bwet\b|\bliquid|\bspill|\brinse|\bwater\b|dripping",
    ),
)
_TOLD = re.compile(r"swell|swollen|bulg|smok|hiss|punctur|\bbloat", re.IGNORECASE)
"""Words of a customer that tell of a pack; what else is said is looked for first."""

_DENIED = r"(?<!\bnot )(?<!\bno )"
_WRITTEN_PACK = re.compile(
    rf"{_DENIED}(?:{_TOLD.pattern})|^pack log: (?:swollen|warm|damaged)", re.IGNORECASE
)
_WRITTEN_WET = re.compile(
    rf"{_DENIED}(?:\bliquid (?:inside|in|on|got)\b|\bwet inside|\bsoaked|\bdripping"
    r"|\bwater (?:in|inside|running|came)\b)",
    re.IGNORECASE,
)
"""Words of the workshop's own that tell of a danger; common practice, no source."""

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
    found = [
        hold for hold, pattern in _SORTED if re.search(pattern, words, re.IGNORECASE)
    ]
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
    faults = list(terms.faults_of(line))
    if any(hold.kind == "pack" for hold in observed_holds(line, terms)):
        faults += [fault for fault in terms.faults.values() if fault.hazard == "pack"]
    return frozenset(fault.skill for fault in faults if fault.skill)


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
    if _TOLD.search(line.reported):
        holds.append(replace(PACK_HOLD, seen=line.reported.strip()))
    for words in line.told:
        if _WRITTEN_PACK.search(words):
            holds.append(replace(PACK_HOLD, seen=words))
        if _WRITTEN_WET.search(words):
            holds.append(replace(WET_HOLD, seen=words))
    if line.gap_mm is not None and line.gap_mm >= GAP_MM:
        holds.append(replace(PACK_HOLD, seen=f"gap of the case {line.gap_mm:g} mm"))
    if not line.data:
        holds.append(DATA_HOLD)
    return tuple(dict.fromkeys(holds))

"""Does a reading written beside a check speak against its having passed?"""

import re

from turnscrew.core.electrics.esd import LIMIT_OHM, Path, esd_reading
from turnscrew.core.electrics.ranges import RESISTANCE_OHM

_PATHS: dict[str, Path] = {
    "wrist strap": "wrist strap",
    "bench mat": "work surface",
    "floor and footwear": "floor and footwear",
}
"""What is measured to earth, by the name under which it is looked at."""

_TIMES = {
    "": 1.0, "k": 1e3, "M": 1e6, "G": 1e9, "kil": 1e3, "meg": 1e6, "gig": 1e9,
}  # fmt: skip
_OHM = re.compile(
    r"([0-9]{1,9}(?:[.,][0-9]{1,6})?)\s*([kMG]|kil|meg|gig)?\s*(?:Ω|\u2126|[oO]hms?)"
)

_BARE = re.compile(r"[<>≥≤=~ ]*[0-9][0-9.,]*\s*[kMG]?")


def reading_ohm(text: str) -> float | None:
    """Read a resistance such as 1.2 MΩ; words that are none give none."""
    match = _OHM.search(text)
    if match is None:
        return None
    ohm = float(match[1].replace(",", ".")) * _TIMES[match[2] or ""]
    return ohm if RESISTANCE_OHM.low <= ohm <= RESISTANCE_OHM.high else None


def reading_refusal(name: str, text: str) -> str:
    """Say why a check cannot have passed with a reading; nothing if it can."""
    path, ohm = _PATHS.get(name), reading_ohm(text)
    if path is None or not text.strip():
        return ""
    if ohm is None and not _BARE.fullmatch(text.strip()):
        # Words say what they say; a number without its unit says nothing.
        return ""
    if ohm is None:
        return (
            f"reading: found {text.strip()}, wanted a resistance such as 1.2 MΩ to pass"
        )
    told = esd_reading(path, ohm)
    if told.is_below:
        return ""
    return (
        f"reading: found {text.strip()}, wanted below {LIMIT_OHM[path]:.2g} Ω to pass"
    )

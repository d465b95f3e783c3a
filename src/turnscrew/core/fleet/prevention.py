"""
What usually brings a fault about, and what prevents it?

A fault is known by the words the workshop calls it by. Where no word tells the usual
cause there is no advice: a wrong one costs more than none. The sentences are common
practice of the trade, without a source.
"""

import re
from dataclasses import dataclass


@dataclass(frozen=True)
class Prevention:
    """
    A usual cause and how to keep it away.

    Parameters
    ----------
    cause
        The usual cause, in words.
    says
        What prevents it, in a plain sentence.
    """

    cause: str
    says: str


_INSIDE = re.compile(
    r"\bchips?\b|\bsolder|\bboards?\b|\bmemory\b|\bstorage\b|\bgraphics\b"
    r"|\bsensor|\blamp\b|\blight\b|\bsetting|\bsoftware|\bfirmware"
    r"|\bmissing\b|\blost\b",
    re.IGNORECASE,
)
"""What breaks inside, is set wrongly or is gone: handling is no usual cause of it."""

_BROKEN = r"crack|\bbroke|shatter|\bsmash|\btorn\b|\bbent\b"


def _both(thing: str, harm: str) -> str:
    """Give a pattern that wants a thing and what is wrong with it, in any order."""
    return rf"(?=.*(?:{thing}))(?=.*(?:{harm}))"


# The first whose words are found tells: liquid explains dead keys better than wear
# does, and a cracked lid pivot is no cracked glass. A thing alone tells nothing: how it
# failed must be said too.
_USUAL: tuple[tuple[str, Prevention], ...] = (
    (
        r"liquid|\bspill|\bgel\b|\bwet\b|\brins|\bfog\b|\bcorro|"
        + _both(r"\bseals?\b", r"leak|\bworn\b|\btorn\b"),
        Prevention(
            "liquid and cleaning agent",
            "wipe with a damp cloth instead of spraying, keep drinks and gel off the "
            "same table, and put covers on keys",
        ),
    ),
    (
        _both(
            r"\bpacks?\b(?! of)|\bbatter(?:y|ies)\b(?! door)",
            r"swell|swollen|\bworn\b|\bweak\b|\bold\b|\baged\b|\bcapacity\b"
            r"|\bholds (?:little|no)\b",
        ),
        Prevention(
            "heat, and being kept full for long",
            "keep devices away from sun and heaters, let charging end below full "
            "where that can be set, and hand in at once what no longer shuts flat",
        ),
    ),
    (
        _both(r"\bhinge|\bpivot|\blid\b", rf"{_BROKEN}|\bloose\b|\bworn\b"),
        Prevention(
            "opening at one corner, and things shut in between",
            "open with a hand in the middle, carry devices shut, and lay nothing on "
            "the keys",
        ),
    ),
    (
        _both(
            r"\bglass|\bscreen|\bdisplay|\bpanel|\bwindow|\bcase\b|\bcover|\bdoor"
            r"|\bcorner|\bedge|\bframe|\bhousing",
            rf"{_BROKEN}|\bscratch|\bchipped\b",
        ),
        Prevention(
            "drops, knocks and grit",
            "give every device a case that stands over its face and a strap or holder "
            "where it is carried, and ask after each drop where it happened",
        ),
    ),
    (
        _both(
            r"\b(?:charg\w*|power|dock\w*) (?:port|socket|plug|inlet|contact)|\bplug\b",
            rf"{_BROKEN}|\bloose\b|\bworn\b|\bpulled\b",
        ),
        Prevention(
            "pull and tilt at the plug",
            "lead cables so that nobody trips over them, plug in straight or use a "
            "dock, and take bent plugs away",
        ),
    ),
    (
        r"\bdust|overheat|"
        + _both(r"\bfan\b", r"\bworn\b|\bclog|\bloud\b|\bnois|\bblocked\b"),
        Prevention(
            "dust in the vents",
            "clean the vents on fixed days and never lay a running device on cloth",
        ),
    ),
    (
        _both(r"\b(?:side-)?key(?:s|pad|board)?\b", r"\bworn\b"),
        Prevention(
            "wear by use",
            "share the most used devices out in turns and plan the exchange before "
            "they fail",
        ),
    ),
)


def prevention_of(fault: str) -> Prevention | None:
    """
    Tell the usual cause of a fault by its words.

    Parameters
    ----------
    fault
        The fault as the workshop calls it.

    Returns
    -------
    Prevention or None
        Cause and prevention; ``None`` where no word tells the cause.
    """
    liquid, *others = _USUAL
    for pattern, prevention in [liquid] if _INSIDE.search(fault) else [liquid, *others]:
        if re.search(pattern, fault, re.IGNORECASE):
            return prevention
    return None

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


# The first whose words are found tells: liquid explains dead keys better than wear
# does, and a cracked lid pivot is no cracked glass.
_USUAL: tuple[tuple[str, Prevention], ...] = (
    (
        r"liquid|\bspill|\bgel\b|\bwet\b|\brins|\bfog\b|\bcorro|\bseal",
        Prevention(
            "liquid and cleaning agent",
            "wipe with a damp cloth instead of spraying, keep drinks and gel off the "
            "same table, and put covers on keys",
        ),
    ),
    (
        r"\bpack\b|\bbatter\w*\b(?! door)|swell|swollen",
        Prevention(
            "heat, and being kept full for long",
            "keep devices away from sun and heaters, let charging end below full "
            "where that can be set, and hand in at once what no longer shuts flat",
        ),
    ),
    (
        r"\bhinge|\bpivot|\blid\b",
        Prevention(
            "opening at one corner, and things shut in between",
            "open with a hand in the middle, carry devices shut, and lay nothing on "
            "the keys",
        ),
    ),
    (
        r"\bglass|\bcrack|\bshatter|\bbroken\b|\bchip|\bbent\b|\bscratch",
        Prevention(
            "drops, knocks and grit",
            "give every device a case that stands over its face and a strap or holder "
            "where it is carried, and ask after each drop where it happened",
        ),
    ),
    (
        r"\bport\b|\bsocket|\bplug\b|\bdock|\bcharg",
        Prevention(
            "pull and tilt at the plug",
            "lead cables so that nobody trips over them, plug in straight or use a "
            "dock, and take bent plugs away",
        ),
    ),
    (
        r"\bfan\b|\bdust|overheat|\bhot\b",
        Prevention(
            "dust in the vents",
            "clean the vents on fixed days and never lay a running device on cloth",
        ),
    ),
    (
        r"\bkey(?:s|pad|board)?\b.*\bworn\b|\bworn\b.*\bkey|\bside-key\b",
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
    for pattern, prevention in _USUAL:
        if re.search(pattern, fault, re.IGNORECASE):
            return prevention
    return None

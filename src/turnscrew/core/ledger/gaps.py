"""Which entries does a journal lack since a restore in part, in words and numbers?"""

import re
from collections.abc import Iterable

RESTORED_IN_PART = "restored in part"
"""The verb of the entry that tells what a restore could not bring back."""

_SPAN = re.compile(r"(\d+)(?:-(\d+))?")


def gaps_text(numbers: Iterable[int]) -> str:
    """
    Write numbers as spans.

    Parameters
    ----------
    numbers
        Numbers of entries, in any order.

    Returns
    -------
    str
        Such as "3-5, 9"; empty if there are none.
    """
    spans: list[list[int]] = []
    for number in sorted(set(numbers)):
        if spans and number == spans[-1][1] + 1:
            spans[-1][1] = number
        else:
            spans.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in spans)


def numbers_in(text: str) -> frozenset[int]:
    """
    Read spans back as numbers.

    Parameters
    ----------
    text
        Such as "3-5, 9".

    Returns
    -------
    frozenset of int
        The numbers.
    """
    return frozenset(
        number
        for first, last in _SPAN.findall(text)
        for number in range(int(first), int(last or first) + 1)
    )

"""How are two numbers on a body compared?"""

import re
from functools import lru_cache

_NOT_READ = frozenset(
    ("unread", "unreadable", "illegible", "not readable", "cannot be read", "no serial",
     "none", "n/a", "na", "unknown", "?", "-", "–", "unleserlich", "nicht lesbar",
     "ohne", "keine", "unbekannt")
)  # fmt: skip
"""What offices write where no number can be read; common practice, no source."""


def number_read(text: str) -> str:
    """
    Give a number as it was written, or nothing where that says that none was read.

    Parameters
    ----------
    text
        What stands where the number is wanted.

    Returns
    -------
    str
        The number; devices without one are never the same by it.
    """
    words = text.strip().strip("()").lower()
    return "" if words in _NOT_READ else text


@lru_cache(maxsize=200_000)
def plain(text: str) -> str:
    """
    Give a number without what does not count: case, blanks and hyphens.

    Parameters
    ----------
    text
        The number as written.

    Returns
    -------
    str
        The number for comparing.
    """
    return re.sub(r"[\s\-‐–]+", "", text).upper()

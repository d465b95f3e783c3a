"""How are two numbers on a body compared?"""

import re
from functools import lru_cache

_NOT_COUNTED = re.compile(r"[\s\-\u00ad\u2010-\u2015\u2212\u200b-\u200f\u2060\ufeff]+")
_AS_TEXT = re.compile(r"""\A(?:="?|')(.*?)"?\Z""", re.DOTALL)

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
    Give a number without what does not count: case, blanks, dashes, signs unseen.

    Nor does count what tells a spreadsheet to take it as a text.

    Parameters
    ----------
    text
        The number as written.

    Returns
    -------
    str
        The number for comparing.
    """
    bare = _AS_TEXT.sub(r"\1", text.strip())
    return _NOT_COUNTED.sub("", bare).upper()

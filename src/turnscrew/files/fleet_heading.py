"""Where does the heading of a history of a fleet stand, and what parts its cells?"""

import csv
import re

SEPARATORS = ",;\t"

_LINE_END = re.compile(r"\r\n|\r|\n")
_HEADING_WITHIN = 10
"""A heading stands within so many lines from the top; titles may stand above it."""


def heading_of(text: str) -> tuple[int, str] | None:
    """
    Find the heading of a history: the first line with a column that names units.

    Parameters
    ----------
    text
        The text, or its beginning.

    Returns
    -------
    tuple[int, str] or None
        Lines above it and what parts its cells; ``None`` if there is none.
    """
    for n_above, line in enumerate(_LINE_END.split(text)[:_HEADING_WITHIN]):
        separator = max(SEPARATORS, key=line.count)
        if "unit" in map(folded, next(csv.reader([line], delimiter=separator), [])):
            return n_above, separator
    return None


def folded(cell: str) -> str:
    """
    Give a heading as our columns are written.

    Parameters
    ----------
    cell
        The heading as it stands there.

    Returns
    -------
    str
        In small letters, with low lines between words.
    """
    return "_".join(cell.strip().lower().replace("_", " ").split())

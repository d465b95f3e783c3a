"""
How are open counts of signs by sort of fault read?

One row a count: ``device, fault_type, symptom_tag, count``, the category, the sort of
fault somebody read from the text, the sign and how many texts bear it. The sign
``(any text)`` counts all texts of the sort. Counts that are not there are 0.
"""

import re
from typing import TypeAlias

from turnscrew.errors import Problem
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.row_text import Row
from turnscrew.files.table_text import Wanted, read_table

Counts: TypeAlias = dict[tuple[str, str], dict[str, int]]
"""For category and sort of fault: texts with each sign, and under "" all texts."""

ANY_TEXT = "(any text)"
WANTED = Wanted(needed=("device", "fault_type", "symptom_tag", "count"))
_MOST = 999_999_999


def is_symptom_counts(content: bytes) -> bool:
    """
    Tell by its first line whether a table holds counts of signs.

    Parameters
    ----------
    content
        Bytes of the table.

    Returns
    -------
    bool
        True if the line names the sign and the count.
    """
    first = content.partition(b"\n")[0].decode("utf-8-sig", "replace")
    heading = {cell.strip(' "').lower() for cell in re.split(r"[,;\t\r]", first)}
    return heading >= {"symptom_tag", "count"}


def read_symptom_counts(content: bytes, name: str = "counts.csv") -> Counts:
    """
    Read counts of signs by sort of fault.

    Parameters
    ----------
    content
        Bytes of the table with its heading.
    name
        Its name.

    Returns
    -------
    dict
        For category and sort of fault: texts with each sign, and under "" all
        texts. [1]

    Raises
    ------
    BadFileError
        If anything does not fit, a count stands twice, a sort lacks the count of all
        its texts, or a sign has more texts than there are; with every problem and its
        line.
    """
    table = read_table(content, name, WANTED)
    problems = list(table.problems)
    counts: Counts = {}
    lines: dict[tuple[str, str, str], int] = {}
    for cells, line in zip(table.rows, table.lines, strict=True):
        row = Row(cells, line, problems)
        category, sort = row.needed("device"), row.needed("fault_type")
        tag = row.needed("symptom_tag")
        row.needed("count")
        n = row.whole("count", 0, _MOST)
        first = lines.setdefault((category, sort, tag), line)
        if first != line:
            row.note("symptom_tag", f"{tag} of line {first} once more", "each once")
        key = "" if tag == ANY_TEXT else tag
        counts.setdefault((category, sort), {}).setdefault(key, n or 0)
    if not problems:
        problems += _odd(counts, lines)
    refuse_if_any(problems)
    return counts


def _odd(counts: Counts, lines: dict[tuple[str, str, str], int]) -> list[Problem]:
    """Find sorts without a whole, and parts above their whole."""
    found: list[Problem] = []
    for (category, sort), of in counts.items():
        signs = [tag for tag in of if tag]
        if "" not in of:
            wanted = f"a row {ANY_TEXT}"
            line = lines[category, sort, signs[0]]
            found.append(Problem("fault_type", f"{category}, {sort}", wanted, line, 1))
            continue
        for tag in signs:
            if of[tag] > of[""]:
                line = lines[category, sort, tag]
                wanted = f"at most {of['']}, all texts of {sort}"
                found.append(Problem("count", str(of[tag]), wanted, line, 1))
    return found

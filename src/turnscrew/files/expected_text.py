"""How is it written which devices are to come, and by which day each is promised?"""

import re
from collections.abc import Collection, Iterable

from turnscrew.core.model.expected import Expected
from turnscrew.core.model.nearest import wanted_name
from turnscrew.errors import BadFileError, Problem

_BY_DAY = {"en": "by day", "de": "bis Tag"}
"""What stands before a workshop day, by language; each is read in any."""

_BY = "|".join(words.replace(" ", r"\s+") for words in _BY_DAY.values())
_LINE = re.compile(
    rf"(?:(\d{{1,6}})\s+)?(\S+)(?:\s+(?:{_BY})\s+(\d{{1,5}}))?", re.ASCII
)
_WANTED = "40 V80 by day 4, or the number of one device as in SHN-0001 by day 4"
_LAST_DAY = 10_000
_LONGEST = 60
_WHERE = "to come"


def read_expected(text: str, models: Collection[str]) -> tuple[Expected, ...]:
    """
    Read what is to come, one sort of device a line.

    Parameters
    ----------
    text
        Lines such as ``40 V80 by day 4``, ``10 R50`` or ``SHN-0001 by day 4``.
    models
        Short names of the models that the terms know.

    Returns
    -------
    tuple
        What is to come, in the order of the lines.

    Raises
    ------
    BadFileError
        With every line that cannot be read.
    """
    found, problems = [], []
    for number, line in enumerate(text.splitlines(), 1):
        words = line.strip()
        if not words:
            continue
        read = _read(words, models)
        if isinstance(read, str):
            problems.append(Problem(_WHERE, words, read, number))
        else:
            found.append(read)
    if problems:
        raise BadFileError(tuple(problems))
    return tuple(found)


def _read(words: str, models: Collection[str]) -> Expected | str:
    """Give what a line says, or what was wanted."""
    match = _LINE.fullmatch(words)
    if match is None or len(match[2]) > _LONGEST:
        return _WANTED
    day = int(match[3]) if match[3] else None
    if day is not None and not 1 <= day <= _LAST_DAY:
        return f"a workshop day from 1 to {_LAST_DAY}"
    if match[1] is None:
        if match[2] in models:
            return f"how many of {match[2]}, as in 40 {match[2]}"
        return Expected(number=match[2], due_day=day)
    if match[2] not in models:
        return wanted_name(match[2], models)
    if not int(match[1]):
        return "one device or more"
    return Expected(model=match[2], n=int(match[1]), due_day=day)


def expected_text(expected: Iterable[Expected], language: str = "en") -> str:
    """
    Write what is to come as it is read.

    Parameters
    ----------
    expected
        What is to come.
    language
        Of whoever reads it; English if it is none that is known.

    Returns
    -------
    str
        One line each.
    """
    by_day = _BY_DAY.get(language, _BY_DAY["en"])
    return "\n".join(
        (f"{one.n} {one.model}" if one.model else one.number)
        + (f" {by_day} {one.due_day}" if one.due_day is not None else "")
        for one in expected
    )

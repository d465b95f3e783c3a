"""How is a text with problems refused?"""

from collections.abc import Iterable
from typing import NoReturn

from turnscrew.errors import BadFileError, Problem


def refuse_if_any(problems: Iterable[Problem]) -> None:
    """
    Refuse a text that has problems, each told once, in the order of the text.

    Parameters
    ----------
    problems
        The problems.

    Raises
    ------
    BadFileError
        If there are any.
    """
    told = sorted(set(problems), key=lambda p: (p.line, p.column, p.where, p.found))
    if told:
        raise BadFileError(tuple(told))


def refuse(
    where: str, found: str, wanted: str, line: int = 1, column: int = 1
) -> NoReturn:
    """
    Refuse a file for one reason.

    Parameters
    ----------
    where
        What is wrong.
    found
        What stands there.
    wanted
        What would be right.
    line
        Its line.
    column
        Its column.

    Raises
    ------
    BadFileError
        Always.
    """
    raise BadFileError((Problem(where, found, wanted, line, column),))

"""The errors a caller may catch, and the one shape of a problem in a file."""

from dataclasses import dataclass

_SHOWN = 300
"""Most characters of what was found that a message repeats. [1]"""


class TurnscrewError(Exception):
    """Say that something went wrong which the user can act on."""


class BadArgumentError(TurnscrewError, ValueError):
    """Refuse a value outside its stated range."""


class ConflictError(TurnscrewError):
    """Refuse because the records changed meanwhile, or stock ran short."""


class NotAllowedError(TurnscrewError):
    """Refuse because this person may see the thing but not change it."""


@dataclass(frozen=True)
class Problem:
    """
    Say where a text breaks its format, what was found and what was wanted.

    Parameters
    ----------
    where
        The path of the fact in the user's words, such as ``joints.pack plug.holds``.
    found
        What stands there.
    wanted
        What would be right, with the nearest known name where there is one.
    line
        Line of the text, counted from 1; 0 if the text as a whole is meant. [1]
    column
        Column of the text, counted from 1; 0 if unknown. [1]
    file
        Name of the file as the shell knows it; readers leave it empty.
    """

    where: str
    found: str
    wanted: str
    line: int = 0
    column: int = 0
    file: str = ""

    def __str__(self) -> str:
        """Give the problem as one line of text."""
        place = f"{self.file or 'text'}:{self.line}:{self.column}"
        where, found = _short(self.where), _short(self.found)
        return f"{place}: {where}: found {found}, wanted {self.wanted}"


def _short(text: str) -> str:
    """Cut what somebody wrote to what can be read in one look."""
    return text if len(text) <= _SHOWN else text[: _SHOWN - 1] + "…"


class BadFileError(TurnscrewError):
    """
    Refuse a text that breaks its format, with every problem found.

    Parameters
    ----------
    problems
        All problems, in the order of the file.
    """

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(str(problem) for problem in problems))
        self.problems = problems

"""How is what a command prints said in the language that was chosen?"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from turnscrew.core.model.german import GERMAN_COMMANDS
from turnscrew.core.model.notation import Notation, Sign
from turnscrew.errors import BadArgumentError
from turnscrew.papers.set_aside import plain
from turnscrew.papers.telling import Telling

Says: TypeAlias = Callable[[str], str] | None
"""Says one text of ours; none if it is printed as it was written."""

_COMMANDS = {"de": GERMAN_COMMANDS}
_GAP = re.compile(r" {2,}")
_MARK = re.compile(r"(?:\[ \]|!|-) ")
"""What stands before the words of a line: a box, a caution, a reason."""

_LEAST_GAP = 2


@dataclass(frozen=True)
class Wording:
    """
    How what a command prints, and what is on its papers, is read.

    Parameters
    ----------
    language
        Short name of the language; empty for English.
    notation
        How lengths and decimal numbers are written.
    """

    language: str = ""
    notation: Notation = Notation()

    @property
    def has_comma(self) -> bool:
        """Tell whether the decimal sign of the language is the comma."""
        return self.language in _COMMANDS

    def figures(self, text: str) -> str:
        """
        Write the figures of a text as they are read.

        Parameters
        ----------
        text
            In the language, what a person wrote between marks.

        Returns
        -------
        str
            The text without marks.
        """
        return self.notation.prose(plain(text), has_comma=self.has_comma)


def wording_from(language: str, decimal: str = "", lengths: str = "mm") -> Wording:
    """
    Read how the user wants to read.

    Parameters
    ----------
    language
        Short name of the language; empty for English.
    decimal
        The decimal sign in words; empty for that of the language.
    lengths
        ``inch`` for inches beside millimetres.

    Returns
    -------
    Wording
        How it is read.

    Raises
    ------
    BadArgumentError
        If a word is not known.
    """
    if language and language not in _COMMANDS:
        raise BadArgumentError(f"language {language}, wanted {', '.join(_COMMANDS)}")
    return Wording(language, notation_from(decimal, lengths))


def notation_from(decimal: str, lengths: str) -> Notation:
    """
    Read how lengths and decimal numbers are to be written.

    Parameters
    ----------
    decimal
        The decimal sign in words; empty for that of the language.
    lengths
        ``inch`` for inches beside millimetres.

    Returns
    -------
    Notation
        How they are written.

    Raises
    ------
    BadArgumentError
        If a word is not known.
    """
    match decimal:
        case "" | "point" | "comma":
            sign: Sign = decimal
        case _:
            raise BadArgumentError(f"decimal {decimal}, wanted point or comma")
    match lengths:
        case "mm" | "inch":
            return Notation(lengths, sign)
    raise BadArgumentError(f"lengths {lengths}, wanted mm or inch")


def phrases_of(command: str) -> dict[str, Mapping[str, str]]:
    """
    Give what a command may print.

    Parameters
    ----------
    command
        Its name.

    Returns
    -------
    dict
        Phrases by the short name of a language but English.
    """
    return {language: phrases[command] for language, phrases in _COMMANDS.items()}


def says_in(wording: Wording, command: str, own: Iterable[str] = ()) -> Says:
    """
    Give what says the sentences of a command.

    Parameters
    ----------
    wording
        How they are read.
    command
        Name of the command.
    own
        What people wrote; it stays as it is.

    Returns
    -------
    Callable or None
        What says one text; none if it is printed as it was written.
    """
    if wording == Wording():
        return None
    if not wording.language:
        return wording.figures
    phrases = phrases_of(command)
    return Telling(phrases, wording.language, wording.notation, frozenset(own)).says


def said(lines: Iterable[str], says: Says) -> Iterator[str]:
    """
    Say lines of ours, each column by itself and at its place where it fits.

    Parameters
    ----------
    lines
        Lines in English, what a person wrote between marks; two blanks or more part
        columns.
    says
        What says one text; none to print it as it was written.

    Yields
    ------
    str
        The lines.
    """
    for line in lines:
        yield plain(line) if says is None else _said(line, says)


def _said(line: str, says: Callable[[str], str]) -> str:
    told, at = "", 0
    for gap in _GAP.finditer(line):
        told += _cell(line[at : gap.start()], says)
        at = gap.end()
        least = len(told) + _LEAST_GAP if told else 0
        told = told.ljust(max(len(plain(line[:at])), least))
    return told + _cell(line[at:], says)


def _cell(cell: str, says: Callable[[str], str]) -> str:
    mark = _MARK.match(cell)
    head = mark[0] if mark else ""
    words = cell[len(head) :]
    return head + (says(words) if words else "")

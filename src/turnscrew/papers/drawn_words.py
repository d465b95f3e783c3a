"""How do the words inside a drawing of ours read?"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from html import unescape
from textwrap import wrap
from xml.sax.saxutils import escape

LEAST_MM = 2.5
"""Size of the smallest type of words in a drawing, as printed: 7 points. [mm]"""

LINE_PER_SIZE = 1.1
"""From one line of words to the next, per size of type. [1]"""

WIDTH_PER_SIZE = 0.56
"""Mean width of a letter of the bold face, per size of type. [1]"""

_TEXT = re.compile(r'(<text\b[^>]*?font-size=")([\d.]+)("[^>]*>)([^<]+)(?=</text>)')
_ROOMY = re.compile(
    r'<text data-room="(?P<room>[^"]*)" x="(?P<x>[^"]*)"[^>]*? font-size="[^"]*"'
    r"(?P<rest>[^>]*)>(?P<lines>.*?)</text>"
)
_LENGTH = re.compile(r"(?<=\d) (?=mm\b)")
_FIRM = "\u00a0"


@dataclass(frozen=True)
class Room:
    """
    What room words have in a drawing.

    Parameters
    ----------
    x_mm
        Where their lines begin, or their middle. [mm]
    y_mm
        Middle height of them all. [mm]
    width_mm
        How long a line may be. [mm]
    most_mm
        Size of their type where they have room enough. [mm]
    least_mm
        Size of the type below which another line is begun. [mm]
    """

    x_mm: float
    y_mm: float
    width_mm: float
    most_mm: float
    least_mm: float


def is_drawn(value: str) -> bool:
    """
    Tell whether a text is a drawing.

    Parameters
    ----------
    value
        A value of a sheet.

    Returns
    -------
    bool
        True if it is an SVG.
    """
    return value.startswith("<svg")


def in_room(words: str, room: Room, look: str) -> str:
    """
    Write words into the room they have.

    Parameters
    ----------
    words
        The words.
    room
        Their room.
    look
        How they look: attributes of the SVG element, its size left out.

    Returns
    -------
    str
        The SVG element: one line, smaller where it is long; where that would be too
        small to read, lines as long as the room, or as their longest word.
    """
    size_mm = min(room.most_mm, room.width_mm / (WIDTH_PER_SIZE * max(1, len(words))))
    lines = [words]
    if size_mm < room.least_mm:
        size_mm = room.least_mm
        lines = _lines(words, int(room.width_mm / (WIDTH_PER_SIZE * size_mm)))
    x, step = f"{room.x_mm:.3f}", LINE_PER_SIZE * size_mm
    y = room.y_mm + 0.33 * size_mm - step * (len(lines) - 1) / 2
    told = (
        escape(words)
        if len(lines) == 1
        else "".join(
            f'<tspan x="{x}" y="{y + k * step:.3f}">{escape(line)}</tspan>'
            for k, line in enumerate(lines)
        )
    )
    sizes = (room.y_mm, room.width_mm, room.most_mm, room.least_mm)
    return (
        f'<text data-room="{" ".join(f"{size:.3f}" for size in sizes)}" x="{x}" '
        f'y="{y:.3f}" font-size="{size_mm:.3f}" {look.strip()}>{told}</text>'
    )


def words_of(lines: str) -> str:
    """
    Read the words of one text of a drawing.

    Parameters
    ----------
    lines
        What stands inside its SVG element.

    Returns
    -------
    str
        The words; their lines are put together again.
    """
    bare = re.sub("<[^>]*>", "", lines.replace("</tspan><tspan", "</tspan> <tspan"))
    return unescape(bare)


def _lines(words: str, n_letters: int) -> list[str]:
    """Break words at their blanks; a figure and its unit stay on one line."""
    firm = _LENGTH.sub(_FIRM, words)
    longest = max(map(len, firm.split(" ")))
    broken = wrap(firm, max(1, n_letters, longest), break_on_hyphens=False)
    return [line.replace(_FIRM, " ") for line in broken]


def with_words_said(svg: str, says: Callable[[str], str]) -> str:
    """
    Say the words inside a drawing; its lines stay true to scale.

    Parameters
    ----------
    svg
        The drawing.
    says
        Says one text.

    Returns
    -------
    str
        The drawing; words are set anew in the room they have, and words whose room is
        not known are written smaller if they became longer.
    """

    def said(found: re.Match[str]) -> str:
        before, size, between, words = found.groups()
        if " data-room=" in before:
            return found[0]
        told = says(unescape(words))
        longer = max(1.0, len(told) / len(unescape(words)))
        if longer > 1:
            size = f"{float(size) / longer:.3f}"
        return f"{before}{size}{between}{escape(told)}"

    def set_anew(found: re.Match[str]) -> str:
        room = Room(float(found["x"]), *map(float, found["room"].split()))
        return in_room(says(words_of(found["lines"])), room, found["rest"])

    return _ROOMY.sub(set_anew, _TEXT.sub(said, svg))

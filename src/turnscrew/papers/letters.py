"""Which letters of a sheet does no font of the papers hold, and in which words?"""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from html import unescape
from string import punctuation
from typing import TYPE_CHECKING, Any
from unicodedata import category

from turnscrew.papers.drawn_words import is_drawn

if TYPE_CHECKING:
    from typst import Fonts

LACKING = "Each box is a letter that this font lacks: see the screen for"
"""What the foot says before it names the words."""

MORE_WORDS = "more words"
"""What the foot says before it counts the words it has no room to name."""

_LAST_LATIN = "\u017f"
"""The font of the papers holds every letter up to here."""

_NO_LETTER = "\U0010ffff"
"""It is never a letter, so that what is drawn for it is the box."""

_NOT_DRAWN = frozenset({"Cc", "Cf", "Cs", "Mc", "Me", "Mn", "Zl", "Zp", "Zs"})
"""Controls, spaces, and marks that stand on another letter."""

_MOST_LETTERS = 6
"""Letters of one word that are named. [1]"""

_MOST_NAMED = 84
"""Signs of all names at the foot, so that they fit one small line. [1]"""

_TAG = re.compile("<[^>]*>")

# A letter that no font holds is drawn as the box, and is as wide and high as the box.
_MEASURE = """
#let d = json(bytes(sys.inputs.d))
#set text(font: d.font, size: 1000pt, top-edge: "bounds")
#context {
  let size(letter) = ("bounds", "baseline").map(edge => {
    let all = measure(text(bottom-edge: edge, letter))
    (all.width, all.height)
  })
  let box = size(d.box)
  [#metadata(d.letters.filter(letter => size(letter) == box)) <lacking>]
}
"""


@dataclass(frozen=True)
class Lacking:
    """
    What a sheet cannot print.

    Parameters
    ----------
    letters
        Every letter that no font holds, once.
    words
        The words they stand in, each named by the numbers of its letters.
    n_more
        How many words more there are. [1]
    """

    letters: str = ""
    words: tuple[str, ...] = ()
    n_more: int = 0


def lacking_in(data: Mapping[str, Any], font: str, fonts: "Fonts") -> Lacking:
    """
    Find the words of a sheet that cannot be printed whole.

    Parameters
    ----------
    data
        All words of the sheet, as they are printed.
    font
        Name of the font of the sheet.
    fonts
        The fonts there are; what the first lacks another one may hold.

    Returns
    -------
    Lacking
        The letters and words; empty if all can be printed.
    """
    words = dict.fromkeys(word for text in _texts(data) for word in text.split())
    odd = sorted({letter for word in words for letter in word if _is_odd(letter)})
    boxes = frozenset(_not_held(odd, font, fonts)) if odd else frozenset()
    names = [
        _named(word, boxes) for word in words if any(letter in boxes for letter in word)
    ]
    kept = _that_fit(list(dict.fromkeys(names)))
    return Lacking("".join(sorted(boxes)), kept, len(set(names)) - len(kept))


def told_lacking(lacking: Lacking) -> dict[str, Any]:
    """
    Give what the foot of a sheet reads of it.

    Parameters
    ----------
    lacking
        What cannot be printed.

    Returns
    -------
    dict
        The values, with the fixed words beside them.
    """
    return {**asdict(lacking), "says": LACKING, "more": MORE_WORDS}


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield unescape(_TAG.sub(" ", value)) if is_drawn(value) else value
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _texts(inner)
    elif isinstance(value, (list, tuple)):
        for inner in value:
            yield from _texts(inner)


def _is_odd(letter: str) -> bool:
    return letter > _LAST_LATIN and category(letter) not in _NOT_DRAWN


def _not_held(letters: Sequence[str], font: str, fonts: "Fonts") -> list[str]:
    import typst  # noqa: PLC0415 - slow library

    asked = {"font": font, "box": _NO_LETTER, "letters": letters}
    told = typst.query(
        _MEASURE.encode(), "<lacking>", field="value", one=True, font_paths=fonts,
        sys_inputs={"d": json.dumps(asked)},
    )  # fmt: skip
    found: list[str] = json.loads(told)
    return found


def _named(word: str, boxes: frozenset[str]) -> str:
    """Name a word: what is printed of it stays, each box is told by its number."""
    bare = word.strip(punctuation) or word
    signs = [f" {ord(sign):04X} " if sign in boxes else sign for sign in bare]
    told = "".join(signs[:_MOST_LETTERS]).replace("  ", " ").strip()
    return f"{told}…" if len(signs) > _MOST_LETTERS else told


def _that_fit(names: Sequence[str]) -> tuple[str, ...]:
    room = _MOST_NAMED
    kept = []
    for name in names:
        room -= len(name) + 2
        if room < 0:
            break
        kept.append(name)
    return tuple(kept)

"""Which faces of a device are photographed on arrival, and what is drawn of them?"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Face:
    """
    One face that is photographed.

    Parameters
    ----------
    name
        Its name.
    width
        Width of its outline, the longer side being 100. [1]
    height
        Height of its outline. [1]
    """

    name: str
    width: int
    height: int


_CLAMSHELL = (
    Face("lid", 100, 70), Face("base", 100, 70), Face("keys", 100, 70),
    Face("picture", 100, 68), Face("left edge", 100, 10), Face("right edge", 100, 10),
)  # fmt: skip
_TABLET = (
    Face("picture", 64, 100), Face("back", 64, 100), Face("left edge", 100, 8),
    Face("right edge", 100, 8), Face("edge with the socket", 100, 12),
)  # fmt: skip
_HANDHELD = (
    Face("keys", 48, 100), Face("back", 48, 100), Face("window", 100, 46),
    Face("left edge", 100, 26), Face("right edge", 100, 26),
)  # fmt: skip
_OTHER = (
    Face("front", 80, 100), Face("back", 80, 100), Face("left edge", 100, 12),
    Face("right edge", 100, 12),
)  # fmt: skip

_BY_WORD = (
    ("clamshell", _CLAMSHELL), ("laptop", _CLAMSHELL), ("tablet", _TABLET),
    ("handheld", _HANDHELD), ("terminal", _HANDHELD),
)  # fmt: skip
"""Words of a description's own line, and the faces they ask for; common practice."""

DAMAGE = ("crack", "dent", "scratch", "stain", "missing", "other")
"""Kinds of damage that are marked on an outline."""

MISSING = ("feet", "screws", "trims", "keys", "covers")
"""Pieces that are counted where they are missing on arrival."""


def faces_of(what: str) -> tuple[Face, ...]:
    """
    Give the faces of a kind of device, in the order in which they are taken.

    Parameters
    ----------
    what
        What kind of device it is, in words.

    Returns
    -------
    tuple[Face, ...]
        The faces; four common ones where the words tell no kind.
    """
    said = what.casefold()
    return next((faces for word, faces in _BY_WORD if word in said), _OTHER)

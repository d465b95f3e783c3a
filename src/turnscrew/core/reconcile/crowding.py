"""
How many serial numbers have a near neighbour by mere chance?

Numbers are grouped by what they look like: by length; by shape, that is letters and
digits by place; by shape and head, the part before the first hyphen or blank or, where
nothing parts them, the letters in front. In a group the places are taken as
independent. At each place, two numbers agree with probability q: for large groups the
share of agreeing pairs seen, for small ones 1/m with m characters in use. All ten
digits or twenty-six letters are taken to be in use unless clearly fewer are seen than
so many numbers would show.

With n numbers, a number has about ``(n - 1) * P`` neighbours by chance, where P is the
probability that two numbers are one slip apart. Heads are averaged over their shape.
The largest of the three groupings counts, so that numbers of three makes with twenty
each are not taken for sixty of one, nor two thousand for a sparse few.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import prod, sqrt
from typing import Literal

Slip = Literal["single", "swapped", "confused"]
"""One character wrong, lost or added; two swapped; any number easily confused."""
Crowding = Callable[[str], Mapping[Slip, float]]
"""Gives the neighbours by chance of a plain number, by kind of slip. [1]"""

CONFUSED = str.maketrans("OQDILBSZGV", "000118526U")
"""What easily confused characters are read as."""

_SLIPS: tuple[Slip, ...] = ("single", "swapped", "confused")
_NONE: Mapping[Slip, float] = dict.fromkeys(_SLIPS, 0.0)
_CLEARLY_FEWER = 0.5
"""Share of the characters to be expected below which fewer are in use. [1]"""
_LARGE = 10
"""So many numbers for each character in use make shares seen trustworthy. [1]"""


@dataclass(frozen=True)
class _Place:
    """
    One place of the numbers of a group.

    Parameters
    ----------
    p_same
        Probability that two numbers agree there. [1]
    p_confused
        Probability that they differ, but are easily confused. [1]
    kind
        Digits, letters, both, or the one other character.
    """

    p_same: float
    p_confused: float
    kind: str


def crowding(serials: Mapping[str, str]) -> Crowding:
    """
    Estimate how many neighbours numbers have by chance.

    Parameters
    ----------
    serials
        All numbers as written, by their plain form.

    Returns
    -------
    Crowding
        Tells it for any number, also one that is not among them.
    """
    by_length = _by_group(serials, len)
    by_shape = _by_group(serials, _shape)
    by_head: dict[str, dict[Slip, float]] = defaultdict(lambda: dict(_NONE))
    groups: dict[tuple[str, str], list[str]] = defaultdict(list)
    for text, written in serials.items():
        groups[_shape(text), _head(written)].append(text)
    n_of_shape = Counter(_shape(text) for text in serials)
    for (shape, _), group in groups.items():
        for slip, n in _neighbours(group).items():
            by_head[shape][slip] += n * len(group) / n_of_shape[shape]

    def told(text: str) -> Mapping[Slip, float]:
        shape = _shape(text)
        of = (
            by_length.get(len(text), _NONE),
            by_shape.get(shape, _NONE),
            by_head.get(shape, _NONE),
        )
        return {slip: max(one[slip] for one in of) for slip in _SLIPS}

    return told


def _by_group(
    texts: Iterable[str], key: Callable[[str], Hashable]
) -> dict[Hashable, Mapping[Slip, float]]:
    groups: dict[Hashable, list[str]] = defaultdict(list)
    for text in texts:
        groups[key(text)].append(text)
    return {name: _neighbours(group) for name, group in groups.items()}


def _shape(text: str) -> str:
    return re.sub(r"[^\W\d_]", "A", re.sub(r"\d", "9", text))


def _head(written: str) -> str:
    parts = re.split(r"[\s\-‐–]+", written.strip().upper(), maxsplit=1)
    if len(parts) > 1:
        return parts[0]
    letters = re.match(r"[^\W\d_]*", parts[0])
    return letters[0] if letters else ""


def _neighbours(group: Collection[str]) -> Mapping[Slip, float]:
    """Give the neighbours by chance of a number of a group of one length."""
    if len(group) < 2:
        return _NONE
    places = [_place(Counter(column)) for column in zip(*group, strict=True)]
    same = [place.p_same for place in places]
    either = prod(place.p_same + place.p_confused for place in places)
    chances: Mapping[Slip, float] = {
        "single": sum(
            (1 - p) * prod(same[:i]) * prod(same[i + 1 :]) for i, p in enumerate(same)
        ),
        "swapped": sum(_p_swapped(places, i) for i in range(len(places) - 1)),
        "confused": either - prod(same),
    }
    return {slip: (len(group) - 1) * p for slip, p in chances.items()}


def _p_swapped(places: Sequence[_Place], i: int) -> float:
    one, other = places[i], places[i + 1]
    if one.kind != other.kind:
        return 0.0
    rest = prod(place.p_same for place in (*places[:i], *places[i + 2 :]))
    # Both places agree crosswise, and the two characters are not the same.
    unlike = 1 - max(one.p_same, other.p_same)
    return rest * one.p_same * other.p_same * unlike


def _place(seen: Counter[str]) -> _Place:
    n = seen.total()
    n_pairs = n * (n - 1)
    has_digit = any(c.isdecimal() for c in seen)
    has_letter = any(c.isalpha() for c in seen)
    full = 10 * has_digit + 26 * has_letter
    classes: Counter[str] = Counter()
    for c, n_seen in seen.items():
        classes[c.translate(CONFUSED)] += n_seen
    n_same = sum(k * (k - 1) for k in seen.values())
    n_alike = sum(k * (k - 1) for k in classes.values())
    if full and n < _LARGE * full:
        p_same = 1 / _in_use(len(seen), n, full)
    else:
        p_same = n_same / n_pairs
    kind = f"{has_digit} {has_letter}" if full else min(seen)
    return _Place(p_same, (n_alike - n_same) / n_pairs, kind)


def _in_use(n_seen: int, n: int, full: int) -> float:
    """Give how many characters are in use where n numbers show so many."""
    n_expected = full * (1 - (1 - 1 / full) ** n)
    if n_seen >= _CLEARLY_FEWER * n_expected:
        return max(full, n_seen)
    # Two or three numbers that agree say little yet.
    return n_seen + max(full - n_seen, 0) / (n * sqrt(n))

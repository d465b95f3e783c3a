"""
Which serial numbers are so alike that one may be a slip of the other?

Slips looked for: characters that are easily confused (0 and O, 1 and I, 8 and B), lost
leading zeros, two neighbours swapped, one character wrong, lost or added. Case, blanks
and hyphens do not count.

Among many numbers of one shape a neighbour one character away is there by chance. With
n numbers of a shape, N possible ones and k neighbours each, a number has n * k / N of
them by chance; where that is above one in a hundred, swaps and single characters say
nothing and are not told. Confused characters and lost zeros are told always, since
numbers that differ so do not come up by chance: numbers of one shape have their letters
and digits at the same places.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

CHANCE = 0.01
"""Most neighbours by chance at which a neighbour is told. [1]"""

_CONFUSED = str.maketrans("OQDILBSZGV", "000118526U")
_ZEROS = re.compile(r"(?<!\d)0+(?=\d)")
_WILD = "\x00"


@dataclass(frozen=True)
class NearPair:
    """
    Two serials that may be slips of one another.

    Parameters
    ----------
    one
        One serial, as written.
    other
        The other, as written.
    kind
        How they differ.
    """

    one: str
    other: str
    kind: str


@lru_cache(maxsize=200_000)
def plain(text: str) -> str:
    """
    Give a number without what does not count: case, blanks and hyphens.

    Parameters
    ----------
    text
        The number as written.

    Returns
    -------
    str
        The number for comparing.
    """
    return re.sub(r"[\s\-‐–]+", "", text).upper()


@lru_cache(maxsize=200_000)
def without_zeros(text: str) -> str:
    """
    Give a number without the leading zeros of its runs of digits.

    A hyphen or blank parts two runs: ``PL3-00042`` and ``PL3-42`` become one.

    Parameters
    ----------
    text
        The number as written.

    Returns
    -------
    str
        The number for comparing.
    """
    return plain(_ZEROS.sub("", text))


def near_pairs(serials: Sequence[str]) -> tuple[NearPair, ...]:
    """
    Find the near pairs among serials.

    Parameters
    ----------
    serials
        Serials as written; blank ones and repeats are left out.

    Returns
    -------
    tuple[NearPair, ...]
        Each pair once, in order.
    """
    return tuple(_near(serials, serials, is_same=True))


def near_between(left: Sequence[str], right: Sequence[str]) -> tuple[NearPair, ...]:
    """
    Find the near pairs between two sets of serials.

    Parameters
    ----------
    left
        Serials as written.
    right
        Others.

    Returns
    -------
    tuple[NearPair, ...]
        Each pair once, ``one`` from the left; equal serials are no pair.
    """
    return tuple(_near(left, right, is_same=False))


def slip_between(one: str, other: str) -> str:
    """
    Say how two numbers differ, whatever chance says.

    Parameters
    ----------
    one
        A number as written.
    other
        Another.

    Returns
    -------
    str
        The kind of slip; empty if they are equal or further apart.
    """
    a, b = plain(one), plain(other)
    if a == b or not a or not b:
        return ""
    return _sure_kind(one, other) or _chance_kind(a, b)


def _near(
    left: Sequence[str], right: Sequence[str], *, is_same: bool
) -> Iterator[NearPair]:
    as_written = {plain(text): text for text in reversed([*right, *left]) if text}
    mine = dict.fromkeys(plain(text) for text in left if plain(text))
    theirs = dict.fromkeys(plain(text) for text in right if plain(text))
    crowd = _crowd(theirs)
    told: set[tuple[str, str]] = set()
    for a, b in _candidates(mine, theirs, as_written):
        pair = (min(a, b), max(a, b)) if is_same else (a, b)
        if a == b or pair in told:
            continue
        told.add(pair)
        kind = _sure_kind(as_written[a], as_written[b])
        if not kind and max(crowd.get(_shape(a), 0), crowd.get(_shape(b), 0)) <= CHANCE:
            kind = _chance_kind(a, b)
        if kind:
            yield NearPair(as_written[a], as_written[b], kind)


def _candidates(
    mine: Iterable[str], theirs: Iterable[str], as_written: Mapping[str, str]
) -> Iterator[tuple[str, str]]:
    """Give all pairs that are equal but for one slip, and few others."""
    index: dict[str, list[str]] = defaultdict(list)
    for b in theirs:
        for key in _keys(b, as_written[b]):
            index[key].append(b)
    for a in mine:
        for key in _keys(a, as_written[a]):
            for b in index.get(key, ()):
                yield a, b


def _keys(text: str, written: str) -> set[str]:
    keys = {f"c{text.translate(_CONFUSED)}", f"z{without_zeros(written)}"}
    for i in range(len(text)):
        keys.add(f"w{text[:i]}{_WILD}{text[i + 1 :]}")
        # One character lost here is one added there.
        keys.add(f"d{text[:i]}{text[i + 1 :]}")
        pair = "".join(sorted(text[i : i + 2]))
        keys.add(f"s{i}{text[:i]}{pair}{text[i + 2 :]}")
    keys.add(f"d{text}")
    return keys


def _sure_kind(one: str, other: str) -> str:
    if plain(one).translate(_CONFUSED) == plain(other).translate(_CONFUSED):
        return "characters easily confused"
    if without_zeros(one) == without_zeros(other):
        return "leading zeros"
    return ""


def _chance_kind(a: str, b: str) -> str:
    if len(a) == len(b):
        at = [i for i in range(len(a)) if a[i] != b[i]]
        if len(at) == 1:
            return "one character"
        is_swap = len(at) == 2 and at[1] == at[0] + 1
        if is_swap and a[at[0]] == b[at[1]] and a[at[1]] == b[at[0]]:
            return "neighbours swapped"
        return ""
    long, short = (a, b) if len(a) > len(b) else (b, a)
    if len(long) - len(short) == 1 and any(
        long[:i] + long[i + 1 :] == short for i in range(len(long))
    ):
        return "one character more"
    return ""


def _shape(text: str) -> str:
    return re.sub(r"[^\W\d_]", "A", re.sub(r"\d", "9", text))


def _crowd(serials: Iterable[str]) -> Mapping[str, float]:
    """Give the neighbours each number of a shape has by chance."""
    groups: dict[str, list[str]] = defaultdict(list)
    for text in serials:
        groups[_shape(text)].append(text)
    return {shape: _by_chance(shape, group) for shape, group in groups.items()}


def _by_chance(shape: str, group: Sequence[str]) -> float:
    n_possible, n_neighbours = 1, max(len(shape) - 1, 0)
    for i, kind in enumerate(shape):
        seen = {text[i] for text in group}
        if len(seen) > 1:
            n = 10 if kind == "9" else len(seen) + 1
            n_possible *= n
            n_neighbours += n - 1
    return (len(group) - 1) * n_neighbours / n_possible

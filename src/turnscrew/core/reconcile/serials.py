"""
Which serial numbers are so alike that one may be a slip of the other?

Slips looked for: characters that are easily confused (0 and O, 1 and I, 8 and B), lost
leading zeros, two neighbours swapped, one character wrong, lost or added. Case, blanks
and dashes do not count.

Among many numbers a near one is there by chance, so each kind of slip is told only
where chance gives a number at most one such neighbour in a hundred; ``crowding`` says
how that is estimated. Above it a pair needs a second witness: one of the two is
doubtful anyway, since the customer's list does not have it. Then the chance counted is
that of a neighbour where one of the two is doubtful, so that a list which fits badly is
no witness. Lost zeros are told always.

Method: two numbers that are one slip apart have a key in common, such as the number
with one place left open; numbers meet over their keys, never all with all.
"""

import re
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from turnscrew.core.model.serials import plain
from turnscrew.core.reconcile.crowding import CONFUSED, Crowding, Slip, crowding

CHANCE = 0.01
"""Most neighbours by chance at which a neighbour is told. [1]"""

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


def near_pairs(
    serials: Sequence[str], doubtful: Collection[str] = ()
) -> tuple[NearPair, ...]:
    """
    Find the near pairs among serials.

    Parameters
    ----------
    serials
        Serials as written; blank ones and repeats are left out.
    doubtful
        Those of them that are doubtful for another reason.

    Returns
    -------
    tuple[NearPair, ...]
        Each pair once, in the order of the serials.
    """
    texts = _texts(serials)
    crowd = crowding(texts)
    pairs = {frozenset((a, b)) for a, b in _near(texts, texts, crowd, 1.0)}
    some = {plain(text): text for text in doubtful if plain(text) in texts}
    if some:
        # Of all pairs, about this share has a doubtful one in it.
        share = min(1.0, 2 * len(some) / len(texts))
        pairs |= {frozenset((a, b)) for a, b in _near(some, texts, crowd, share)}
    place = {text: n for n, text in enumerate(texts)}
    in_order = sorted(tuple(sorted(place[text] for text in pair)) for pair in pairs)
    written = tuple(texts.values())
    return tuple(_pair(written[a], written[b]) for a, b in in_order)


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
        Each pair once, ``one`` from the left, in order; equal serials are no pair.
    """
    mine, theirs = _texts(left), _texts(right)
    place = {text: n for n, text in enumerate(theirs)}
    order = {text: n for n, text in enumerate(mine)}
    pairs = set(_near(mine, theirs, crowding(theirs), 1.0))
    in_order = sorted(pairs, key=lambda pair: (order[pair[0]], place[pair[1]]))
    return tuple(_pair(mine[a], theirs[b]) for a, b in in_order)


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
    if a.translate(CONFUSED) == b.translate(CONFUSED):
        return "characters easily confused"
    if without_zeros(one) == without_zeros(other):
        return "leading zeros"
    return _one_slip(a, b)


def _texts(serials: Sequence[str]) -> dict[str, str]:
    """Give each serial as it is first written, by its plain form."""
    texts: dict[str, str] = {}
    for text in serials:
        if plain(text):
            texts.setdefault(plain(text), text)
    return texts


def _pair(one: str, other: str) -> NearPair:
    return NearPair(one, other, slip_between(one, other))


def _near(
    left: Mapping[str, str], right: Mapping[str, str], crowd: Crowding, share: float
) -> Iterator[tuple[str, str]]:
    """Give the near pairs that chance does not explain."""
    told: dict[str, frozenset[Slip]] = {}
    for text in (*left, *right):
        told[text] = frozenset(
            slip for slip, n in crowd(text).items() if n * share <= CHANCE
        )
    index: dict[str, list[str]] = defaultdict(list)
    for b, written in right.items():
        for key in _keys(b, written, told[b]):
            index[key].append(b)
    for a, written in left.items():
        for key in _keys(a, written, told[a]):
            for b in index.get(key, ()):
                if a != b and slip_between(written, right[b]):
                    yield a, b


def _keys(text: str, written: str, told: frozenset[Slip]) -> Iterator[str]:
    """Give what a number has in common with those that are one slip away."""
    yield f"z{without_zeros(written)}"
    if "confused" in told:
        yield f"c{text.translate(CONFUSED)}"
    if "single" in told:
        # One character lost here is one added there.
        yield f"d{text}"
        for i in range(len(text)):
            yield f"w{text[:i]}{_WILD}{text[i + 1 :]}"
            # Any of several like neighbours may be lost; one key serves for all.
            if text[i : i + 1] != text[i + 1 : i + 2]:
                yield f"d{text[:i]}{text[i + 1 :]}"
    if "swapped" in told:
        for i in range(len(text) - 1):
            if text[i] != text[i + 1]:
                pair = "".join(sorted(text[i : i + 2]))
                yield f"s{i}{text[:i]}{pair}{text[i + 2 :]}"


def _one_slip(a: str, b: str) -> str:
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

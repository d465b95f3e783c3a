"""
Do failures follow an accessory, a place or a person from unit to unit?

Within each unit the failures are shared out anew among its rows, whatever was with it;
a carrier is suspect if it was there more often than that. So a weak unit blames nobody.
"""

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

import numpy as np
import scipy
from numpy.typing import ArrayLike, NDArray

from turnscrew.core.model.wanted import column, refuse, unlike, unlike_any
from turnscrew.core.reliability.discoveries import adjust_p

Floats = NDArray[np.float64]
Generator = np.random.Generator  # noqa: TID251 - the type, for an argument
Null = Literal["permutation", "exposure"]
How = Literal["exact", "Monte Carlo", "too large", "nothing to compare"]

MOST_ARRANGEMENTS = 20_000
"""How many ways to share out the failures are tried one by one. [1]"""


@dataclass(frozen=True, slots=True)
class Carrier:
    """
    What went from unit to unit, and what failed with it.

    Parameters
    ----------
    name
        Its name.
    n_units
        Units that were both with it and without it. [1]
    failures
        Failures with it, in those units. [1]
    expected
        Failures to expect with it if it did not matter. [1]
    p_value
        Exact chance of so many or more. [1]
    p_adjusted
        The same, adjusted for all carriers looked at, after Holm. [1]
    """

    name: str
    n_units: int
    failures: int
    expected: float
    p_value: float
    p_adjusted: float


@dataclass(frozen=True, slots=True)
class Following:
    """
    Whether failures follow any carrier.

    Parameters
    ----------
    carriers
        All carriers, the most suspect first.
    p_any
        Chance that the most suspect carrier is as far off as seen if none matters;
        ``None`` where that was not reckoned. [1]
    how
        How that chance was found: ``exact`` by trying all arrangements, ``Monte
        Carlo`` by drawing them, ``too large`` where neither was possible.
    n_arrangements
        Ways to share out the failures. [1]
    n_drawn
        Arrangements drawn. [1]
    null
        ``permutation``: the rows of a unit may change places; ``exposure``: each
        failure falls on a row by the length of that row.
    """

    carriers: tuple[Carrier, ...]
    p_any: float | None
    how: How
    n_arrangements: float
    n_drawn: int
    null: Null


@dataclass(frozen=True, slots=True, eq=False)
class _Rows:
    unit: NDArray[np.intp]
    carrier: NDArray[np.intp]
    failures: NDArray[np.int64]
    exposure: Floats
    null: Null

    def groups(self) -> list[NDArray[np.intp]]:
        order = np.argsort(self.unit, kind="stable")
        cuts = np.flatnonzero(np.diff(self.unit[order])) + 1
        return [
            rows
            for rows in np.split(order, cuts)
            # A unit that was always with the same carrier tells nothing of it.
            if np.ptp(self.carrier[rows]) > 0 and self.failures[rows].sum() > 0
        ]


def follows(
    units: Sequence[object],
    carriers: Sequence[object],
    failures: ArrayLike,
    *,
    exposure: ArrayLike | None = None,
    rng: Generator | None = None,
    n_draws: int = 10_000,
) -> Following:
    """
    Test whether failures follow a carrier from unit to unit.

    Parameters
    ----------
    units
        The unit of each row; a row is a spell of a unit with one carrier.
    carriers
        What was with it: an accessory, a place, a person.
    failures
        Failures in the spell. [1], shape (n_rows,)
    exposure
        Lengths of the spells; left out, they are alike and rows change places.
        [unit of time], shape (n_rows,)
    rng
        Source of chance, used only where there are too many arrangements to try all.
    n_draws
        Arrangements to draw then. [1]

    Returns
    -------
    Following
        Carriers with exact p-values, and a test of all at once that says how it was
        made.

    Raises
    ------
    BadArgumentError
        If columns differ in length or a figure is outside its range.
    """
    n = column("failures", failures)
    lengths = np.ones_like(n) if exposure is None else column("exposure", exposure)
    refuse(
        "" if len(n) else "failures: found none, wanted at least one row",
        *(
            f"{name}: found {len(given)} rows, wanted {len(n)}"
            for name, given in (
                ("units", units), ("carriers", carriers), ("exposure", lengths)
            )
            if len(given) != len(n)
        ),
    )  # fmt: skip
    null: Null = "permutation" if exposure is None else "exposure"
    refuse(
        unlike_any("failures", n, least=0, most=1e6, is_whole=True),
        unlike_any("exposure", lengths, above=0),
        unlike("n_draws", n_draws, least=99, is_whole=True),
    )
    names, carrier = _numbered(carriers)
    rows = _Rows(_numbered(units)[1], carrier, n.astype(np.int64), lengths, null)
    groups = rows.groups()
    laws = [_law_of(rows, groups, number) for number in range(len(names))]
    observed = _with_carrier(rows, groups, len(names))
    p_values = [
        float(law[seen:].sum()) for law, seen in zip(laws, observed, strict=True)
    ]
    p_values = [min(1.0, p) for p in p_values]
    adjusted = adjust_p(p_values, "holm")
    made = [
        Carrier(
            name=names[i],
            n_units=sum(bool(np.any(carrier[g] == i)) for g in groups),
            failures=int(observed[i]),
            expected=float(np.arange(len(laws[i])) @ laws[i]),
            p_value=p_values[i],
            p_adjusted=float(adjusted[i]),
        )
        for i in range(len(names))
    ]
    n_ways = math.prod(_n_ways(rows, group) for group in groups)
    p_any, how, n_drawn = _any(rows, groups, laws, n_ways, (rng, int(n_draws)))
    return Following(
        carriers=tuple(sorted(made, key=lambda one: (one.p_value, one.name))),
        p_any=p_any,
        how=how,
        n_arrangements=float(n_ways) if n_ways < 1e300 else math.inf,
        n_drawn=n_drawn,
        null=null,
    )


def _numbered(things: Sequence[object]) -> tuple[list[str], NDArray[np.intp]]:
    numbers: dict[object, int] = {}
    made = [numbers.setdefault(thing, len(numbers)) for thing in things]
    return [str(thing) for thing in numbers], np.array(made, dtype=np.intp)


def _with_carrier(
    rows: _Rows, groups: list[NDArray[np.intp]], n_carriers: int
) -> NDArray[np.int64]:
    used = np.concatenate(groups) if groups else np.zeros(0, dtype=np.intp)
    made = np.bincount(
        rows.carrier[used], weights=rows.failures[used], minlength=n_carriers
    )
    return made.astype(np.int64)


def _law_of(rows: _Rows, groups: list[NDArray[np.intp]], number: int) -> Floats:
    """Give the chances of 0, 1, 2 ... failures with a carrier if it did not matter."""
    law = np.array([1.0])
    for group in groups:
        is_with = rows.carrier[group] == number
        if not is_with.any():
            continue
        law = np.convolve(law, _law_in_unit(rows, group, is_with))
    return law


def _law_in_unit(
    rows: _Rows, group: NDArray[np.intp], is_with: NDArray[np.bool_]
) -> Floats:
    counts = rows.failures[group]
    total, n_with = int(counts.sum()), int(is_with.sum())
    if rows.null == "exposure":
        share = float(rows.exposure[group][is_with].sum() / rows.exposure[group].sum())
        k = np.arange(total + 1.0)
        ways = scipy.special.gammaln(total + 1) - scipy.special.gammaln(k + 1)
        ways = ways - scipy.special.gammaln(total - k + 1)
        chances = scipy.special.xlogy(k, share) + scipy.special.xlog1py(
            total - k, -share
        )
        return np.asarray(np.exp(ways + chances))
    # Row by row: the chance that this one is among those taken, given how many are.
    table = np.zeros((n_with + 1, total + 1))
    table[0, 0] = 1.0
    for seen, count in enumerate(int(c) for c in counts):
        p_taken = (n_with - np.arange(n_with + 1)) / (len(counts) - seen)
        p_taken = np.clip(p_taken, 0.0, 1.0)[:, None]
        moved = (table * p_taken)[:-1, : total + 1 - count]
        table = table * (1 - p_taken)
        table[1:, count:] += moved
    return np.asarray(table[n_with])


def _n_ways(rows: _Rows, group: NDArray[np.intp]) -> int:
    counts = rows.failures[group]
    if rows.null == "exposure":
        return int(math.comb(int(counts.sum()) + len(group) - 1, len(group) - 1))
    ways = math.factorial(len(counts))
    for n_same in np.unique(counts, return_counts=True)[1]:
        ways //= math.factorial(int(n_same))
    return ways


def _any(
    rows: _Rows,
    groups: list[NDArray[np.intp]],
    laws: list[Floats],
    n_ways: float,
    chance: tuple[Generator | None, int],
) -> tuple[float | None, How, int]:
    """Test the most suspect carrier against the most suspect of every arrangement."""
    if not groups:
        return None, "nothing to compare", 0
    # Each count of a carrier stands for its exact tail; the smallest counts.
    tails = [np.cumsum(law[::-1])[::-1] for law in laws]
    seen = _smallest(tails, _with_carrier(rows, groups, len(laws))[None, :])
    limit = float(seen[0]) * (1 + 1e-9)
    rng, n_draws = chance
    if n_ways <= MOST_ARRANGEMENTS:
        sums, weights = _arrangements(rows, groups, len(laws))
        return (
            min(1.0, float(weights[_smallest(tails, sums) <= limit].sum())),
            "exact",
            0,
        )
    if rng is None:
        return None, "too large", 0
    drawn = _drawn(rows, groups, len(laws), (rng, n_draws))
    n_far = int((_smallest(tails, drawn) <= limit).sum())
    # What was seen counts as one of the arrangements drawn.
    return (n_far + 1) / (n_draws + 1), "Monte Carlo", n_draws


def _smallest(tails: list[Floats], sums: NDArray[np.int64]) -> Floats:
    made = [tail[sums[:, i]] for i, tail in enumerate(tails)]
    return np.asarray(np.min(made, axis=0), dtype=np.float64)


def _drawn(
    rows: _Rows,
    groups: list[NDArray[np.intp]],
    n_carriers: int,
    chance: tuple[Generator, int],
) -> NDArray[np.int64]:
    rng, n_draws = chance
    sums = np.zeros((n_draws, n_carriers), dtype=np.int64)
    for group in groups:
        counts = rows.failures[group]
        if rows.null == "exposure":
            share = rows.exposure[group] / rows.exposure[group].sum()
            made = rng.multinomial(int(counts.sum()), share, size=n_draws)
        else:
            made = rng.permuted(np.tile(counts, (n_draws, 1)), axis=1)
        for place, row in enumerate(group):
            sums[:, rows.carrier[row]] += made[:, place]
    return sums


def _arrangements(
    rows: _Rows, groups: list[NDArray[np.intp]], n_carriers: int
) -> tuple[NDArray[np.int64], Floats]:
    """Give the sums of every arrangement, alike ones laid together, with chances."""
    table = {(0,) * n_carriers: 1.0}
    for group in groups:
        own = list(_in_unit(rows, group, n_carriers))
        wider: dict[tuple[int, ...], float] = defaultdict(float)
        for sums, weight in table.items():
            for own_weight, more in own:
                key = tuple(a + b for a, b in zip(sums, more, strict=True))
                wider[key] += weight * own_weight
        table = dict(wider)
    return np.array(list(table), dtype=np.int64), np.array(list(table.values()))


def _in_unit(
    rows: _Rows, group: NDArray[np.intp], n_carriers: int
) -> Iterator[tuple[float, list[int]]]:
    counts = [int(c) for c in rows.failures[group]]
    share = rows.exposure[group] / rows.exposure[group].sum()
    is_even = rows.null == "permutation"
    ways = _shuffled(counts) if is_even else _shared(sum(counts), len(counts))
    weight = 1 / _n_ways(rows, group)
    for way in ways:
        sums = np.zeros(n_carriers, dtype=np.int64)
        np.add.at(sums, rows.carrier[group], np.array(way))
        if not is_even:
            logs = math.lgamma(sum(counts) + 1) - sum(math.lgamma(k + 1) for k in way)
            weight = math.exp(logs + float(np.array(way) @ np.log(share)))
        yield weight, [int(one) for one in sums]


def _shuffled(counts: list[int]) -> Iterator[tuple[int, ...]]:
    """Give every distinct order of some counts, the smallest first."""
    way = sorted(counts)
    while True:
        yield tuple(way)
        left = len(way) - 2
        while left >= 0 and way[left] >= way[left + 1]:
            left -= 1
        if left < 0:
            return
        right = len(way) - 1
        while way[right] <= way[left]:
            right -= 1
        way[left], way[right] = way[right], way[left]
        way[left + 1 :] = reversed(way[left + 1 :])


def _shared(total: int, n_rows: int) -> Iterator[tuple[int, ...]]:
    """Give every way to share a total out among rows."""
    for bars in combinations(range(total + n_rows - 1), n_rows - 1):
        edges = (-1, *bars, total + n_rows - 1)
        yield tuple(edges[i + 1] - edges[i] - 1 for i in range(n_rows))

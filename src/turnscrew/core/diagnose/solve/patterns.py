"""
How much at least must a state cost? Bounds from parts of the problem.

Method: the least expected cost is concave in the belief. Split the faults into groups:
being told for free in which group the fault lies never raises the cost, so the sum of
the groups' own values, each weighted by its evidence, bounds the value from below.
Each group is small enough for a full table over its evidence (``table``), in which
only the tests that tell its faults apart and the repairs that touch them count.
With groups of one fault this is the bound of a clairvoyant; larger groups keep the
faults that are hard to tell apart together.
"""

from dataclasses import dataclass
from itertools import combinations
from math import prod, sqrt

import numpy as np

from turnscrew.core.diagnose.compile import Compact
from turnscrew.core.diagnose.problem import Mode
from turnscrew.core.diagnose.solve.lattice import Floats, Ints, Lattice, lattice_of
from turnscrew.core.diagnose.solve.table import Asked, Table, fill, repair_sets

_PER_TRIED = 800
"""Values that could be reckoned while one set of repairs is taken up. [1]"""


@dataclass(frozen=True)
class Pattern:
    """
    One group with its table, laid out for quick looks.

    Parameters
    ----------
    table
        The table.
    width
        Number of sets of outcomes. [1]
    steps
        For each test of the whole problem the worth of its digit here; 0 if it tells
        nothing here. [1]
    bits
        For each repair of the whole problem its bit here; 0 if it mends nothing here.
    relevant
        Mask of the nodes that matter here.
    after_test
        Least weighted values over all that a power test may leave open.
        [cost], (n_tried, n_outcomes)
    repair_cost
        Cost of each set of repairs. [cost], (n_tried,)
    repair_need
        What each set of repairs needs open, as a mask. (n_tried,)
    cells
        For each open set the weighted values, flat. [cost]
    waiting
        Least cost of what may follow while repairs wait for their power test, flat;
        only in mode ``block``. [cost]
    """

    table: Table
    width: int
    steps: tuple[int, ...]
    bits: tuple[int, ...]
    relevant: int
    after_test: Floats
    repair_cost: Floats
    repair_need: Ints
    cells: dict[int, memoryview]
    waiting: memoryview | None


def groups_of(
    whole: Compact, mode: Mode, verify_shut: int, most_work: int
) -> list[tuple[int, ...]]:
    """
    Group the faults that compete most, as far as the tables stay small.

    Method: merge the two groups with the largest weight of confusable pairs, again and
    again. Two faults are confusable as far as all tests together give them the same
    outcomes (Bhattacharyya coefficient), and weigh the root of their product.

    Parameters
    ----------
    whole
        The problem.
    mode
        ``each`` or ``block``.
    verify_shut
        What must be closed for a power test, as a mask.
    most_work
        Most values to reckon for all tables together. [1]

    Returns
    -------
    list
        The groups, as indices of faults.
    """
    pull = _pull(whole)
    groups = [lattice_of(whole, (f,), verify_shut) for f in range(len(pull))]
    work = [_work(group, mode) for group in groups]
    refused: set[tuple[tuple[int, ...], tuple[int, ...]]] = set()
    while True:
        pairs = [
            (sum(pull[f][g] for f in one.faults for g in two.faults), i, j)
            for (i, one), (j, two) in combinations(enumerate(groups), 2)
            if (one.faults, two.faults) not in refused
        ]
        weight, i, j = max(pairs, default=(0.0, 0, 0))
        if weight <= 0:
            return [group.faults for group in groups]
        one, two = groups[i], groups[j]
        faults = tuple(sorted((*one.faults, *two.faults)))
        merged = lattice_of(whole, faults, verify_shut)
        if (
            _size(merged, mode) > most_work
            or sum(work) - work[i] - work[j] + _work(merged, mode) > most_work
        ):
            refused.add((one.faults, two.faults))
            continue
        kept = [n for n in range(len(groups)) if n not in (i, j)]
        groups = [groups[n] for n in kept] + [merged]
        work = [work[n] for n in kept] + [_work(merged, mode)]


def _size(lattice: Lattice, mode: Mode) -> int:
    n = len(lattice.repairs)
    if mode == "block":
        # A block is any set of the repairs left: each is left out, tried before or in
        # it. Such a step takes a fourth of the time of a cell.
        return lattice.n_outcomes * max(int(2**n), int(3**n) // 4)
    return lattice.n_outcomes * int(2**n)


def _work(lattice: Lattice, mode: Mode) -> int:
    cells = lattice.n_outcomes * lattice.n_tried * len(lattice.open_sets)
    if mode == "block":
        # Each need of a block is tried from each open set, one set of failed repairs
        # after another.
        cells += cells * len(lattice.needs) // 16 + _PER_TRIED * lattice.n_tried
    return max(cells, _size(lattice, mode))


def _pull(whole: Compact) -> list[list[float]]:
    n = len(whole.hypotheses)
    return [
        [
            sqrt(whole.prior[f] * whole.prior[g])
            * prod(
                sum(sqrt(a * b) for a, b in zip(t.rows[f], t.rows[g], strict=True))
                for t in whole.tests
            )
            for g in range(n)
        ]
        for f in range(n)
    ]


@dataclass(frozen=True)
class Charges:
    """
    What a power test costs and wants in the tables.

    Parameters
    ----------
    verify_cost
        Cost of the power test. [cost]
    verify_shut
        What must be closed for it, as a mask.
    works_cost
        What is due once when the device works. [cost]
    """

    verify_cost: float
    verify_shut: int
    works_cost: float = 0.0


def patterns_of(
    whole: Compact,
    mode: Mode,
    groups: list[tuple[int, ...]],
    is_time_up: Asked,
    charges: Charges,
) -> list[Pattern]:
    """
    Fill the tables of all groups.

    Parameters
    ----------
    whole
        The problem.
    mode
        ``each`` or ``block``.
    groups
        The groups, as indices of faults.
    is_time_up
        Asked now and then.
    charges
        What a power test costs and wants.

    Returns
    -------
    list[Pattern]
        The groups with their tables, the small ones first; a group whose table could
        not be filled in time stands as one group for each of its faults.
    """
    patterns: list[Pattern] = []
    for faults in sorted(groups, key=len):
        pattern = _filled(whole, mode, faults, is_time_up, charges)
        if pattern is not None:
            patterns.append(pattern)
            continue
        # Out of time: the faults of this group are told apart for free.
        for fault in faults:
            alone = _filled(whole, mode, (fault,), lambda: False, charges)
            assert alone is not None
            patterns.append(alone)
    return patterns


def _filled(
    whole: Compact,
    mode: Mode,
    faults: tuple[int, ...],
    is_time_up: Asked,
    charges: Charges,
) -> Pattern | None:
    lattice = lattice_of(whole, faults, charges.verify_shut)
    table = fill(
        lattice,
        mode,
        is_time_up,
        verify_cost=charges.verify_cost,
        works_cost=charges.works_cost,
    )
    return None if table is None else _pattern(whole, lattice, table)


def _pattern(whole: Compact, lattice: Lattice, table: Table) -> Pattern:
    steps = [0] * len(whole.tests)
    for t, stride in zip(lattice.tests, lattice.strides, strict=True):
        steps[t] = stride
    bits = [0] * len(whole.repairs)
    for i, r in enumerate(lattice.repairs):
        bits[r] = 1 << i
    access = whole.access
    left = {access.move(a, 0, lattice.verify_shut).open_set for a in lattice.open_sets}
    cost, need = repair_sets(lattice)
    return Pattern(
        table=table,
        after_test=np.minimum.reduce([table.values[key] for key in left]),
        repair_cost=cost,
        repair_need=need,
        width=lattice.n_outcomes,
        steps=tuple(steps),
        bits=tuple(bits),
        relevant=lattice.relevant,
        cells={key: v.reshape(-1).data for key, v in table.values.items()},
        waiting=None if table.waiting is None else table.waiting.reshape(-1).data,
    )

"""
Which of the devices not worth mending are stripped, and what does that save?

Exact model. A part p that n stripped donors give passes its test with chance q each, so
the number that pass is binomial. Those that pass go to the most urgent devices, which
would else wait for a parcel; what a choice of donors is worth depends only on how many
of each part it gives:

    purchases saved = sum over p of sum over i of cost(p) * P(at least i of n(p) pass)

with i up to the number of pieces the shelf cannot give; days of lateness saved have
the days of the i-th most urgent device in place of the cost. Donors that give the same
are one class, counted by a whole number. Wanted, in this order: fewest parts too late
for their device, least days of that, least purchases, least minutes of stripping, then
the lowest numbers.
"""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from turnscrew.core.stock.demand import Offer

_SCALE = 1_000_000
"""Expected values are rounded to this share of a unit inside the solver."""


@dataclass(frozen=True)
class Wait:
    """
    One piece the shelf cannot give.

    Parameters
    ----------
    late_by_order
        Days the device is late if the piece is ordered. [days]
    late_by_donor
        Days it is late if a donor gives it. [days]
    cost_minor
        What ordering it costs. [minor units]
    """

    late_by_order: int
    late_by_donor: int
    cost_minor: int


@dataclass(frozen=True)
class DonorProblem:
    """
    What donors could give, and what is wanted.

    Parameters
    ----------
    offers
        Pieces in donors.
    waits
        Pieces wanted, by part.
    minutes
        Minutes to strip each donor. [min]
    chances
        Chance that a piece passes its test, by part; 1 if not named. [1]
    """

    offers: tuple[Offer, ...]
    waits: Mapping[str, tuple[Wait, ...]]
    minutes: Mapping[int, int]
    chances: Mapping[str, float]


@dataclass(frozen=True)
class DonorChoice:
    """
    Which donors to strip.

    Parameters
    ----------
    strips
        Numbers of the donors, in order.
    n_late
        Expected number of parts too late for their device. [1]
    late_days
        Expected days of that. [days]
    purchases_minor
        Expected purchases of parts that donors could give. [minor units]
    minutes
        Minutes of stripping. [min]
    """

    strips: tuple[int, ...]
    n_late: float
    late_days: float
    purchases_minor: float
    minutes: int


def donors_chosen(problem: DonorProblem) -> DonorChoice:
    """
    Choose the donors to strip.

    Parameters
    ----------
    problem
        Offers and wants.

    Returns
    -------
    DonorChoice
        The choice, proven best.
    """
    classes = _classes(problem)
    if not classes:
        return valued(problem, ())
    counts = _best_counts(problem, classes)
    strips = [
        donor
        for (_, donors), n in zip(classes, counts, strict=True)
        for donor in donors[:n]
    ]
    return valued(problem, tuple(sorted(strips)))


def valued(problem: DonorProblem, strips: Sequence[int]) -> DonorChoice:
    """
    Reckon what a choice of donors gives.

    Parameters
    ----------
    problem
        Offers and wants.
    strips
        Numbers of the donors stripped.

    Returns
    -------
    DonorChoice
        The choice with its expected figures.
    """
    stripped = set(strips)
    given = Counter(o.part for o in problem.offers if o.donor in stripped)
    sums = [0.0, 0.0, 0.0]
    for part, waits in problem.waits.items():
        q = problem.chances.get(part, 1.0)
        for at, value in enumerate(_table(waits, given[part], q)[-1] if waits else ()):
            sums[at] += value
    return DonorChoice(
        strips=tuple(strips),
        n_late=sums[0],
        late_days=sums[1],
        purchases_minor=sums[2],
        minutes=sum(problem.minutes[donor] for donor in strips),
    )


def p_enough(n_needed: int, n_given: int, p_pass: float) -> float:
    """
    Give the chance that enough pieces pass their test.

    Parameters
    ----------
    n_needed
        Pieces needed. [1]
    n_given
        Pieces there are. [1]
    p_pass
        Chance that each passes. [1]

    Returns
    -------
    float
        The chance. [1]
    """
    if not 0 < n_needed <= n_given:
        return float(n_needed <= 0)
    from scipy.special import bdtrc

    return float(bdtrc(n_needed - 1, n_given, p_pass))


def _table(waits: Sequence[Wait], n_most: int, q: float) -> list[list[float]]:
    """Give late parts, late days and purchases expected with 0, 1, ... pieces given."""
    import numpy as np  # noqa: PLC0415 - slow library, needed with donors alone

    in_order = _urgent_first(waits)
    bought = np.array([_figures(w.late_by_order, w.cost_minor) for w in in_order])
    given = np.array([_figures(w.late_by_donor, 0) for w in in_order])
    # What is saved when the first 0, 1, ... of the wants are served by donors.
    saved = np.vstack([np.zeros((1, 3)), np.cumsum(bought - given, axis=0)])
    passing = np.zeros(len(waits) + 1)
    passing[0] = 1.0
    rows: list[list[float]] = []
    for _ in range(n_most + 1):
        rows.append((bought.sum(axis=0) - passing @ saved).tolist())
        # One piece more: chances of 0, 1, ... passing, more than are wanted as one.
        last = passing[-1]
        passing = passing * (1 - q) + np.concatenate([[0.0], passing[:-1]]) * q
        passing[-1] += last * q
    return rows


def _figures(late_days: int, cost_minor: int) -> tuple[float, float, float]:
    return float(late_days > 0), float(late_days), float(cost_minor)


def _urgent_first(waits: Sequence[Wait]) -> list[Wait]:
    return sorted(waits, key=lambda w: (-w.late_by_order, w.late_by_donor))


def _classes(problem: DonorProblem) -> list[tuple[tuple[str, ...], list[int]]]:
    """Group the donors that give the same wanted parts in the same time."""
    gives: dict[int, list[str]] = defaultdict(list)
    for offer in problem.offers:
        if problem.waits.get(offer.part):
            gives[offer.donor].append(offer.part)
    groups: dict[tuple[tuple[str, ...], int], list[int]] = defaultdict(list)
    for donor in sorted(gives):
        key = (tuple(sorted(gives[donor])), problem.minutes[donor])
        groups[key].append(donor)
    return [(parts, donors) for (parts, _), donors in sorted(groups.items())]


def _best_counts(
    problem: DonorProblem, classes: Sequence[tuple[tuple[str, ...], list[int]]]
) -> list[int]:
    from ortools.sat.python import cp_model  # noqa: PLC0415 - slow library

    model: Any = cp_model.CpModel()
    counts = [model.new_int_var(0, len(donors), "") for _, donors in classes]
    terms: list[list[Any]] = [[], [], []]
    for part, waits in problem.waits.items():
        giving = [
            (count, parts.count(part))
            for count, (parts, _) in zip(counts, classes, strict=True)
            if part in parts
        ]
        if giving and waits:
            for at, term in enumerate(_tabled(model, problem, part, waits, giving)):
                terms[at].append(term)
    minutes = sum(
        count * problem.minutes[donors[0]]
        for count, (_, donors) in zip(counts, classes, strict=True)
    )
    numbers = sum(
        count * donors[0] for count, (_, donors) in zip(counts, classes, strict=True)
    )
    solver: Any = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    for goal in (*(sum(rows) for rows in terms), minutes, numbers):
        if isinstance(goal, int):
            continue
        model.minimize(goal)
        status = solver.solve(model)
        assert status == cp_model.OPTIMAL, solver.status_name(status)
        model.add(goal <= round(solver.objective_value))
    return [solver.value(count) for count in counts]


def _tabled(
    model: Any,
    problem: DonorProblem,
    part: str,
    waits: Sequence[Wait],
    giving: Sequence[tuple[Any, int]],
) -> list[Any]:
    """Tie the expected values of a part to the number of pieces given."""
    most = sum(1 for offer in problem.offers if offer.part == part)
    n_given = model.new_int_var(0, most, "")
    model.add(n_given == sum(count * n for count, n in giving))
    q = problem.chances.get(part, 1.0)
    rows = _table(waits, most, q)
    tied: list[Any] = []
    for at in range(3):
        column = [round(row[at] * _SCALE) for row in rows]
        value = model.new_int_var(min(column), max(column), "")
        model.add_element(n_given, column, value)
        tied.append(value)
    return tied

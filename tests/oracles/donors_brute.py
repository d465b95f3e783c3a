"""Which donors are best, found by trying every set and every way the tests can fall?"""

from collections.abc import Iterator
from itertools import combinations, product

from turnscrew.core.stock.donors import DonorProblem


def best_figures(problem: DonorProblem) -> tuple[float, float, float, int]:
    """Late parts, late days, purchases and minutes of the best set of donors."""
    donors = sorted({offer.donor for offer in problem.offers})
    sets = (
        chosen for n in range(len(donors) + 1) for chosen in combinations(donors, n)
    )
    return min(tuple(round(f, 6) for f in figures(problem, chosen)) for chosen in sets)


def figures(
    problem: DonorProblem, chosen: tuple[int, ...]
) -> tuple[float, float, float, int]:
    """Expected figures of one set, over every outcome of every test."""
    n_late = late_days = purchases = 0.0
    given = [offer for offer in problem.offers if offer.donor in chosen]
    for part, waits in problem.waits.items():
        pieces = [offer for offer in given if offer.part == part]
        q = problem.chances.get(part, 1.0)
        for p, n_good in _outcomes(len(pieces), q):
            queue = sorted(waits, key=lambda w: (-w.late_by_order, w.late_by_donor))
            for place, wait in enumerate(queue):
                if place < n_good:
                    n_late += p * (wait.late_by_donor > 0)
                    late_days += p * wait.late_by_donor
                else:
                    n_late += p * (wait.late_by_order > 0)
                    late_days += p * wait.late_by_order
                    purchases += p * wait.cost_minor
    minutes = sum(problem.minutes[donor] for donor in chosen)
    return n_late, late_days, purchases, minutes


def _outcomes(n: int, q: float) -> Iterator[tuple[float, int]]:
    for passed in product((True, False), repeat=n):
        p = 1.0
        for one in passed:
            p *= q if one else 1 - q
        yield p, sum(passed)

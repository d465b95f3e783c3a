"""
Instances from elsewhere with known optima, where they fit lateness by days exactly.

A due time within a day is a time on charge: a job due at d of a day of c minutes is
charged for c - d, and done the same day if and only if the work ends by d.
"""

import random
from itertools import permutations

import pytest

from real_input import loaded
from turnscrew.core.schedule.best import BestPlan, best_plan, figures_of
from turnscrew.core.schedule.check import faults_in
from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule

EXAMPLES = loaded()
# (processing time, due time) of each job and the least number of late ones on one
# machine; sources beside the data.
LATE_ON_ONE_MACHINE = {
    case["name"]: case for case in EXAMPLES.published("late-jobs.json")["cases"]
}


def solved(problem: ScheduleProblem, effort: float = 2.0) -> BestPlan:
    best = best_plan(problem, planned_by_rule(problem), effort)
    assert () == faults_in(problem, best.plan)
    return best


def same_day(sizes: list[int], n_people: int, capacity: int) -> ScheduleProblem:
    jobs = tuple(Job(n, "k", size, 1, due_day=1) for n, size in enumerate(sizes))
    benches = tuple(Bench(f"person {i}", capacity) for i in range(n_people))
    return ScheduleProblem(jobs, benches)


def packed(sizes: list[int], n_bins: int, capacity: int) -> ScheduleProblem:
    jobs = tuple(
        Job(n, "k", size, n_bins, due_day=n_bins) for n, size in enumerate(sizes)
    )
    return ScheduleProblem(jobs, (Bench("lead", capacity),))


@pytest.mark.parametrize("name", LATE_ON_ONE_MACHINE)
def test_it_has_as_few_late_jobs_on_one_machine_as_the_textbook(name: str) -> None:
    case = LATE_ON_ONE_MACHINE[name]
    best = solved(EXAMPLES.on_one_bench(case["jobs"]))

    assert ("optimal", case["published"]) == (best.status, best.figures.n_late)


@pytest.mark.parametrize("n_people", [2, 3, 4, 5])
def test_it_fits_in_3m_what_longest_first_ends_at_4m_minus_1(n_people: int) -> None:
    # R. L. Graham, Bounds on multiprocessing timing anomalies, SIAM Journal on Applied
    # Mathematics 17 (1969): the instances that show his bound to be tight; from memory.
    m = n_people
    sizes = [m, *(size for size in range(m, 2 * m) for _ in range(2))]
    fits, short = same_day(sizes, m, 3 * m), same_day(sizes, m, 3 * m - 1)

    assert 2 * m + 1 == len(sizes)
    assert figures_of(fits, planned_by_rule(fits)).n_late
    assert ("optimal", 0) == (solved(fits).status, solved(fits).figures.n_late)
    assert ("optimal", 1) == (solved(short).status, solved(short).figures.n_late)


@pytest.mark.parametrize("n_people", [2, 3, 4, 5])
def test_it_lets_longest_first_end_at_4m_minus_1(n_people: int) -> None:
    # With that much time the hand rule is Graham's rule, and uses all of it.
    m = n_people
    sizes = [m, *(size for size in range(m, 2 * m) for _ in range(2))]
    enough = planned_by_rule(same_day(sizes, m, 4 * m - 1))

    assert 1 == enough.last_day
    assert (4 * m - 1) * 100 == max(slot.end_ticks for slot in enough.slots)


@pytest.mark.parametrize("seed", range(6))
def test_it_packs_triplets_into_a_third_as_many_days(seed: int) -> None:
    # E. Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of
    # Heuristics 2 (1996): three items to a full bin; the construction from memory.
    rng, n_bins = random.Random(seed), 6
    sizes = []
    for _ in range(n_bins):
        first = rng.randint(380, 490)
        second = rng.randint(250, (1000 - first) // 2)
        sizes += [first, second, 1000 - first - second]
    rng.shuffle(sizes)
    best = solved(packed(sizes, n_bins, 1000), 6.0)

    assert ("optimal", 0) == (best.status, best.figures.n_late)


@pytest.mark.parametrize("seed", range(3))
def test_it_bounds_larger_triplets_honestly(seed: int) -> None:
    rng, n_bins = random.Random(seed), 20
    sizes = []
    for _ in range(n_bins):
        first = rng.randint(380, 490)
        second = rng.randint(250, (1000 - first) // 2)
        sizes += [first, second, 1000 - first - second]
    best = solved(packed(sizes, n_bins, 1000), 0.3)

    assert 0 == best.bound.n_late <= best.figures.n_late


def test_it_needs_seven_bins_where_the_sum_of_the_items_asks_for_six() -> None:
    # S. Martello, P. Toth, Knapsack Problems (1990), chapter 8; data from memory.
    sizes = [99, 94, 79, 64, 50, 46, 43, 37, 32, 19, 18, 7, 6, 3]
    seven, six = solved(packed(sizes, 7, 100)), solved(packed(sizes, 6, 100))

    assert 600 > sum(sizes)
    assert ("optimal", 0) == (seven.status, seven.figures.n_late)
    assert ("optimal", 1) == (six.status, six.figures.n_late)


@pytest.mark.parametrize(
    ("sizes", "n_groups", "n_late"),
    [
        # M. R. Garey, D. S. Johnson, Computers and Intractability (1979), problem SP15:
        # all sizes between a quarter and half of the sum of a group; these are ours.
        ([26, 33, 41, 27, 35, 38, 29, 30, 41], 3, 0),
        # Even sizes never add up to an odd sum.
        ([6, 6, 6, 8, 8, 8], 2, 1),
        # The example of an encyclopedia for groups of 90; from memory.
        ([20, 23, 25, 30, 49, 45, 27, 30, 30, 40, 22, 19], 4, 0),
    ],
)
def test_it_tells_what_can_be_parted_in_threes(
    sizes: list[int], n_groups: int, n_late: int
) -> None:
    problem = same_day(sizes, n_groups, sum(sizes) // n_groups)
    best = solved(problem)

    assert 0 == sum(sizes) % n_groups
    assert ("optimal", n_late) == (best.status, best.figures.n_late)


@pytest.mark.parametrize("seed", range(12))
def test_it_has_the_least_lateness_of_jobs_of_a_day_each(seed: int) -> None:
    # Equal times on one machine: every order of the due days, by arithmetic alone.
    rng = random.Random(seed)
    due = [rng.randint(1, 6) for _ in range(6)]
    least = min(
        (sum(x > 0 for x in late), sum(late))
        for order in permutations(due)
        for late in [[max(0, day - d) for day, d in enumerate(order, 1)]]
    )
    jobs = tuple(Job(n, "k", 10, d, due_day=d) for n, d in enumerate(due))
    best = solved(ScheduleProblem(jobs, (Bench("lead", 10),)))

    assert "optimal" == best.status
    assert least == (best.figures.n_late, best.figures.late_days)

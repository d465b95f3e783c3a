"""
The best figures of a batch, by trying every order of the jobs for everybody.

Whoever keeps an order does best to begin each job as early as they can, so trying all
orders is trying all that matters. Plain code, for at most six jobs.
"""

from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem

Figures = tuple[int, int, int]
State = tuple[tuple[int, int, str], ...]
Ends = dict[int, tuple[int, int]]


class Search:
    """What is found so far; states met before are not tried again."""

    def __init__(self, problem: ScheduleProblem, n_days: int):
        self.problem, self.n_days = problem, n_days
        self.best: Figures | None = None
        self.met: set[object] = set()

    def is_hopeless(
        self, left: tuple[Job, ...], state: State, ends: Ends, figures: Figures
    ) -> bool:
        # All three figures only grow, so the order of what is reached is final.
        if self.best is not None and figures >= self.best:
            return True
        key = tuple(j.name for j in left), state, tuple(sorted(ends.items())), figures
        was_met = key in self.met
        self.met.add(key)
        return was_met


def best_figures(problem: ScheduleProblem, n_days: int = 60) -> Figures | None:
    """Give late devices, days late and set-ups; None where nothing can be done."""
    left_out = problem.impossible()
    jobs = tuple(job for job in problem.jobs if job.name not in left_out)
    search = Search(problem, n_days)
    try_all(search, jobs, tuple((1, 0, "") for _ in problem.benches), {}, (0, 0, 0))
    return search.best


def try_all(
    search: Search, left: tuple[Job, ...], state: State, ends: Ends, figures: Figures
) -> None:
    if search.is_hopeless(left, state, ends, figures):
        return
    if not left:
        search.best = figures
    for job in left:
        if any(name not in ends for name in job.after):
            continue
        rest = tuple(other for other in left if other is not job)
        for who, bench in enumerate(search.problem.benches):
            day, at, kind = state[who]
            ready = max([(day, at), (job.release_day, 0)])
            ready = max([ready, *(ends[name] for name in job.after)])
            found = begin(search.problem, bench, job, ready, search.n_days)
            if found is None:
                continue
            end = found[0], found[1] + length(bench, job)
            late = days_late(search.problem, job, *end)
            try_all(
                search,
                rest,
                (*state[:who], (*end, job.kind), *state[who + 1 :]),
                {**ends, job.name: end},
                (
                    figures[0] + (late > 0),
                    figures[1] + late,
                    figures[2] + (kind != job.kind),
                ),
            )


def length(bench: Bench, job: Job) -> int:
    exact = job.minutes * 100 * bench.pace
    return int(exact) + (int(exact) < exact)


def begin(
    problem: ScheduleProblem,
    bench: Bench,
    job: Job,
    ready: tuple[int, int],
    n_days: int,
) -> tuple[int, int] | None:
    if not job.skills <= bench.skills:
        return None
    day, at = ready
    while day <= n_days:
        at = max(at, problem.taken.get((bench.person, day), 0))
        home = 0 if day in bench.away else bench.minutes_a_day * 100
        if home > 0 and at + length(bench, job) <= home:
            return day, at
        day, at = day + 1, 0
    return None


def days_late(problem: ScheduleProblem, job: Job, day: int, end: int) -> int:
    if job.due_day is None:
        return 0
    if job.charge_minutes:
        home = [b.minutes_a_day * 100 for b in problem.benches if day not in b.away]
        if end + job.charge_minutes * 100 > max(home):
            day += 1
            while all(day in b.away or not b.minutes_a_day for b in problem.benches):
                day += 1
    return max(0, day - job.due_day)

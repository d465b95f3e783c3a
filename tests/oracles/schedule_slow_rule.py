"""
The hand rule once more, with plain loops over all jobs.

Written from the words alone: whenever somebody is free they take, of the jobs that may
begin, the one with the earliest day, then the longest, then the lowest number, that
still ends today; where two are free at once the first of the list is served first.
"""

from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem

Row = tuple[str, int, int, int, int, int]


def plan_by_hand(problem: ScheduleProblem, n_days: int) -> list[Row]:
    """
    Plan the first n_days.

    A row is person, job, day, start, end and day done, by day, start and person.
    """
    rows: list[Row] = []
    for day in range(1, n_days + 1):
        instants = {problem.taken_on(bench, day) for bench in problem.benches}
        while instants:
            now = min(instants)
            # Who ended a job of no minutes is free again, and may come first again.
            tried = (next_row(problem, rows, b, day, now) for b in problem.benches)
            row = next((row for row in tried if row), None)
            if row:
                rows.append(row)
                instants.add(row[4])
            else:
                instants.discard(now)
    return sorted(rows, key=lambda row: (row[2], row[3], row[0]))


def next_row(
    problem: ScheduleProblem, rows: list[Row], bench: Bench, day: int, now: int
) -> Row | None:
    if now < problem.taken_on(bench, day) or bench.ticks_on(day) == 0:
        return None
    if any(row[0] == bench.person and row[2] == day and row[4] > now for row in rows):
        return None
    choice: Job | None = None
    for job in problem.jobs:
        if not may_begin(rows, job, day, now) or not job.skills <= bench.skills:
            continue
        if now + bench.ticks_for(job) > bench.ticks_on(day):
            continue
        if choice is None or rank(job) < rank(choice):
            choice = job
    if choice is None:
        return None
    end = now + bench.ticks_for(choice)
    done = done_on(problem, choice, day, end)
    return bench.person, choice.name, day, now, end, done


def rank(job: Job) -> tuple[int, int, int]:
    return job.rank_day, -job.minutes, job.name


def may_begin(rows: list[Row], job: Job, day: int, now: int) -> bool:
    if day < job.release_day or any(row[1] == job.name for row in rows):
        return False
    ended = {row[1] for row in rows if (row[2], row[4]) <= (day, now)}
    return all(name in ended for name in job.after)


def done_on(problem: ScheduleProblem, job: Job, day: int, end: int) -> int:
    if job.charge_minutes == 0:
        return day
    home = [
        0 if day in bench.away else bench.minutes_a_day * 100
        for bench in problem.benches
    ]
    if end + 100 * job.charge_minutes <= max(home):
        return day
    day += 1
    while all(
        day in bench.away or not bench.minutes_a_day for bench in problem.benches
    ):
        day += 1
    return day

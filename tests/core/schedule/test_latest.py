import random

from random_schedules import random_schedule
from turnscrew.core.schedule.latest import TOO_LATE, Moment, latest_starts
from turnscrew.core.schedule.plan import Plan, Slot
from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule

LEAD = Bench("lead", 100)


def of(*jobs: Job, away: frozenset[int] = frozenset()) -> dict[int, Moment]:
    problem = ScheduleProblem(jobs, (Bench("lead", 100, away=away),))
    return latest_starts(problem, planned_by_rule(problem))


def test_it_goes_back_from_the_due_day_by_the_minutes_of_the_job() -> None:
    assert {1: (3, 70 * 100)} == of(Job(1, "k", 30, 3, due_day=3))


def test_it_goes_back_over_the_days_on_which_the_person_is_away() -> None:
    due = Job(1, "k", 30, 4, due_day=4)

    assert {1: (2, 70 * 100)} == of(due, away=frozenset({3, 4}))


def test_it_leaves_time_for_charging_on_the_due_day() -> None:
    # 100 - 60 on charge - 30 of work leaves the first ten minutes of day 3; what
    # charges for longer than a day has left is begun the day before.
    assert {1: (3, 10 * 100)} == of(Job(1, "k", 30, 3, due_day=3, charge_minutes=60))
    assert {1: (2, 70 * 100)} == of(Job(1, "k", 30, 3, due_day=3, charge_minutes=80))


def test_it_goes_back_through_what_waits_as_the_backward_pass_does() -> None:
    # Late start = least late start of the followers - own length: the backward pass of
    # the critical path method (Kelley and Walker 1959; from memory). Late starts by
    # hand: 3 at 100 - 50, 2 at 100 - 20, 1 at min(50, 80) - 10.
    jobs = (
        Job(1, "donor", 10, 1),
        Job(2, "k", 20, 2, due_day=2, after=(1,)),
        Job(3, "k", 50, 2, due_day=2, after=(1,)),
    )

    assert {1: (2, 4000), 2: (2, 8000), 3: (2, 5000)} == of(*jobs)


def test_it_says_nothing_of_what_cannot_be_late_and_tells_what_is_late_already() -> (
    None
):
    assert {} == of(Job(1, "k", 30, 3))
    assert {1: TOO_LATE} == of(Job(1, "k", 30, 1, due_day=1), away=frozenset({1}))


def begun_at(
    problem: ScheduleProblem, bench: Bench, job: Job, moment: Moment
) -> Slot | None:
    """Give the slot a job has if it is begun then; none if it cannot be."""
    day, start = moment
    end = start + bench.ticks_for(job)
    if not problem.taken_on(bench, day) <= start <= end <= bench.ticks_on(day):
        return None
    done = problem.done_day(job, day, end)
    return Slot(bench.person, job.name, day, start, end, done)


def is_in_time(slot: Slot, job: Job, waiting: list[Moment]) -> bool:
    is_due = job.due_day is not None and slot.done_day > job.due_day
    return not is_due and all((slot.day, slot.end_ticks) <= at for at in waiting)


def test_it_agrees_with_trying_every_later_moment() -> None:
    n_met = {"late": 0, "found": 0, "waited for": 0}
    for seed in range(150):
        problem = random_schedule(random.Random(seed), 6)
        plan: Plan = planned_by_rule(problem)
        latest = latest_starts(problem, plan)
        jobs = {job.name: job for job in problem.jobs}
        benches = {bench.person: bench for bench in problem.benches}
        for slot in plan.slots:
            job, bench = jobs[slot.job], benches[slot.person]
            waiting = [
                latest[other.name]
                for other in problem.jobs
                if job.name in other.after and other.name in latest
            ]
            if job.due_day is None and not waiting:
                assert job.name not in latest
                continue
            found = [
                (day, start)
                for day in range(1, 12)
                for start in range(0, bench.ticks_on(day) + 1, 5)
                if (made := begun_at(problem, bench, job, (day, start)))
                and is_in_time(made, job, waiting)
            ]
            best = max(found, default=TOO_LATE)
            assert best[0] == latest[job.name][0], seed
            assert 0 <= latest[job.name][1] - best[1] < 5, seed
            n_met["late"] += best == TOO_LATE
            n_met["found"] += best != TOO_LATE
            n_met["waited for"] += bool(waiting)
    assert min(n_met.values()) > 20, n_met

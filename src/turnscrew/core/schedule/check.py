"""
Does a plan keep every rule of its problem?

Method: every slot and every job is looked at by itself, from the problem alone.
Nothing is shared with the planners but the two value types.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import pairwise

from turnscrew.core.schedule.plan import Plan, Slot
from turnscrew.core.schedule.problem import LAST_DAY, TICKS, Bench, Job, ScheduleProblem

_Ends = Mapping[int, tuple[int, int]]


def faults_in(problem: ScheduleProblem, plan: Plan) -> tuple[str, ...]:
    """
    List what is wrong with a plan.

    Parameters
    ----------
    problem
        The problem the plan claims to solve.
    plan
        The plan.

    Returns
    -------
    tuple[str, ...]
        One sentence per fault; empty if all is well.
    """
    jobs = {job.name: job for job in problem.jobs}
    benches = {bench.person: bench for bench in problem.benches}
    ends = {slot.job: (slot.day, slot.end_ticks) for slot in plan.slots}
    faults = [*_faults_of_lists(plan, jobs), *_faults_of_order(plan)]
    for slot in plan.slots:
        job, bench = jobs.get(slot.job), benches.get(slot.person)
        if job is None:
            found = ["is not a job of the problem"]
        elif bench is None:
            found = [f"{slot.person} is not there to do it"]
        else:
            found = [
                *_faults_of_time(problem, slot, bench),
                *_faults_of_work(problem, slot, bench, job),
                *_faults_of_begin(slot, job, ends),
            ]
        faults += [f"device {slot.job} on day {slot.day}: {fault}" for fault in found]
    faults += [
        f"device {name} is left out: {fault}"
        for name in plan.impossible
        if name in jobs
        for fault in _faults_of_refusal(problem, plan, jobs[name], ends)
    ]
    return tuple(faults)


def _faults_of_lists(plan: Plan, jobs: Mapping[int, Job]) -> Iterator[str]:
    placed = Counter(slot.job for slot in plan.slots)
    for name in jobs:
        n_places = placed[name] + (name in plan.impossible)
        if not n_places:
            yield f"device {name} is neither planned nor left out with a reason"
        elif placed[name] > 1:
            yield f"device {name} is planned {placed[name]} times"
        elif n_places > 1:
            yield f"device {name} is planned and left out"
    for name in plan.impossible:
        if name not in jobs:
            yield f"device {name} is left out, but is not a job of the problem"


def _faults_of_order(plan: Plan) -> Iterator[str]:
    def place(slot: Slot) -> tuple[int, int, str]:
        return slot.day, slot.start_ticks, slot.person

    for before, after in pairwise(plan.slots):
        if place(before) > place(after):
            yield f"device {after.job} is listed after {before.job}, but begins before"
    last: dict[str, Slot] = {}
    for slot in sorted(plan.slots, key=place):
        prior = last.get(slot.person)
        if prior and (prior.day, prior.end_ticks) > (slot.day, slot.start_ticks):
            yield (
                f"{slot.person} begins device {slot.job} on day {slot.day} at "
                f"{slot.start_ticks} ticks, while on {prior.job} until "
                f"{prior.end_ticks}"
            )
        last[slot.person] = slot


def _faults_of_time(
    problem: ScheduleProblem, slot: Slot, bench: Bench
) -> Iterator[str]:
    if not 1 <= slot.day < LAST_DAY:
        yield f"is no day from 1 to {LAST_DAY - 1}"
    if slot.day in bench.away:
        yield f"{slot.person} is away"
        return
    taken, there = problem.taken_on(bench, slot.day), bench.ticks_on(slot.day)
    if not there:
        yield f"{slot.person} has no bench minutes"
    if slot.start_ticks < taken:
        yield (
            f"begins at {slot.start_ticks} ticks, but {slot.person} is taken until "
            f"{taken}"
        )
    if slot.end_ticks > there:
        yield f"ends at {slot.end_ticks} ticks, but {slot.person} goes home at {there}"


def _faults_of_work(
    problem: ScheduleProblem, slot: Slot, bench: Bench, job: Job
) -> Iterator[str]:
    lacking = job.skills - bench.skills
    if lacking:
        yield f"{slot.person} is not signed off for {' and '.join(sorted(lacking))}"
    lasts, planned = bench.ticks_for(job), slot.end_ticks - slot.start_ticks
    if planned != lasts:
        yield f"takes {slot.person} {lasts} ticks, planned {planned}"
    done = problem.done_day(job, slot.day, slot.end_ticks)
    if slot.done_day != done:
        yield f"is done on day {done}, planned {slot.done_day}"


def _faults_of_begin(slot: Slot, job: Job, ends: _Ends) -> Iterator[str]:
    if job.never:
        yield f"can never be done: {job.never}"
    if slot.day < job.release_day:
        yield f"may not begin before day {job.release_day}"
    for name in job.after:
        if name not in ends:
            yield f"waits for device {name}, which is not planned"
        elif ends[name] > (slot.day, slot.start_ticks):
            day, end = ends[name]
            yield f"waits for device {name}, which ends on day {day} at {end} ticks"


def _faults_of_refusal(
    problem: ScheduleProblem, plan: Plan, job: Job, ends: _Ends
) -> Iterator[str]:
    if not plan.impossible[job.name]:
        yield "no reason is given"
    if job.never or any(name not in ends for name in job.after):
        return
    # The days after the last slot are empty: what fits there is not impossible.
    first = max([job.release_day, 1, *(slot.day + 1 for slot in plan.slots)])
    for bench in problem.benches:
        needed = bench.ticks_for(job)
        if not bench.may_do(job) or needed > bench.minutes_a_day * TICKS:
            continue
        for day in range(first, LAST_DAY):
            there = bench.ticks_on(day)
            if there and needed <= there - problem.taken_on(bench, day):
                yield f"{bench.person} could do it on day {day}"
                return

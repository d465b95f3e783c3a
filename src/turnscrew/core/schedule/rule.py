"""
What does the hand rule of the workshop give?

Whenever somebody is free they take, of the jobs that may begin, the one with the
earliest day, then the longest, then the lowest number, that still ends today. Where two
are free at once the first of the list is served first.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from heapq import heappop, heappush

from turnscrew.core.schedule.plan import Plan, Slot
from turnscrew.core.schedule.problem import LAST_DAY, Bench, Job, ScheduleProblem

_Rank = tuple[int, int, int]
_Time = tuple[int, int]
Lasting = Callable[[Bench, Job], int]


def planned_by_rule(problem: ScheduleProblem, lasts: Lasting | None = None) -> Plan:
    """
    Plan by the hand rule.

    Parameters
    ----------
    problem
        The problem.
    lasts
        How many ticks a job really takes somebody; as planned if not given. What runs
        over the end of a day is finished first thing the next day there.

    Returns
    -------
    Plan
        The plan.
    """
    impossible = problem.impossible()
    desk = _Desk(problem, [job for job in problem.jobs if job.name not in impossible])
    slots: list[Slot] = []
    hands = _Hands(problem)
    while desk.n_left and hands.queue:
        found = hands.next_free()
        if found is None:
            continue
        day, at, index = found
        bench = problem.benches[index]
        desk.open_day(day)
        job = desk.taken_by(bench, day, at)
        if job is None:
            hands.wait(index, day, desk.next_event(day, at), desk.next_day(day))
            continue
        ticks = lasts(bench, job) if lasts else bench.ticks_for(job)
        slot = _slot(problem, bench, job, (day, at), ticks)
        slots.append(slot)
        hands.set_free(index, (slot.day, slot.end_ticks))
        if desk.note_end(job, (slot.day, slot.end_ticks)):
            hands.wake((slot.day, slot.end_ticks))
    slots.sort(key=lambda slot: (slot.day, slot.start_ticks, slot.person))
    placed = {slot.job for slot in slots}
    never = {
        job.name: f"still not begun on workshop day {LAST_DAY}"
        for job in problem.jobs
        if job.name not in placed and job.name not in impossible
    }
    return Plan(tuple(slots), impossible | never)


def _slot(
    problem: ScheduleProblem, bench: Bench, job: Job, begin: _Time, ticks: int
) -> Slot:
    """Lay a job down; what does not fit today is finished on the next days there."""
    day, start = begin
    end = start + ticks
    while end > bench.ticks_on(day) and day < LAST_DAY:
        rest = end - max(bench.ticks_on(day), start)
        day += 1
        start = problem.taken_on(bench, day)
        end = start + rest
    done = problem.done_day(job, day, end)
    return Slot(bench.person, job.name, day, end - ticks, end, done)


class _Hands:
    """Who is free when; those who wait come back when a job others wait for ends."""

    def __init__(self, problem: ScheduleProblem) -> None:
        self.problem = problem
        self.free = [(1, 0) for _ in problem.benches]
        self.waiting: dict[int, int] = {}
        self.queue = [(1, 0, index) for index in range(len(self.free))]

    def next_free(self) -> tuple[int, int, int] | None:
        """Give day, time and number of the next person, if that is still so."""
        day, at, index = heappop(self.queue)
        if self.free[index] != (day, at):
            return None
        self.waiting.pop(index, None)
        start = self.problem.taken_on(self.problem.benches[index], day)
        if at < start:
            # Others may be free before: they choose first.
            self.set_free(index, (day, start))
            return None
        return day, at, index

    def set_free(self, index: int, when: _Time) -> None:
        """Say when somebody is free next."""
        self.free[index] = when
        if when[0] < LAST_DAY:
            heappush(self.queue, (*when, index))

    def wait(self, index: int, day: int, then: int | None, later: int) -> None:
        """Let somebody wait until a time of today, or else until a later day."""
        self.waiting[index] = day
        if then is None or then > self.problem.benches[index].ticks_on(day):
            self.set_free(index, (later, 0))
        else:
            self.set_free(index, (day, then))

    def wake(self, end: _Time) -> None:
        """Bring those who wait today back at the end of a job."""
        for index, day in self.waiting.items():
            if day == end[0] and end < self.free[index]:
                self.set_free(index, end)


@dataclass
class _Desk:
    """The jobs not yet begun, sorted by whether they may begin."""

    problem: ScheduleProblem
    jobs: list[Job]
    ready: dict[tuple[int, frozenset[str]], list[tuple[_Rank, Job]]] = field(
        default_factory=dict
    )
    n_left: int = 0
    day: int = 0

    def __post_init__(self) -> None:
        self.n_left = len(self.jobs)
        self.later = sorted(
            self.jobs, key=lambda job: (job.release_day, job.name), reverse=True
        )
        self.waits = {job.name: set(job.after) for job in self.jobs}
        self.followers: dict[int, list[Job]] = {}
        for job in self.jobs:
            for name in job.after:
                self.followers.setdefault(name, []).append(job)
        self.ends: list[tuple[_Time, int]] = []

    def open_day(self, day: int) -> None:
        """Let jobs in whose day has come."""
        while self.later and self.later[-1].release_day <= day:
            job = self.later.pop()
            if not self.waits[job.name]:
                self._put(job)
        self.day = max(self.day, day)

    def taken_by(self, bench: Bench, day: int, at: int) -> Job | None:
        """Give the first job in order that this person may do and end today."""
        self._let_followers_in((day, at))
        there = bench.ticks_on(day)
        if not there:
            # Nor a job of no minutes: nobody is there to do it.
            return None
        room = there - at
        best: list[tuple[_Rank, Job]] | None = None
        for heap in self.ready.values():
            if not heap or (best and best[0][0] < heap[0][0]):
                continue
            job = heap[0][1]
            if bench.may_do(job) and bench.ticks_for(job) <= room:
                best = heap
        if best is None:
            return None
        self.n_left -= 1
        return heappop(best)[1]

    def next_event(self, day: int, at: int) -> int | None:
        """Give the time today at which waiting jobs may become free, if any."""
        return next(
            (end for (on, end), _ in sorted(self.ends) if on == day and end > at), None
        )

    def next_day(self, day: int) -> int:
        """Give the next day on which a job may begin; years may lie between."""
        if self.ends or any(self.ready.values()):
            return day + 1
        return max(day + 1, self.later[-1].release_day) if self.later else LAST_DAY

    def note_end(self, job: Job, end: _Time) -> bool:
        """Note when a job ends that others wait for; say whether any do."""
        if job.name not in self.followers:
            return False
        heappush(self.ends, (end, job.name))
        return True

    def _let_followers_in(self, now: _Time) -> None:
        while self.ends and self.ends[0][0] <= now:
            _, name = heappop(self.ends)
            for job in self.followers[name]:
                self.waits[job.name].discard(name)
                if not self.waits[job.name] and job.release_day <= self.day:
                    self._put(job)

    def _put(self, job: Job) -> None:
        rank = (job.rank_day, -job.minutes, job.name)
        heap = self.ready.setdefault((job.minutes, job.skills), [])
        heappush(heap, (rank, job))

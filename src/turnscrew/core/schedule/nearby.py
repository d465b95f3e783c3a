"""
Which better plans lie near a plan, a move or two away?

Two moves, each tried in a fixed order and kept if the figures get better: a run of like
jobs goes beside another run of its kind, or anywhere between two runs; a late job goes
anywhere. Each try lays all orders out in time anew, on bare numbers.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from turnscrew.core.schedule.alike import Alike
from turnscrew.core.schedule.earliest import Orders
from turnscrew.core.schedule.problem import TICKS, Job, ScheduleProblem

_Numbers = list[list[int]]
_Figures = tuple[int, int, int]
_Run = tuple[int, int, int]

_DAY = 10_000_000
"""Ticks that keep the days apart where a time is one number."""


class Neighbourhood:
    """
    A problem in bare numbers, ready to judge many orders.

    Parameters
    ----------
    problem
        The problem.
    classes
        The jobs that are planned.
    last_day
        Orders that need a later day are not looked at.
    """

    def __init__(
        self, problem: ScheduleProblem, classes: Sequence[Alike], last_day: int
    ) -> None:
        self.jobs = [job for one in classes for job in one.jobs]
        self.number = {job.name: i for i, job in enumerate(self.jobs)}
        self.ticks = [one.ticks for one in classes for _ in one.jobs]
        self.after = [[self.number[name] for name in job.after] for job in self.jobs]
        self.release = [max(1, job.release_day) * _DAY for job in self.jobs]
        days = range(last_day + 1)
        self.opens = [[problem.taken_on(b, d) for d in days] for b in problem.benches]
        self.closes = [[b.ticks_on(d) for d in days] for b in problem.benches]
        self.home = [problem.closing_ticks(day) for day in days]
        self.next_day = [
            next((d for d in range(day + 1, last_day + 1) if self.home[d]), last_day)
            for day in days
        ]
        self.last_day = last_day

    def improved(self, orders: Orders, most_tries: int) -> list[list[Job]]:
        """
        Improve orders by moves until none helps.

        Parameters
        ----------
        orders
            Who does what in which order.
        most_tries
            How many moves are tried at most. [1]

        Returns
        -------
        list[list[Job]]
            Orders that are no worse.
        """
        numbers = [[self.number[job.name] for job in order] for order in orders]
        best = self.judged(numbers)
        left = most_tries
        idle, kinds = 0, sorted({job.kind for job in self.jobs})
        turn = 0
        while best is not None and left > 0 and idle < len(kinds):
            kind = kinds[turn % len(kinds)]
            found = None
            for tried in self._moves(numbers, kind):
                left -= 1
                figures = self.judged(tried)
                if figures is not None and figures < best:
                    found, best = tried, figures
                    break
                if left <= 0:
                    break
            numbers, idle = found or numbers, 0 if found else idle + 1
            turn += not found
        return [[self.jobs[i] for i in order] for order in numbers]

    def judged(self, orders: _Numbers) -> _Figures | None:
        """
        Judge orders, laid out as early as can be.

        Parameters
        ----------
        orders
            The numbers of the jobs of each person.

        Returns
        -------
        tuple or None
            Late devices, days late and set-ups; ``None`` if they can not be laid out.
        """
        ends = self._ends(orders)
        if ends is None:
            return None
        late = [days for i, end in ends.items() if (days := self._days_late(i, end))]
        jobs = self.jobs
        set_ups = sum(
            1 + sum(jobs[a].kind != jobs[b].kind for a, b in pairwise(order))
            for order in orders
            if order
        )
        return len(late), sum(late), set_ups

    def _ends(self, orders: _Numbers) -> dict[int, int] | None:
        ends: dict[int, int] = {}
        left = [iter(order) for order in orders]
        heads = [next(rest, -1) for rest in left]
        free = [0] * len(orders)
        who = n_stuck = 0
        while n_stuck < len(orders):
            n_stuck += 1
            while (job := heads[who]) >= 0:
                ready = max(free[who], self.release[job])
                if self.after[job]:
                    waits = [ends.get(i, -1) for i in self.after[job]]
                    if min(waits) < 0:
                        break
                    ready = max(ready, *waits)
                end = self._end(job, who, ready)
                if end < 0:
                    return None
                free[who] = ends[job] = end
                heads[who] = next(left[who], -1)
                n_stuck = 0
            who = (who + 1) % len(orders)
        return ends if max(heads) < 0 else None

    def _end(self, job: int, who: int, ready: int) -> int:
        ticks = self.ticks[job][who]
        if ticks is None:
            return -1
        day, at = divmod(ready, _DAY)
        opens, closes = self.opens[who], self.closes[who]
        while day <= self.last_day:
            start = opens[day] if opens[day] > at else at
            if closes[day] and start + ticks <= closes[day]:
                return day * _DAY + start + ticks
            day, at = day + 1, 0
        return -1

    def _days_late(self, number: int, end: int) -> int:
        job = self.jobs[number]
        if job.due_day is None:
            return 0
        day, at = divmod(end, _DAY)
        if job.charge_minutes and at + job.charge_minutes * TICKS > self.home[day]:
            day = self.next_day[day]
        return max(0, day - job.due_day)

    def _moves(self, orders: _Numbers, kind: str) -> Iterator[_Numbers]:
        runs = list(self._runs(orders))
        mine = [run for run in runs if self._kind(orders, run) == kind]
        late = [
            run for run in self._late_runs(orders) if self._kind(orders, run) == kind
        ]
        for run in late:
            for who, order in enumerate(orders):
                for at in range(len(order) + 1):
                    yield from self._moved(orders, run, who, at)
        for run in sorted(mine, key=lambda run: run[2] - run[1]):
            for who, start, end in mine:
                yield from self._moved(orders, run, who, end)
                yield from self._moved(orders, run, who, start)
        for run in mine:
            for who, start, _ in runs:
                yield from self._moved(orders, run, who, start)

    def _moved(
        self, orders: _Numbers, run: _Run, to: int, at: int
    ) -> Iterator[_Numbers]:
        who, start, end = run
        jobs = orders[who][start:end]
        if (who == to and start <= at <= end) or self.ticks[jobs[0]][to] is None:
            return
        new = [list(order) for order in orders]
        new[to][at:at] = jobs
        shift = len(jobs) if who == to and at <= start else 0
        del new[who][start + shift : end + shift]
        yield new

    def _kind(self, orders: _Numbers, run: _Run) -> str:
        return self.jobs[orders[run[0]][run[1]]].kind

    def _runs(self, orders: _Numbers) -> Iterator[_Run]:
        for who, order in enumerate(orders):
            start = 0
            for _, group in groupby(order, key=lambda i: self.jobs[i].kind):
                end = start + len(list(group))
                yield who, start, end
                start = end

    def _late_runs(self, orders: _Numbers) -> Iterator[_Run]:
        ends = self._ends(orders) or {}
        for who, order in enumerate(orders):
            for at, job in enumerate(order):
                if job in ends and self._days_late(job, ends[job]):
                    yield who, at, at + 1

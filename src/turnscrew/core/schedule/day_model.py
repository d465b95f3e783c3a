"""
How many jobs of which class go to whom on which day?

Method: whole numbers of jobs on the grid of classes, people and days, by CP-SAT. A kind
begun on a day is a set-up; the last kind of a day may be carried on to the next day of
the same person (linked lot sizes). Jobs that must be ready by a time of the day share
the minutes before it. Where one job waits for another, only their days are compared.
Every plan is a solution, so what is proven here holds for every plan.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any

from turnscrew.core.schedule.alike import Alike
from turnscrew.core.schedule.grid import Grid, Place, room
from turnscrew.core.schedule.problem import ScheduleProblem

Cell = tuple[str, int, int]
"""A kind, a person and a day."""


@dataclass(frozen=True)
class Share:
    """
    A solution by days.

    Parameters
    ----------
    counts
        Number of jobs in each place used.
    carried
        Kinds with which somebody ends a day and begins the next one.
    """

    counts: Mapping[Place, int]
    carried: frozenset[Cell]


@dataclass(frozen=True)
class Found:
    """
    What one search gave.

    Parameters
    ----------
    share
        The best solution, ``None`` if there was none in the time.
    value
        Its value.
    bound
        A value no solution undercuts.
    """

    share: Share | None
    value: int
    bound: int


class DayModel:
    """
    The model of a problem, to be searched for one aim after another.

    Parameters
    ----------
    problem
        The problem.
    classes
        The jobs that are planned.
    grid
        Where they may go.
    """

    def __init__(
        self, problem: ScheduleProblem, classes: Sequence[Alike], grid: Grid
    ) -> None:
        from ortools.sat.python.cp_model import (  # noqa: PLC0415 - slow library
            CpModel,
        )

        self.problem, self.classes, self.grid = problem, classes, grid
        self.model: CpModel = CpModel()
        self.n: dict[Place, Any] = {}
        self.at: dict[tuple[int, int], list[Place]] = {}
        for place in grid.places:
            self.n[place] = self.model.new_int_var(0, self._most(place), "")
            self.at.setdefault((place.who, place.day), []).append(place)
        self._place_all()
        self._fit_in()
        self._wait()
        self.begun: dict[Cell, Any] = {}
        self.carried: dict[Cell, Any] = {}

    def _place_all(self) -> None:
        for index, one in enumerate(self.classes):
            places = [p for p in self.n if p.one == index]
            self.model.add(sum(self.n[p] for p in places) == len(one.jobs))

    def _fit_in(self) -> None:
        for (who, day), places in self.at.items():
            if day == self.grid.open_day:
                continue
            taken = self.problem.taken_on(self.problem.benches[who], day)
            limits = {p.deadline - taken for p in places if p.deadline is not None}
            for limit in (*limits, room(self.problem, who, day)):
                inside = [
                    p
                    for p in places
                    if limit == room(self.problem, who, day)
                    or (p.deadline is not None and p.deadline - taken <= limit)
                ]
                self.model.add(sum(p.ticks * self.n[p] for p in inside) <= limit)

    def _wait(self) -> None:
        waited_for = sorted({i for one in self.classes for i in one.before})
        days = range(1, self.grid.open_day + 1)
        for index in waited_for:
            n_jobs = len(self.classes[index].jobs)
            for day in days:
                are_done = self.model.new_bool_var("")
                mine = self._n_until(index, day)
                self.model.add(sum(mine) >= n_jobs * are_done)
                for other, one in enumerate(self.classes):
                    if index in one.before:
                        theirs = self._n_until(other, day)
                        self.model.add(sum(theirs) <= len(one.jobs) * are_done)

    def _n_until(self, index: int, day: int) -> list[Any]:
        return [n for p, n in self.n.items() if p.one == index and p.day <= day]

    def limit_lateness(self, n_late: int, late_days: int) -> None:
        """
        Allow only so much lateness.

        Parameters
        ----------
        n_late
            Most devices late.
        late_days
            Most days late in all. [days]
        """
        self.model.add(self._n_late() <= n_late)
        self.model.add(self._late_days() <= late_days)

    def aim_at_lateness(self, weight: int) -> None:
        """
        Look for the least lateness.

        Parameters
        ----------
        weight
            Days that weigh as much as one device late. [days]
        """
        self.model.minimize(weight * self._n_late() + self._late_days())

    def aim_at_set_ups(self, start: Share) -> None:
        """
        Look for the fewest set-ups.

        Parameters
        ----------
        start
            A solution to begin with.
        """
        self._add_set_ups()
        self.hint(start)
        self.model.minimize(sum(self.begun.values()))

    def hint(self, start: Share) -> None:
        """
        Name a solution to begin with.

        Parameters
        ----------
        start
            The solution.
        """
        for place, n in self.n.items():
            self.model.add_hint(n, start.counts.get(place, 0))
        used = {(self._kind(p), p.who, p.day) for p in start.counts}
        for cell, begun in self.begun.items():
            kind, who, day = cell
            is_new = cell in used and (kind, who, day - 1) not in start.carried
            self.model.add_hint(begun, is_new)
        for cell, carried in self.carried.items():
            self.model.add_hint(carried, cell in start.carried)

    def _n_late(self) -> Any:
        return sum(n for p, n in self.n.items() if p.late)

    def _late_days(self) -> Any:
        return sum(p.late * n for p, n in self.n.items() if p.late)

    def _kind(self, place: Place) -> str:
        return self.classes[place.one].job.kind

    def _add_set_ups(self) -> None:
        cells: dict[Cell, list[Place]] = {}
        for place in self.n:
            cells.setdefault((self._kind(place), place.who, place.day), []).append(
                place
            )
        for who in range(len(self.problem.benches)):
            kinds = sorted({cell[0] for cell in cells if cell[1] == who})
            for kind in kinds:
                days = [cell[2] for cell in cells if cell[:2] == (kind, who)]
                for day in range(min(days), max(days)):
                    self.carried[kind, who, day] = self.model.new_bool_var("")
            for day in range(1, self.grid.open_day + 1):
                self._link(who, day, kinds, cells)
        for kind in sorted({cell[0] for cell in cells}):
            self.model.add_bool_or(b for c, b in self.begun.items() if c[0] == kind)

    def _link(
        self, who: int, day: int, kinds: Sequence[str], cells: Mapping[Cell, Any]
    ) -> None:
        carried = [
            self.carried[k, who, day] for k in kinds if (k, who, day) in self.carried
        ]
        if len(carried) > 1:
            self.model.add_at_most_one(carried)
        any_begun = self.model.new_bool_var("")
        for kind in kinds:
            before = self.carried.get((kind, who, day - 1), 0)
            after = self.carried.get((kind, who, day), 0)
            begun = self._begin((kind, who, day), before, cells)
            self.model.add(any_begun >= begun)
            self.model.add(after <= begun + before)
            # Who carries a kind through a day without beginning it begins no other.
            self.model.add(before + after + any_begun <= 2 + begun)

    def _begin(self, cell: Cell, before: Any, cells: Mapping[Cell, Any]) -> Any:
        if cell not in cells:
            return 0
        begun = self.begun[cell] = self.model.new_bool_var("")
        for place in cells[cell]:
            self.model.add(self.n[place] <= self._most(place) * (begun + before))
        return begun

    def _most(self, place: Place) -> int:
        n_jobs = len(self.classes[place.one].jobs)
        if place.day == self.grid.open_day or not place.ticks:
            return n_jobs
        return min(n_jobs, room(self.problem, place.who, place.day) // place.ticks)

    def search(self, effort: float) -> Found:
        """
        Search.

        Parameters
        ----------
        effort
            Work at most, in the solver's own unit. [1]

        Returns
        -------
        Found
            What was found.
        """
        from ortools.sat.python.cp_model import (  # noqa: PLC0415 - slow library
            CpSolver,
        )

        solver = CpSolver()
        # Eight kinds of search in turns: the same steps on every machine.
        solver.parameters.num_workers = 8
        solver.parameters.interleave_search = True
        solver.parameters.interleave_batch_size = 8
        solver.parameters.random_seed = 1
        solver.parameters.max_deterministic_time = effort
        status = solver.status_name(solver.solve(self.model))
        bound = ceil(max(0.0, solver.best_objective_bound) - 1e-6)
        if status not in ("OPTIMAL", "FEASIBLE"):
            return Found(None, 0, bound)
        counts = {p: solver.value(n) for p, n in self.n.items() if solver.value(n)}
        kept = frozenset(c for c, var in self.carried.items() if solver.value(var))
        return Found(Share(counts, kept), round(solver.objective_value), bound)

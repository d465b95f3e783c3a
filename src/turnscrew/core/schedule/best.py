"""
What is the best plan, and how far could a better one go?

Fewest late devices; then least tardiness in days; then fewest set-ups. Bounds that need
no search come first: where the plan to begin with meets them, nothing is searched. Else
jobs are shared out by days, laid out in order, and laid in time as early as the order
allows. "Optimal" is said only of a plan in time whose figures meet the bound.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.schedule.alike import classes_in
from turnscrew.core.schedule.bounds import Figures, bound_of
from turnscrew.core.schedule.day_model import DayModel, Share
from turnscrew.core.schedule.day_order import orders_of, share_in
from turnscrew.core.schedule.earliest import Orders, earliest_plan, orders_in
from turnscrew.core.schedule.grid import Grid, grid_of
from turnscrew.core.schedule.horizon import due_in_reach
from turnscrew.core.schedule.nearby import Neighbourhood
from turnscrew.core.schedule.plan import Plan
from turnscrew.core.schedule.problem import ScheduleProblem
from turnscrew.core.schedule.ranked import ranked_plans

_MOST_PLACES = 8000
"""Beyond so many places a search by days gives nothing in the time there is."""

_TRIED_JOBS = 2_000_000
"""Jobs laid out in time again and again while moves are tried, for effort 1."""

_MORE_DAYS = 10
"""Days later than the plan to begin with that moves may reach. [days]"""


@dataclass(frozen=True)
class BestPlan:
    """
    The best plan found, and what is known of better ones.

    Parameters
    ----------
    plan
        The plan.
    status
        Optimal: no plan has better figures. Bounded: none has better ones than the
        bound. Impossible: nobody can do any of the jobs.
    figures
        What the plan comes to.
    bound
        Figures no plan undercuts; like all figures, the first that differs decides.
    """

    plan: Plan
    status: Literal["optimal", "bounded", "impossible"]
    figures: Figures
    bound: Figures


def best_plan(problem: ScheduleProblem, start: Plan, effort: float) -> BestPlan:
    """
    Find the best plan.

    Parameters
    ----------
    problem
        The problem.
    start
        A plan that keeps its rules, as by the hand rule; what it leaves out is left
        out.
    effort
        Work of the search at most, in the solver's own unit, so that the same effort
        gives the same answer. [1]

    Returns
    -------
    BestPlan
        The best plan found; never worse than the start.
    """
    if not start.slots:
        none = Figures(0, 0, 0)
        return BestPlan(
            start, "impossible" if start.impossible else "optimal", none, none
        )
    search = _Search(problem, start)
    search.improve(effort)
    return search.answer()


def figures_of(problem: ScheduleProblem, plan: Plan) -> Figures:
    """
    Judge a plan.

    Parameters
    ----------
    problem
        The problem planned.
    plan
        The plan.

    Returns
    -------
    Figures
        What it comes to.
    """
    late = plan.late(problem)
    return Figures(len(late), sum(late.values()), plan.n_set_ups(problem))


class _Search:
    """The best plan so far, and the bound so far."""

    def __init__(self, problem: ScheduleProblem, start: Plan) -> None:
        self.problem, self.plan = problem, start
        self.figures = figures_of(problem, start)
        self.classes = classes_in(problem, {slot.job for slot in start.slots})
        # Days no plan reaches would make the grid too large for nothing.
        last_due = max(one.job.due_day or 0 for one in self.classes)
        self.near = self.classes
        if self.n_places(last_due) > _MOST_PLACES:
            self.near = due_in_reach(problem, self.classes)
        self.bound = bound_of(problem, self.near)
        last_day = start.last_day + _MORE_DAYS
        self.nearby = Neighbourhood(problem, self.classes, last_day)
        self.tries_left = 0

    def answer(self) -> BestPlan:
        is_proven = self.figures <= self.bound
        status: Literal["optimal", "bounded"] = "optimal" if is_proven else "bounded"
        return BestPlan(self.plan, status, self.figures, min(self.bound, self.figures))

    def is_lateness_proven(self) -> bool:
        return self.figures.lateness == self.bound.lateness

    def n_places(self, n_days: int) -> int:
        return len(self.classes) * len(self.problem.benches) * n_days

    def improve(self, effort: float) -> None:
        self.tries_left = round(_TRIED_JOBS * effort)
        self.look_around()
        if self.figures <= self.bound:
            return
        if self.n_places(self.plan.last_day) > _MOST_PLACES:
            return
        grid = grid_of(self.problem, self.near, self.plan)
        if not self.is_lateness_proven():
            effort /= 2
            self.lower_lateness(grid, effort)
        if self.bound < self.figures:
            self.lower_set_ups(grid, effort)

    def lower_lateness(self, grid: Grid, effort: float) -> None:
        model = DayModel(self.problem, self.classes, grid)
        # One device late weighs more than all days late there could be.
        weight = 1 + sum(
            max(p.late for p in grid.places if p.one == i) * len(one.jobs)
            for i, one in enumerate(self.classes)
        )
        model.aim_at_lateness(weight)
        model.hint(share_in(self.problem, self.classes, grid, self.plan))
        found = model.search(effort)
        self.take(found.share)
        n_late, days = divmod(max(0, found.bound), weight)
        if n_late < self.bound.n_late or n_late < self.figures.n_late:
            days = 0
        self.raise_bound(n_late, days, 0)

    def lower_set_ups(self, grid: Grid, effort: float) -> None:
        model = DayModel(self.problem, self.classes, grid)
        model.limit_lateness(self.figures.n_late, self.figures.late_days)
        model.aim_at_set_ups(share_in(self.problem, self.classes, grid, self.plan))
        found = model.search(effort)
        self.take(found.share)
        self.raise_bound(0, 0, found.bound)

    def raise_bound(self, n_late: int, late_days: int, n_set_ups: int) -> None:
        self.bound = Figures(
            max(self.bound.n_late, n_late),
            max(self.bound.late_days, late_days),
            max(self.bound.n_set_ups, n_set_ups),
        )

    def look_around(self) -> None:
        """Try what needs no solver."""
        if self.bound < self.figures:
            self.move_about(orders_in(self.problem, self.plan))
        if not self.is_lateness_proven():
            impossible = self.plan.impossible
            for plan in ranked_plans(self.problem, self.classes, impossible):
                self.keep(plan)
                self.move_about(orders_in(self.problem, plan))

    def move_about(self, orders: Orders) -> None:
        n_jobs = sum(map(len, orders))
        # Each further begin may try half as much as was left.
        tries = self.tries_left // 2
        self.tries_left -= tries
        better = self.nearby.improved(orders, tries // n_jobs)
        self.keep(earliest_plan(self.problem, better, self.plan.impossible))

    def take(self, share: Share | None) -> None:
        if share is None:
            return
        for orders in orders_of(self.problem, self.classes, share):
            if self.bound < self.figures:
                self.move_about(orders)

    def keep(self, plan: Plan | None) -> None:
        if plan is None:
            return
        figures = figures_of(self.problem, plan)
        if figures < self.figures:
            self.plan, self.figures = plan, figures

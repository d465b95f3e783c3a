"""
Where may jobs of a class go, by person and day?

The days run until nothing changes any more. What stands on the last of them, the open
day, is done on that day or on any later one: there is room for everything, and whoever
is late there is at least as late as that day says. So the grid offers every plan there
is, and perhaps more: what is best on it is a bound.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from turnscrew.core.schedule.alike import Alike, first_fit
from turnscrew.core.schedule.plan import Plan
from turnscrew.core.schedule.problem import LAST_DAY, TICKS, ScheduleProblem


@dataclass(frozen=True)
class Place:
    """
    A day of a person on which jobs of a class may be done.

    Parameters
    ----------
    one
        The class, by place in the list.
    who
        The person, by place in the list.
    day
        The workshop day.
    ticks
        What one job takes. [ticks]
    deadline
        When the work must have ended for the tardiness to hold; ``None`` if it holds
        whenever on that day the work ends. [ticks]
    late
        Tardiness. [days]
    """

    one: int
    who: int
    day: int
    ticks: int
    deadline: int | None
    late: int


@dataclass(frozen=True)
class Grid:
    """
    All places, and the room there is.

    Parameters
    ----------
    places
        The places.
    open_day
        The day that stands for itself and all later ones.
    """

    places: tuple[Place, ...]
    open_day: int


def grid_of(problem: ScheduleProblem, classes: Sequence[Alike], start: Plan) -> Grid:
    """
    Lay out where jobs may go.

    Parameters
    ----------
    problem
        The problem.
    classes
        The jobs that are planned.
    start
        A plan of them.

    Returns
    -------
    Grid
        The grid.
    """
    days = [day for one in classes for day in (one.job.due_day, one.earliest[0]) if day]
    open_day = min(max([start.last_day, *days]) + 1, LAST_DAY)
    places = [
        place
        for index, one in enumerate(classes)
        for who in sorted(one.able)
        for day in range(one.earliest[0], open_day + 1)
        for place in _places(problem, (index, one), who, day, is_open=day == open_day)
    ]
    return Grid(tuple(places), open_day)


def room(problem: ScheduleProblem, who: int, day: int) -> int:
    """
    Give the time of somebody on a day that is not spoken for.

    Parameters
    ----------
    problem
        The problem.
    who
        The person, by place in the list.
    day
        Workshop day.

    Returns
    -------
    int
        Ticks. [ticks]
    """
    bench = problem.benches[who]
    return max(0, bench.ticks_on(day) - problem.taken_on(bench, day))


def _places(
    problem: ScheduleProblem,
    which: tuple[int, Alike],
    who: int,
    day: int,
    *,
    is_open: bool,
) -> list[Place]:
    index, one = which
    ticks, bench = one.ticks[who], problem.benches[who]
    if ticks is None:
        return []
    if is_open:
        found = first_fit(problem, bench, ticks, (day, 0))
        if found is None:
            return []
        soonest = (found[0], found[1] + ticks)
        return [Place(index, who, day, ticks, None, _late(problem, one, *soonest))]
    if not bench.ticks_on(day) or ticks > room(problem, who, day):
        return []
    first = problem.taken_on(bench, day) + ticks
    if day == one.earliest[0]:
        first = max(first, one.earliest[1])
    soon, late = (_late(problem, one, day, end) for end in (first, bench.ticks_on(day)))
    places = [Place(index, who, day, ticks, None, late)]
    if soon < late:
        deadline = problem.closing_ticks(day) - one.job.charge_minutes * TICKS
        places.append(Place(index, who, day, ticks, deadline, soon))
    return places


def _late(problem: ScheduleProblem, one: Alike, day: int, end: int) -> int:
    due = one.job.due_day
    return 0 if due is None else max(0, problem.done_day(one.job, day, end) - due)

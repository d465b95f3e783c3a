"""
In which order are the jobs of each day done, and how is a plan counted by days?

A share by days leaves the order within each day open. Jobs of one kind go together;
the kind carried over from the day before goes first and the one carried on goes last.
Between them goes first what others wait for or what must be on charge soonest, and
last what itself waits. Other orders are offered where this one is too late.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from turnscrew.core.schedule.alike import Alike
from turnscrew.core.schedule.day_model import Cell, Share
from turnscrew.core.schedule.earliest import Orders
from turnscrew.core.schedule.grid import Grid, Place
from turnscrew.core.schedule.plan import Plan
from turnscrew.core.schedule.problem import LAST_DAY, Job, ScheduleProblem

_Item = tuple[Place, Job]


def share_in(
    problem: ScheduleProblem, classes: Sequence[Alike], grid: Grid, plan: Plan
) -> Share:
    """
    Count a plan by days.

    Parameters
    ----------
    problem
        The problem planned.
    classes
        Its jobs.
    grid
        Where they may go.
    plan
        The plan.

    Returns
    -------
    Share
        Its jobs by place; a job in no place of the grid is not counted.
    """
    index = {job.name: i for i, one in enumerate(classes) for job in one.jobs}
    who = {bench.person: i for i, bench in enumerate(problem.benches)}
    places: dict[tuple[int, int, int], list[Place]] = {}
    for place in grid.places:
        places.setdefault((place.one, place.who, place.day), []).append(place)
    counts: Counter[Place] = Counter()
    carried: set[Cell] = set()
    last: dict[int, tuple[str, int]] = {}
    for slot in plan.slots:
        one, person = index[slot.job], who[slot.person]
        job, day = classes[one].job, min(slot.day, grid.open_day)
        late = 0 if job.due_day is None else max(0, slot.done_day - job.due_day)
        fitting = [p for p in places.get((one, person, day), ()) if p.late >= late]
        if fitting:
            counts[min(fitting, key=lambda p: p.late)] += 1
        kind, before = last.get(person, ("", 0))
        if kind == job.kind:
            carried |= {(kind, person, d) for d in range(before, day)}
        last[person] = job.kind, day
    return Share(dict(counts), frozenset(carried))


def orders_of(
    problem: ScheduleProblem, classes: Sequence[Alike], share: Share
) -> Iterator[Orders]:
    """
    Offer orders of the jobs of a share.

    Parameters
    ----------
    problem
        The problem.
    classes
        The jobs.
    share
        How many of them go where.

    Yields
    ------
    Orders
        The jobs of each person in order, the likeliest first.
    """
    days = _by_day(classes, share)
    for order in (_carrying, _in_kinds, _urgent_first):
        yield [
            [
                job
                for (who, day), items in sorted(days.items())
                if who == person
                for job in order(classes, share, items)
            ]
            for person in range(len(problem.benches))
        ]


def _by_day(
    classes: Sequence[Alike], share: Share
) -> dict[tuple[int, int], list[_Item]]:
    left = [list(reversed(one.jobs)) for one in classes]
    days: dict[tuple[int, int], list[_Item]] = {}
    for place in sorted(share.counts, key=lambda p: (p.day, p.who, p.one, p.late)):
        for _ in range(share.counts[place]):
            job = left[place.one].pop()
            days.setdefault((place.who, place.day), []).append((place, job))
    return days


def _urgency(classes: Sequence[Alike], item: _Item) -> tuple[int, int, int]:
    place, _ = item
    one = classes[place.one]
    deadline = LAST_DAY * 100_000 if place.deadline is None else place.deadline
    phase = 0 if one.is_awaited else 2 if one.before else 1
    return phase, deadline, one.job.due_day or LAST_DAY


def _urgent_first(
    classes: Sequence[Alike], _share: Share, items: Sequence[_Item]
) -> list[Job]:
    in_order = sorted(items, key=lambda i: (_urgency(classes, i), i[1].kind))
    return [job for _, job in in_order]


def _in_kinds(
    classes: Sequence[Alike], _share: Share, items: Sequence[_Item]
) -> list[Job]:
    return _blocks(classes, items, lambda _kind: 0)


def _carrying(
    classes: Sequence[Alike], share: Share, items: Sequence[_Item]
) -> list[Job]:
    place = items[0][0]

    def rank(kind: str) -> int:
        comes = (kind, place.who, place.day - 1) in share.carried
        goes = (kind, place.who, place.day) in share.carried
        return goes - comes

    return _blocks(classes, items, rank)


def _blocks(
    classes: Sequence[Alike], items: Sequence[_Item], rank: Callable[[str], int]
) -> list[Job]:
    blocks: dict[str, list[_Item]] = {}
    for item in sorted(items, key=lambda i: _urgency(classes, i)):
        blocks.setdefault(item[1].kind, []).append(item)
    # Blocks are met in the order of their most urgent job.
    in_order = sorted(blocks.items(), key=lambda block: rank(block[0]))
    return [job for _, block in in_order for _, job in block]

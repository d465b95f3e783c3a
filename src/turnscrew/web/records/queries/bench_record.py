"""What does the bench's own record say of somebody who learns?"""

from collections import defaultdict
from dataclasses import dataclass
from statistics import median
from typing import Any

from turnscrew.core.bench.own_standard import N_SAMPLES_MIN
from turnscrew.core.bench.own_time import Sample, own_times
from turnscrew.web.records.models import BenchRun, BenchStroke, Person
from turnscrew.web.records.queries.own_times import taps_on_record


@dataclass(frozen=True)
class BenchRecord:
    """
    What was counted of one person at the benches.

    A supervised pass is a job they closed in which somebody else looked with them; a
    piece left over is one told at a count. The pace is their usual time against that of
    everybody else, in the mean of the actions both have done five times.
    """

    n_supervised: int
    n_closed: int
    n_left_over: int
    pace: float | None
    n_actions: int


def bench_record(person: Person) -> BenchRecord:
    """Count somebody's passes and pieces left over, and hold their times to others'."""
    strokes = BenchStroke.objects.filter(by=person, standing=BenchStroke.HELD)
    rows = list(strokes.order_by("id").values_list("run", "line", "act", "facts"))
    gates = _gates({run for run, *_ in rows})
    closed: set[str] = set()
    seen: set[str] = set()
    n_left = 0
    for run, line, act, facts in rows:
        job, closing = gates[run]
        if line in closing:
            (closed.discard if act == "undo" else closed.add)(job)
        if facts.get("other") not in {None, "", person.ref}:
            seen.add(job)
        n_left += _left(facts)
    pace, n_actions = _pace(person.ref)
    return BenchRecord(len(closed & seen), len(closed), n_left, pace, n_actions)


def _gates(runs: set[int]) -> dict[int, tuple[str, set[int]]]:
    """Give the job of each run, and the lines by which it is closed."""
    rows = BenchRun.objects.filter(pk__in=runs).select_related("job").defer("drawings")
    return {
        row.pk: (
            row.job.ref,
            {
                line["number"]
                for line in row.run.get("lines", [])
                if line["asks"] == "close"
            },
        )
        for row in rows
    }


def _left(facts: dict[str, Any]) -> int:
    left = facts.get("left")
    return left if isinstance(left, int) and left > 0 else 0


def _pace(ref: str) -> tuple[float | None, int]:
    """Give the mean of own medians over those of all others, action by action."""
    own: dict[tuple[str, str], list[float]] = defaultdict(list)
    others: dict[tuple[str, str], list[float]] = defaultdict(list)
    samples: tuple[Sample, ...] = own_times(taps_on_record()).samples
    for one in samples:
        side = own if one.person == ref else others
        side[one.model, one.action].append(one.each_s)
    both = [
        median(own[key]) / median(others[key])
        for key in own
        if min(len(own[key]), len(others.get(key, ()))) >= N_SAMPLES_MIN
    ]
    return (sum(both) / len(both), len(both)) if both else (None, 0)

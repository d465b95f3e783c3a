"""Devices worked at a bench, line by line, without a browser."""

from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from typing import Any

from turnscrew.core.bench.run import Line
from turnscrew.web.records.models import BenchRun, Job, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.services import bench, bench_places
from turnscrew.web.records.services.bench import Told
from web.browser.bench_case import describe, kitted
from web.conftest import SALLOWMERE

__all__ = ["describe", "kitted", "right_answer", "taken", "text_of"]


def text_of(name: str) -> str:
    return (SALLOWMERE / name).read_text("utf-8")


def taken(job: Job, by: Person, now: datetime, name: str = "bench 1") -> BenchRun:
    return bench_places.take(job, by=by, now=now, bench=name, is_time_up=lambda: True)


def right_answer(line: Line, other: str) -> tuple[str, Mapping[str, Any]]:
    """Give what is told of a line where all is well."""
    facts: dict[str, Any] = {}
    if line.asks in ("done", "close"):
        return "done", facts
    if line.asks == "look":
        facts = {"answer": "yes"} | ({"signed": True} if line.wants_photo else {})
    elif line.asks == "count":
        facts = {"left": 0}
    elif line.asks == "test":
        facts = {"answer": "not applicable", "reason": "tried elsewhere"}
    else:
        facts = {"value": str(line.low or line.high or 80)}
    return "answer", facts | ({"other": other} if line.second_look else {})


Answer = Callable[[Line], tuple[str, Mapping[str, Any]] | None]


def work(
    row: BenchRun,
    by: Person,
    now: datetime,
    *,
    other: Person,
    until: Callable[[Line], bool] = lambda line: False,
    first: Answer = lambda line: None,
    seconds: float = 20.0,
) -> datetime:
    """
    Tell line after line, up to the first one that is not to be told.

    ``first`` may give something else to tell of a line before its right answer.
    """
    at = now
    while True:
        state, run = bench_runs.state_and_run(row)
        if state.is_done(run) or until(run.lines[state.at]):
            return at
        line = run.lines[state.at]
        said = [first(line), right_answer(line, other.ref)]
        for act, facts in filter(None, said):
            at += timedelta(seconds=seconds)
            tell(row, by, at, act, line.number, facts)


def tell(
    row: BenchRun,
    by: Person,
    at: datetime,
    act: str,
    line: int,
    facts: Mapping[str, Any],
) -> None:
    key = f"{row.ref}-{row.strokes.count()}"
    told = Told(
        key, row.ref, act, line, at, facts, bench_runs.told(row).head, "bench 1"
    )
    bench.tell(told, by=by, now=at)

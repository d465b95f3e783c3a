"""What a bench sends and what it gets back, without a browser."""

import json
from collections.abc import Callable, Iterator, Mapping
from datetime import datetime
from itertools import count
from typing import Any

from django.test import Client

from turnscrew.core.bench.run import Line
from turnscrew.web.records.models import BenchRun, BenchStroke, Job, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.services import bench, bench_places
from turnscrew.web.records.services.bench import Told

AT = "2027-02-01T09:00:00+00:00"
_keys: Iterator[int] = count()


def new_key() -> str:
    return f"key-{next(_keys):08}"


def post(client: Client, address: str, body: Any, status: int = 200) -> Any:
    """Send JSON, or the very text given; give the JSON that comes back."""
    sent = body if isinstance(body, str | bytes) else json.dumps(body)
    answer = client.post(f"/bench/{address}", sent, content_type="application/json")
    assert status == answer.status_code, answer.content[:600]
    return answer.json()


def reasons(client: Client, address: str, body: Any, status: int = 409) -> str:
    return "; ".join(post(client, address, body, status)["reasons"])


def one(run: BenchRun | str, line: int = 0, act: str = "done", **more: Any) -> Any:
    """Give one stroke as it is sent."""
    ref = run if isinstance(run, str) else run.ref
    sent = {"key": new_key(), "run": ref, "act": act, "line": line, "at": AT}
    return sent | more


def became(
    client: Client, *strokes: Any, name: str = "bench 1", **more: Any
) -> list[Any]:
    """Send strokes in one message; give what became of each."""
    body = {"bench": name, "strokes": list(strokes), **more}
    return list(post(client, "tell/", body)["became"])


def standings(client: Client, *strokes: Any, name: str = "bench 1") -> list[str]:
    return [one["standing"] for one in became(client, *strokes, name=name)]


def in_turn(run: BenchRun, lines: range, after: str) -> list[Any]:
    """Give Done for some lines, each knowing of the one before."""
    strokes = []
    for line in lines:
        strokes.append(one(run, line, after=after))
        after = strokes[-1]["key"]
    return strokes


def taken(job: Job, by: Person, now: datetime, name: str = "bench 1") -> BenchRun:
    return bench_places.take(job, by=by, now=now, bench=name, is_time_up=lambda: True)


def head(run: BenchRun) -> str:
    return bench_runs.told(run).head


def told(
    run: BenchRun,
    by: Person,
    now: datetime,
    act: str,
    line: int,
    facts: Mapping[str, Any] | None = None,
) -> BenchStroke:
    """Tell one stroke at the bench that knows of all others."""
    stroke = Told(
        key=new_key(), run=run.ref, act=act, line=line, at=now, facts=facts or {},
        after=head(run), bench="bench 1",
    )  # fmt: skip
    return bench.tell(stroke, by=by, now=now)


def right_answer(line: Line, other: Person) -> tuple[str, dict[str, Any]]:
    """Give what is told of a line where all is well."""
    seen_by = {"other": other.ref} if line.second_look else {}
    match line.asks:
        case "done" | "close":
            return "done", {}
        case "look":
            shown = {"signed": True} if line.wants_photo else {}
            return "answer", {"answer": "yes", **seen_by, **shown}
        case "count":
            return "answer", {"left": 0, **seen_by}
        case "number":
            return "answer", {"value": "80", **seen_by}
    if line.may_power:
        return "answer", {"answer": "passed", **seen_by}
    return "answer", {"answer": "not possible", "reason": line.power, **seen_by}


def work(
    run: BenchRun,
    by: Person,
    now: datetime,
    other: Person,
    until: Callable[[Line], bool] = lambda line: False,
) -> Line | None:
    """Answer line after line as right; give the first one that is not to be told."""
    while True:
        state, lines = bench_runs.state_and_run(run)
        if state.is_done(lines):
            return None
        line = lines.lines[state.at]
        if until(line):
            return line
        act, facts = right_answer(line, other)
        told(run, by, now, act, line.number, facts)


def anew(client: Client, job: Job, status: int = 200, **change: Any) -> Any:
    """Ask for a new path; give its row."""
    answer = post(client, f"jobs/{job.ref}/anew/", change, status)
    if status != 200:
        return "; ".join(answer["reasons"])
    return BenchRun.objects.get(ref=answer["ref"])

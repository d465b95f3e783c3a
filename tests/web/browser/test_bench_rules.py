"""Does a bench without a network keep the very rules that the server keeps?"""

import json
import random
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from flows.bench.bench_cases import never
from flows.bench.small_devices import small_device
from random_strokes import any_stroke, likely_stroke
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import BenchState, Stroke, state_of
from turnscrew.flows.bench.goal import Finish, Goal, Lying, Usual, Work
from turnscrew.flows.bench.plan import run_for

N_CASES = 2000

FOLD = """
async ([address, sent]) => {
  const [runs, cases] = JSON.parse(sent);
  const rules = await import(address);
  return cases.map(([which, strokes, next]) => {
    const run = runs[which];
    const state = rules.stateOf(run, strokes);
    const told = rules.refusal(run, state, next, "P1");
    return [state.at, state.tray, state.held.length, state.nSkipped, told];
  });
}
"""

FINISH = (
    Finish(name="power", says="Power it."),
    Finish(name="charge", says="Charge.", asks="number", unit="%", low=60, high=80),
    Finish(name="volts", says="Measure.", asks="number", unit="V", low=1, high=5),
)

USUAL = (
    Usual(code="P", says="swollen pack, 2 of 3 had it", cautions=("No power.",)),
    Usual(code="S", says="seal leaks, 2 of 3 had it"),
)


def run_drawn(rng: random.Random) -> Run:
    reach = rng.choice(("lid", "board", "pack"))
    goal = Goal(
        reach=(reach,),
        work=(Work(says="Mend it.", reach=reach),) if rng.random() < 0.5 else (),
        no_power=rng.choice(("", "drowned")),
        finish=FINISH,
        usual=USUAL,
    )
    return run_for(small_device(rng), goal, Lying(), never)


def drawn() -> Iterator[tuple[int, Run, list[Stroke], Stroke]]:
    """Give runs with what was told so far, and one more stroke that may be wrong."""
    for which in range(50):
        rng = random.Random(which)
        run = run_drawn(rng)
        if not run.lines:
            continue
        strokes: list[Stroke] = []
        # Every part of a run is met: the first strokes of a walk are not asked of.
        n_unasked = rng.randint(0, len(run.lines) + 10)
        for index in range(n_unasked + 30):
            state = state_of(run, strokes)
            last = state.held[-1].line if state.held else -1
            likely = likely_stroke(run, state.at, last, rng)
            odd = any_stroke(run, state.at, rng)
            if index >= n_unasked:
                yield which, run, list(strokes), odd
                yield which, run, list(strokes), likely
            if not refusal(run, state, likely, "P1"):
                strokes.append(likely)


def as_sent(stroke: Stroke) -> dict[str, Any]:
    return {"act": stroke.act, "line": stroke.line, "facts": dict(stroke.facts)}


def head(told: str) -> str:
    """Give where something is wrong, which is what a refusal begins with."""
    return told.partition(":")[0]


def reckoned(state: BenchState, told: str) -> tuple[Any, ...]:
    return state.at, dict(state.tray), len(state.held), state.n_skipped, head(told)


def test_it_keeps_the_rules_of_the_server_in_the_browser(live_server, page) -> None:
    cases = random.Random(1).sample(list(drawn()), N_CASES)
    runs = {
        str(which): asdict(run) | {"off": [], "aside": []} for which, run, *_ in cases
    }
    sent = [
        (str(which), [as_sent(s) for s in strokes], as_sent(stroke))
        for which, _, strokes, stroke in cases
    ]
    page.goto(live_server.url + "/sign-in/")
    address = live_server.url + "/static/bench/fold.js"
    told = page.evaluate(FOLD, [address, json.dumps([runs, sent])])
    wrong, n_refused = [], 0
    for (which, run, strokes, stroke), (*state, words) in zip(cases, told, strict=True):
        own_state = state_of(run, strokes)
        own = refusal(run, own_state, stroke, "P1")
        n_refused += bool(own)
        if reckoned(own_state, own) != (*state, head(words)):
            line = run.lines[min(stroke.line, len(run.lines) - 1)]
            wrong.append((which, line.does, line.asks, stroke, own, words))

    assert [] == wrong[:20]
    assert N_CASES // 4 < n_refused < 3 * N_CASES // 4

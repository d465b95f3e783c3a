"""Does work go on at the very line at which it was left, on the right device?"""

import json
import random
from dataclasses import replace

from flows.bench.bench_cases import all_cases
from oracles.bench import standing
from random_strokes import likely_stroke
from scripted_bench import Bench, Rebuild, rebuild
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import BenchState, Stroke, state_of
from turnscrew.core.model.device import Device


def stored(strokes: list[Stroke]) -> list[Stroke]:
    """Keep strokes as text and read them again."""
    text = json.dumps([(s.act, s.line, dict(s.facts), s.key) for s in strokes])
    return [Stroke(*told) for told in json.loads(text)]


def forgetting_slips(state: BenchState) -> BenchState:
    # What was not right at first stays in mind, also when it is taken back.
    return replace(state, n_slips=0)


def worked(run: Run, n: int, rng: random.Random) -> list[Stroke]:
    """Work on a run for a number of strokes, with all that may differ."""
    strokes: list[Stroke] = []
    while len(strokes) < n:
        state = state_of(run, strokes)
        last = state.held[-1].line if state.held else -1
        stroke = likely_stroke(run, state.at, last, rng)
        if not refusal(run, state, stroke, "P1"):
            strokes.append(stroke)
    return strokes


def test_it_goes_on_at_the_very_line_a_hundred_times() -> None:
    rng = random.Random(100)
    for _ in range(100):
        device, run = rng.choice(all_cases())
        at = rebuild(device, Bench(run, state_of, refusal), None, rng)
        for _ in range(rng.randint(0, len(run.lines) - 1)):
            _go_on(at)
        kept = stored(at.bench.strokes)
        again = state_of(run, kept)

        assert len(kept) == again.at == standing(run, kept).at
        assert at.bench.state == again
        # Whoever goes on does the rest, each action once; the hands see to that.
        at.bench = Bench(run, state_of, refusal, kept)
        for number in range(again.at, len(run.lines)):
            assert at.bench.line == run.lines[number]
            assert _go_on(at)
        assert not _go_on(at)
        assert [] == at.hands.thing.faults()


def _go_on(at: Rebuild) -> bool:
    line = at.bench.line
    if line is None:
        return False
    if line.asks == "test" and not line.may_power:
        facts = {"answer": "not possible", "reason": line.power}
        return at.bench.tell(Stroke("answer", line.number, facts)) == ""
    stop = at.one_line()
    assert stop is None, stop
    return True


def test_it_restores_the_earlier_state_press_by_press() -> None:
    rng = random.Random(5)
    for _ in range(60):
        _, run = rng.choice(all_cases())
        strokes = worked(run, rng.randint(0, 15), rng)
        burst: list[BenchState] = []
        for _ in range(rng.randint(1, 8)):
            state = state_of(run, strokes)
            stroke = likely_stroke(run, state.at, -1, rng)
            if not refusal(run, state, stroke, "P1"):
                burst.append(state)
                strokes.append(stroke)
        for earlier in reversed(burst):
            state = state_of(run, strokes)
            undo = Stroke("undo", state.held[-1].line)
            assert "" == refusal(run, state, undo, "P1")
            strokes.append(undo)
            assert forgetting_slips(earlier) == forgetting_slips(state_of(run, strokes))


def test_it_keeps_twins_apart() -> None:
    rng = random.Random(22)
    for _ in range(4):
        device, run = rng.choice([c for c in all_cases() if len(c[1].lines) > 60])
        twins = [_twin(device, run, number, rng) for number in range(2)]
        n_written = [0, 0]
        for _ in range(100):
            which = rng.randint(0, 1)
            other = twins[1 - which].bench
            before = (list(other.strokes), other.state)
            n_written[which] += _go_on(twins[which])
            assert before == (other.strokes, other.state)
        for which, twin in enumerate(twins):
            assert n_written[which] == len(twin.bench.strokes)
            _is_as_told(twin)
            while _go_on(twin):
                pass
            assert [] == twin.hands.thing.faults()
            assert {} == twin.bench.state.tray


def _twin(device: Device, run: Run, number: int, rng: random.Random) -> Rebuild:
    return rebuild(device, Bench(run, state_of, refusal), None, random.Random(number))


def _is_as_told(at: Rebuild) -> None:
    thing, state = at.hands.thing, at.bench.state
    lying = {letter: len(got) for letter, got in thing.tray.items() if got}
    assert lying == dict(state.tray)
    assert set(thing.device.joints) - thing.made == state.off & set(thing.device.joints)
    assert thing.parts_aside == state.aside

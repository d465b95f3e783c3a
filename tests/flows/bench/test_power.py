"""Is a device said to have power only where its description allows it?"""

import random
from collections.abc import Iterator
from functools import cache

from flows.bench.bench_cases import (
    all_cases,
    devices,
    goals,
    lying_after,
    never,
    work_on,
)
from flows.bench.small_devices import small_device
from scripted_bench import with_all_inside
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Stroke, state_of
from turnscrew.core.model.device import Device
from turnscrew.flows.bench.goal import Goal, Lying, Work
from turnscrew.flows.bench.plan import run_for

NO_POWER = "it was under water"


def proper(line: Line) -> Stroke:
    """Answer a line so that the work goes on."""
    if line.asks in ("done", "close"):
        return Stroke("done", line.number)
    facts = {
        "look": {"answer": "yes"}, "count": {"left": 0}, "number": {"value": "1"},
        "test": {"answer": "not applicable", "reason": "none"},
    }[line.asks]  # fmt: skip
    return Stroke("answer", line.number, {"other": "P2", "signed": True} | facts)


@cache
def mixed_runs() -> tuple[tuple[Device, Goal, Run], ...]:
    return tuple(_mixed_runs())


def _mixed_runs() -> Iterator[tuple[Device, Goal, Run]]:
    """Give runs with what stays, from the middle, and without power."""
    rng = random.Random(41)
    for index in range(60):
        if index % 3 == 2:
            device = small_device(rng)
            reach = rng.choice(("lid", "board", "pack"))
        else:
            device = rng.choice(devices())
            reach = rng.choice(goals(device))
        goal = Goal(
            reach=(reach,),
            work=(Work(says="Mend it.", reach=reach),) if rng.random() < 0.6 else (),
            stays=tuple(rng.sample(list(device.joints), rng.randint(0, 1))),
            no_power=rng.choice(("", NO_POWER)),
        )
        run = run_for(device, goal, Lying(), never)
        yield device, goal, run
        if not run.lines:
            continue
        n = rng.randint(1, len(run.lines) - 1)
        state = state_of(run, [proper(line) for line in run.lines[:n]])
        more = Goal(reach=(), no_power=goal.no_power)
        yield device, more, run_for(device, more, lying_after(run, state), never)


def hot(device: Device, away: frozenset[str]) -> set[str]:
    """Name what cools and is away in no state in which the device may run."""
    cooling = away & set(device.power.cooling)
    for state in device.power.may_run:
        leave = {
            inside
            for name in state.with_off
            if name in device.parts
            for inside in with_all_inside(device, name)
        }
        if cooling <= leave and not away & set(state.not_without):
            return set()
    return set(cooling)


def away_at(run: Run) -> Iterator[tuple[Line, frozenset[str]]]:
    """Give each line with what is off or aside just before it."""
    off, aside = set(run.off), set(run.aside)
    for line in run.lines:
        yield line, frozenset(off | aside)
        off |= {line.name} if line.does in ("undo", "lift") else set()
        off -= {line.name} if line.does in ("make", "lay in") else set()
        aside |= {line.name} if line.does == "aside" else set()
        aside -= {line.name} if line.does == "bring back" else set()


def test_it_never_powers_what_lacks_its_cooling() -> None:
    n, wrong = 0, []
    runs = [(device, run) for device, run in all_cases()]
    runs += [(device, run) for device, _, run in mixed_runs()]
    for device, run in runs:
        for line, away in away_at(run):
            n += line.may_power and bool(away)
            if line.may_power and hot(device, away):
                wrong.append((device.name, run.reach, line.number, line.power))

    assert [] == wrong
    assert n > 500


def test_it_never_powers_a_device_with_something_off_that_must_be_on() -> None:
    wrong = []
    for device, run in all_cases():
        for line, away in away_at(run):
            states = device.power.may_run
            if (
                line.may_power
                and away
                and all(away & set(s.not_without) for s in states)
            ):
                wrong.append((device.name, run.reach, line.number, line.power))

    assert [] == wrong


def test_it_gives_no_power_before_the_work_is_done() -> None:
    n = 0
    for _, goal, run in mixed_runs():
        if not goal.no_power:
            continue
        done = [line.number for line in run.lines if line.phase == "work"]
        for line in run.lines:
            if not done or line.number <= done[-1]:
                n += 1
                assert not line.may_power, (run.device, run.reach, line)
    assert n > 500


def test_it_refuses_every_test_passed_where_there_is_no_power() -> None:
    n, wrong = 0, []
    for device, goal, run in mixed_runs():
        strokes = [proper(line) for line in run.lines]
        for line in run.lines:
            if line.asks != "test" or line.may_power:
                continue
            n += 1
            state = state_of(run, strokes[: line.number])
            passed = Stroke("answer", line.number, {"answer": "passed", "other": "P2"})
            if not refusal(run, state, passed, "P1"):
                wrong.append((device.name, goal.reach, line.number, line.name))

    assert n > 20
    assert [] == wrong


def test_it_gives_power_once_the_work_is_done_and_it_is_closed() -> None:
    device = devices()[0]
    work = work_on("display")
    run = run_for(
        device,
        Goal(reach=work.reach, work=work.work, no_power=NO_POWER),
        Lying(),
        never,
    )

    assert all(line.may_power for line in run.lines if line.phase == "final")


def test_it_calls_nothing_a_safe_stop_while_an_open_device_may_run() -> None:
    n_running = 0
    for _, _, run in mixed_runs():
        is_running = False
        for line in run.lines:
            is_running |= line.does == "test open"
            n_running += is_running
            assert not (is_running and (line.stop or line.to_stop == 0)), line
            is_running &= line.does != "power off"
    assert n_running > 20


def test_what_limits_or_guards_an_open_test_is_read_before_it() -> None:
    guarded = set()
    for device, _, run in mixed_runs():
        for line in run.lines:
            if line.does != "test open":
                continue
            test = device.tests[line.name]
            heeded = " ".join(line.cautions)
            assert all(words.lower() in heeded.lower() for words in test.supports)
            assert not any("at most" in words for words in line.details)
            if line.power_s is not None:
                assert f"for at most {line.power_s:g} s" in heeded
                guarded.add(device.name)
            if not line.may_power:
                assert "Do not power it now: " in heeded
            # That it may run at all is no danger.
            assert "May be powered." not in line.cautions
    assert len(guarded) > 1

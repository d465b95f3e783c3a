"""Does a new run from the middle of another lead to a whole device all the same?"""

import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from flows.bench.bench_cases import (
    devices,
    goals,
    lying_after,
    never,
    run_to,
    work_on,
)
from flows.bench.small_devices import small_device
from oracles.opening_dijkstra import cheapest
from scripted_bench import Bench, Rebuild, rebuild
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import BenchState, Stroke, state_of
from turnscrew.core.model.device import Device
from turnscrew.core.opening.answer import NumericAnswer
from turnscrew.core.opening.check import faults_in
from turnscrew.core.opening.problem import OpeningProblem
from turnscrew.flows.bench import plan
from turnscrew.flows.bench.goal import Goal, Lying
from turnscrew.flows.bench.plan import run_for

CHANGES = ("nothing", "stays", "also", "close")
WAY_IN = {"undo": "", "lift": "", "aside": " aside"}
WAY_BACK = {"make": "", "lay in": "", "bring back": " aside"}


@dataclass
class Anew:
    """A run, where it was left, and the run written from there."""

    seed: int
    device: Device
    old: Run
    state: BenchState
    change: str
    goal: Goal
    new: Run
    at: Rebuild
    solved: list[tuple[OpeningProblem, NumericAnswer]]

    def __str__(self) -> str:
        return (
            f"seed {self.seed}: {self.device.name} {self.device.revision}, "
            f"{self.old.reach}, left at line {self.state.at}, {self.change} {self.goal}"
        )


@pytest.fixture
def solved(monkeypatch) -> list[tuple[OpeningProblem, NumericAnswer]]:
    """Keep every problem that is solved, with its answer."""
    kept: list[tuple[OpeningProblem, NumericAnswer]] = []

    def keeping(problem, is_time_up):
        answer = inner(problem, is_time_up)
        kept.append((problem, answer))
        return answer

    inner = plan.solved
    monkeypatch.setattr(plan, "solved", keeping)
    return kept


def anew(seeds: range, solved, *, is_small: bool) -> Iterator[Anew]:
    for seed in seeds:
        rng = random.Random(seed)
        if is_small:
            device = small_device(rng)
            wanted = ["lid", "board", "pack"]
            old = run_for(device, work_on(rng.choice(wanted)), Lying(), never)
        else:
            index = rng.randrange(len(devices()))
            device = devices()[index]
            wanted = goals(device)
            old = run_to(index, rng.choice(wanted))
        if not old.lines:
            continue
        at = rebuild(device, Bench(old, state_of, refusal), None, rng)
        for _ in range(rng.randint(1, len(old.lines) - 1)):
            go_on(at)
        state = state_of(old, at.bench.strokes)
        change = CHANGES[seed % len(CHANGES)]
        goal = changed(device, old, state, change, wanted, rng)
        solved.clear()
        new = run_for(device, goal, lying_after(old, state), never)
        yield Anew(seed, device, old, state, change, goal, new, at, list(solved))


def changed(
    device: Device,
    old: Run,
    state: BenchState,
    change: str,
    wanted: list[str],
    rng: random.Random,
) -> Goal:
    ahead = [
        line.name
        for line in old.lines[state.at :]
        if line.does == "undo" and line.name not in state.off
    ]
    reach = tuple(name for name in old.reach if name not in state.off)
    if change == "close":
        return Goal()
    if change == "also":
        more = rng.choice([name for name in wanted if name not in state.off] or [""])
        return Goal(reach=tuple(dict.fromkeys((*reach, *filter(None, [more])))))
    stays = (rng.choice(ahead or list(device.joints)),) if change == "stays" else ()
    return Goal(
        reach=tuple(name for name in reach if name not in stays),
        stays=tuple(name for name in stays if name not in state.off),
    )


def go_on(at: Rebuild) -> None:
    line = at.bench.line
    assert line is not None
    if line.asks == "test" and not line.may_power:
        facts = {"answer": "not possible", "reason": line.power}
        assert "" == at.bench.tell(Stroke("answer", line.number, facts))
        return
    stop = at.one_line()
    assert stop is None, stop


def holds_every_law(case: Anew) -> None:
    """Assert all that a run written anew promises."""
    old, new, state = case.old, case.new, case.state
    assert old.letters.items() <= new.letters.items(), case
    assert len(set(new.letters.values())) == len(new.letters), case
    assert dict(state.tray) == dict(new.tray), case
    assert (state.off, state.aside) == (new.off, new.aside), case
    assert set(state.tray) <= set(new.fasteners), case
    if new.status == "impossible":
        assert new.reason, case
        assert () == new.lines, case
        return
    assert new.status == "optimal", case
    undone = Counter(w.name for w in new.lines if w.does in ("undo", "lift"))
    back = Counter(w.name for w in new.lines if w.does in ("make", "lay in"))
    assert not set(undone) & state.off, case
    assert not set(undone) & set(case.goal.stays), case
    assert back == undone + Counter(state.off), case
    aside = Counter(w.name for w in new.lines if w.does == "aside")
    hinged = Counter(w.name for w in new.lines if w.does == "bring back")
    assert hinged == aside + Counter(state.aside), case
    assert set(case.goal.reach) <= reached(case), case


def reached(case: Anew) -> set[str]:
    """Name all that was off at the turn-round, with what left inside it."""
    off = {w.name for w in case.new.lines if w.does in ("undo", "lift")}
    off |= case.state.off
    for _ in case.device.parts:
        inside = {
            one
            for name in off & set(case.device.parts)
            for one in (
                *case.device.parts[name].contains,
                *case.device.parts[name].carries,
            )
        }
        off |= inside
    return off


def keeps_its_plan(case: Anew) -> None:
    """Let the referee judge the plan, and hold the lines against it."""
    if case.new.status == "impossible":
        return
    problem, answer = case.solved[-1]
    assert () == faults_in(problem, answer, one_way=False), case
    planned = [m.name for m in answer.plan if m.kind in ("remove", "refit")]
    words = {**WAY_IN, **WAY_BACK}
    written = [w.name + words[w.does] for w in case.new.lines if w.does in words]
    assert planned == written, case


def ends_whole(case: Anew) -> None:
    """Let the hands go on by the new run to the end."""
    at = case.at
    at.bench = Bench(case.new, state_of, refusal)
    while at.bench.line is not None:
        go_on(at)
    assert [] == at.hands.thing.faults(), case
    assert {} == at.bench.state.tray, case


def test_it_leads_from_any_line_to_a_whole_device(solved) -> None:
    n: Counter[tuple[str, str]] = Counter()
    for case in anew(range(120), solved, is_small=False):
        holds_every_law(case)
        keeps_its_plan(case)
        if case.new.lines:
            ends_whole(case)
        n[case.change, case.new.status] += 1

    assert all(n[change, "optimal"] >= 15 for change in CHANGES), n
    assert n["stays", "impossible"] >= 1, n


def test_it_leads_small_devices_to_a_whole_one_at_the_least_cost(solved) -> None:
    n: Counter[str] = Counter()
    for case in anew(range(1000, 1060), solved, is_small=True):
        holds_every_law(case)
        keeps_its_plan(case)
        if case.new.lines:
            ends_whole(case)
        problem, answer = case.solved[-1]
        best = cheapest(problem, one_way=False)
        assert answer.cost == (best[0] if best else None), case
        n[case.new.status] += 1

    assert n["optimal"] >= 40, n


def test_it_closes_what_can_be_closed(solved) -> None:
    for case in anew(range(3, 80, 4), solved, is_small=False):
        assert case.change == "close"
        assert case.new.status == "optimal", case


def test_it_never_takes_off_what_stays() -> None:
    device = next(d for d in devices() if d.name.startswith("Tavistle"))
    goal = Goal(reach=("pack",), stays=("pack cover screws",))
    run = run_for(device, goal, Lying(), never)

    assert "impossible" == run.status
    assert run.reason
    assert () == run.lines

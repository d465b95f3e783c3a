"""Does the bench say how far a device is, and refuse what cannot be?"""

import random
import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from flows.bench.bench_cases import all_cases, never
from flows.bench.small_devices import small_device
from oracles.bench import is_refused, standing
from random_strokes import any_stroke, likely_stroke
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import BenchState, Stroke, state_of
from turnscrew.flows.bench.goal import Finish, Goal, Lying, Work
from turnscrew.flows.bench.plan import run_for

FINISH = (
    Finish(name="power", says="Power it."),
    Finish(name="clean", says="Wipe it."),
    Finish(name="volts", says="Measure.", asks="number", unit="V", low=1, high=5),
)


def line(number: int = 0, **facts) -> Line:
    values = {
        "phase": "opening", "asks": "done", "does": "undo", "name": "screws",
        "kind": "screw", "says": "", "letter": "A", "n": 4,
    }  # fmt: skip
    return Line(number=number, **(values | facts))


def run_of(*lines: Line, **facts) -> Run:
    return Run(
        device="box", revision="", reach=(), status="optimal", lines=lines, **facts
    )


def seen(state: BenchState) -> tuple:
    return (
        state.at, state.off, state.aside, dict(state.tray), state.held,
        state.n_skipped, state.n_slips,
    )  # fmt: skip


def wanted(run: Run, strokes: list[Stroke]) -> tuple:
    now = standing(run, strokes)
    return (
        now.at, now.off, now.aside, now.tray, now.held, now.n_skipped, now.n_slips,
    )  # fmt: skip


def small_runs(n: int) -> Iterator[Run]:
    """Give runs of small devices, also from the middle, and without power."""
    for seed in range(n):
        rng = random.Random(seed)
        device = small_device(rng)
        reach = rng.choice(("lid", "board", "pack"))
        goal = Goal(
            reach=(reach,),
            work=(Work(says="Mend it.", reach=reach),) if rng.random() < 0.5 else (),
            no_power=rng.choice(("", "", "drowned")),
            finish=FINISH[: rng.randint(0, 3)],
        )
        run = run_for(device, goal, Lying(), never)
        if run.status == "optimal":
            yield run


def walked(
    run: Run, rng: random.Random, n: int
) -> Iterator[tuple[list[Stroke], BenchState, Stroke, str]]:
    """Walk a run with likely strokes; at each place also try any stroke."""
    strokes: list[Stroke] = []
    for _ in range(n):
        state = state_of(run, strokes)
        last = state.held[-1].line if state.held else -1
        for stroke in (
            any_stroke(run, state.at, rng),
            likely_stroke(run, state.at, last, rng),
        ):
            told = refusal(run, state, stroke, "P1")
            yield strokes, state, stroke, told
        if not told:
            strokes.append(stroke)


def test_it_agrees_with_the_slow_version_on_thousands_of_strokes() -> None:
    n, n_refused = 0, 0
    wrong = []
    for seed, run in enumerate(small_runs(90)):
        rng = random.Random(seed)
        for strokes, state, stroke, told in walked(run, rng, len(run.lines) + 25):
            n, n_refused = n + 1, n_refused + bool(told)
            if seen(state) != wanted(run, strokes):
                wrong.append((seed, len(strokes), "state", strokes[-1:]))
            elif bool(told) != is_refused(run, strokes, stroke, "P1"):
                where = run.lines[min(stroke.line, len(run.lines) - 1)]
                wrong.append((seed, where.does, where.asks, stroke, told))

    assert [] == wrong[:20]
    assert n > 5000
    assert n // 4 < n_refused < 3 * n // 4


def test_it_agrees_with_the_slow_version_on_the_example_families() -> None:
    wrong = []
    rng = random.Random(8)
    for device, run in rng.sample(all_cases(), 10):
        for strokes, state, stroke, told in walked(run, rng, len(run.lines)):
            if seen(state) != wanted(run, strokes) or bool(told) != is_refused(
                run, strokes, stroke, "P1"
            ):
                wrong.append((device.name, run.reach, stroke, told))

    assert [] == wrong[:20]


def test_it_says_where_what_was_found_and_what_was_wanted() -> None:
    form = re.compile(r"[a-z ]+: found .*, wanted.*", re.DOTALL)
    odd = {
        told
        for seed, run in enumerate(small_runs(30))
        for *_, told in walked(run, random.Random(seed), 40)
        if told and not form.fullmatch(told)
    }

    assert set() == odd


def test_it_does_not_count_as_back_what_was_passed_over() -> None:
    run = run_of(
        line(0, does="make", phase="refit", letter="", kind="clip", name="clips"),
        off=frozenset({"clips"}),
    )
    skip = Stroke("skip", 0, {"reason": "one is broken"})
    strokes = [] if refusal(run, state_of(run, []), skip, "P1") else [skip]

    assert {"clips"} == state_of(run, strokes).off


@pytest.mark.parametrize("does", ["test open", "test"])
def test_it_refuses_a_test_passed_where_there_is_no_power(does) -> None:
    asked = line(0, does=does, asks="test", letter="", power="Power: no: drowned.")
    run = run_of(asked)
    powered = run_of(replace(asked, may_power=True))
    passed = Stroke("answer", 0, {"answer": "passed"})

    assert refusal(run, state_of(run, []), passed, "P1")
    assert not refusal(powered, state_of(powered, []), passed, "P1")


def test_it_closes_only_over_an_empty_tray() -> None:
    run = run_of(line(0, does="close", asks="close"), tray={"A": 2})
    empty = replace(run, tray={"A": 0})
    close = Stroke("done", 0)

    assert "tray: found 2 in A" in refusal(run, state_of(run, []), close, "P1")
    assert not refusal(empty, state_of(empty, []), close, "P1")
    assert refusal(empty, state_of(empty, []), Stroke("skip", 0, {"reason": "x"}), "")


def test_it_takes_fewer_where_some_were_missing_and_more_where_one_came_on_top() -> (
    None
):
    run = run_of(line(0, moves="taken", fastener="M2"))
    strokes = [
        Stroke("differs", 0, {"what": "missing on arrival", "n": 1}),
        Stroke("differs", 0, {"what": "one more", "n": 2}),
        Stroke("done", 0),
    ]

    assert {"A": 5} == state_of(run, strokes).tray
    assert {} == state_of(run, [*strokes, Stroke("undo", 0)]).tray


def test_it_wants_a_second_person_for_a_second_look() -> None:
    run = run_of(line(0, asks="look", does="look", second_look=True))
    state = state_of(run, [])

    def told(**facts: str) -> str:
        return refusal(
            run, state, Stroke("answer", 0, {"answer": "yes", **facts}), "P1"
        )

    assert told().startswith("second look: found nobody")
    assert told(other="P1").startswith("second look: found the same one")
    assert not told(other="P2")


@pytest.mark.parametrize("value", ["nan", "inf", "-inf", "1_0", "0x10"])
def test_it_takes_no_number_that_nothing_measures(value) -> None:
    run = run_of(line(0, asks="number", does="volts", unit="V"))
    stroke = Stroke("answer", 0, {"value": value})

    assert refusal(run, state_of(run, []), stroke, "P1")


@pytest.mark.parametrize(
    ("value", "unit", "is_taken"),
    [
        ("0", "%", True), ("100", "%", True), ("72.5", "%", True),
        ("100.1", "%", False),
        ("900", "%", False), ("-1", "%", False), ("900", "V", True), ("-1", "V", True),
    ],
)  # fmt: skip
def test_it_takes_no_more_than_a_whole_in_per_cent(value, unit, is_taken) -> None:
    run = run_of(line(0, asks="number", does="charge", unit=unit, high=60.0))
    told = refusal(run, state_of(run, []), Stroke("answer", 0, {"value": value}), "P1")

    assert told == ("" if is_taken else f"value: found {value}, wanted 0 to 100 %")


def test_it_keeps_in_mind_what_was_not_right_at_first() -> None:
    run = run_of(line(0, asks="look", does="look"))
    no, yes = (Stroke("answer", 0, {"answer": word}) for word in ("no", "yes"))

    assert (0, 1) == (state_of(run, [no]).at, state_of(run, [no]).n_slips)
    assert (1, 1) == (state_of(run, [no, yes]).at, state_of(run, [no, yes]).n_slips)


@pytest.mark.parametrize(("facts", "found"), [({"answer": "yes"}, "yes"), ({}, "one")])
def test_it_says_what_was_answered_where_nothing_is_asked(facts, found) -> None:
    run = run_of(line())

    said = refusal(run, state_of(run, ()), Stroke("answer", 0, facts), "P1")

    assert f"answer: found {found}, wanted done: this line asks nothing" == said

"""Does the journal of the bench say of every piece what became of it?"""

import random
from collections import Counter
from collections.abc import Sequence
from functools import cache

import pytest

from flows.bench.bench_cases import never, work_on
from flows.bench.small_devices import small_device
from random_strokes import likely_stroke
from turnscrew.core.bench.entries import Told, told_by
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Stroke, state_of
from turnscrew.flows.bench.goal import Lying
from turnscrew.flows.bench.plan import run_for

LEAVES = ("refitted", "replaced", "left out")


def pieces(told: Told) -> tuple[str, int]:
    """Give the compartment of an entry, and by how many pieces it changes."""
    n = int(told.facts.get("n") or 0)
    if told.verb == "undone":
        back = -1 if told.facts["verb"] in LEAVES else 1
        is_of_pieces = told.facts["verb"] in ("taken", *LEAVES)
        return str(told.facts.get("place")), -n * back if is_of_pieces else 0
    way = {"taken": 1} | dict.fromkeys(LEAVES, -1)
    return str(told.facts.get("place")), n * way.get(told.verb, 0)


def tray_told(entries: Sequence[Told]) -> dict[str, int]:
    tray: Counter[str] = Counter()
    for told in entries:
        letter, n = pieces(told)
        tray[letter] += n
    return {letter: n for letter, n in sorted(tray.items()) if n}


@cache
def worked(seed: int) -> tuple[Run, tuple[Stroke, ...], tuple[Told, ...]]:
    """Work on a small device with all that may differ; the journal is kept."""
    rng = random.Random(seed)
    reach = rng.choice(("lid", "board", "pack"))
    run = run_for(small_device(rng), work_on(reach), Lying(), never)
    strokes: list[Stroke] = []
    entries: list[Told] = []
    for _ in range(2 * len(run.lines)):
        state = state_of(run, strokes)
        last = state.held[-1].line if state.held else -1
        stroke = likely_stroke(run, state.at, last, rng)
        if refusal(run, state, stroke, "P1"):
            continue
        told = told_by(run, state, stroke)
        assert told
        strokes.append(stroke)
        entries += told
        assert tray_told(entries) == dict(state_of(run, strokes).tray), (seed, stroke)
    return run, tuple(strokes), tuple(entries)


def test_it_counts_the_tray_from_the_journal_alone() -> None:
    verbs: Counter[str] = Counter()
    for seed in range(80):
        _, _, entries = worked(seed)
        verbs.update(told.verb for told in entries)

    wanted = {"taken", "undone", "tested", "action", "found loose", *LEAVES}
    assert wanted == set(verbs)
    assert all(verbs[verb] >= 5 for verb in wanted), verbs


def test_it_takes_back_all_that_was_told() -> None:
    n = 0
    for seed in range(60):
        run, strokes, entries = worked(seed)
        state = state_of(run, strokes)
        while state.held:
            undo = Stroke("undo", state.held[-1].line)
            entries += told_by(run, state, undo)
            strokes = (*strokes, undo)
            state = state_of(run, strokes)
            n += 1
            assert tray_told(entries) == dict(state.tray)
        assert {} == tray_told(entries)
    assert n > 500


def line(**facts) -> Line:
    values = {
        "number": 0, "phase": "refit", "asks": "done", "does": "make", "says": "",
        "name": "lid screws", "kind": "screw", "letter": "A", "n": 4,
        "fastener": "H0, M2x0.4, 5 mm", "moves": "refitted",
    }  # fmt: skip
    return Line(**(values | facts))


def told(one: Line, stroke: Stroke, **tray: int) -> tuple[Told, ...]:
    run = Run(
        device="box", revision="", reach=(), status="optimal", lines=(one,),
        tray=tray, fasteners={letter: "H0, M2x0.4, 5 mm" for letter in tray},
    )  # fmt: skip
    return told_by(run, state_of(run, []), stroke)


PIECES = {"kind": "H0, M2x0.4, 5 mm", "place": "A", "joint": "lid screws"}


@pytest.mark.parametrize(
    ("one", "stroke", "tray", "verb", "facts"),
    [
        (line(moves="taken"), Stroke("done", 0), {}, "taken", PIECES | {"n": 4}),
        (line(), Stroke("done", 0), {"A": 3}, "refitted", PIECES | {"n": 3}),
        (
            line(), Stroke("differs", 0, {"what": "replaced", "n": 1}), {"A": 3},
            "replaced", PIECES | {"n": 1},
        ),
        (
            line(), Stroke("differs", 0, {"what": "left out", "n": 2, "reason": "x"}),
            {"A": 3}, "left out", PIECES | {"n": 2},
        ),
        (
            line(asks="count", does="count", name="A", compartments=("A",), moves="",
                 letter=""),
            Stroke("answer", 0, {"left": 2, "letter": "A"}), {},
            "undone", {"n": 2, "verb": "refitted"},
        ),
        (
            line(asks="test", does="test", name="sound", moves="", letter=""),
            Stroke("answer", 0, {"answer": "passed"}), {},
            "tested", {"answer": "passed", "name": "sound"},
        ),
        (
            line(), Stroke("differs", 0, {"what": "found loose", "n": 1}), {"A": 3},
            "found loose", {"n": 1, "what": "found loose"},
        ),
        (
            line(asks="look", does="look", moves="", letter=""),
            Stroke("answer", 0, {"answer": "no"}), {}, "tested", {"answer": "no"},
        ),
        (line(does="turn", moves="", letter=""), Stroke("done", 0), {}, "action", {}),
    ],
)  # fmt: skip
def test_it_writes_each_stroke_in_the_words_of_the_journal(
    one, stroke, tray, verb, facts
) -> None:
    (entry,) = told(one, stroke, **tray)

    assert verb == entry.verb
    assert facts.items() <= dict(entry.facts).items()


def test_it_writes_no_words_about_people() -> None:
    stroke = Stroke(
        "answer", 0, {"answer": "yes", "other": "P2", "key": "k", "who": "Jo"}
    )
    one = line(asks="look", does="look", moves="", letter="", second_look=True)
    (entry,) = told(one, stroke)

    assert {"does", "name", "act", "answer", "other"} == set(entry.facts)

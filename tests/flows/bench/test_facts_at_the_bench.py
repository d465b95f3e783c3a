"""Does the bench see every word of an opening path and its refit list?"""

import pytest

from flows.bench.bench_cases import devices, goals, never, run_to
from turnscrew.core.model.device import Device
from turnscrew.core.opening.answer import OpeningAnswer
from turnscrew.flows.bench.goal import Goal, Lying
from turnscrew.flows.bench.plan import run_for
from turnscrew.flows.opening import opening_path

CASES = [(index, goals(device)[-3:]) for index, device in enumerate(devices())]


def spoken(device: Device, answer: OpeningAnswer) -> set[str]:
    """Give every sentence of an answer that belongs to a line of the bench."""
    lines = (*answer.opening, *answer.refit)
    said = {
        words
        for line in lines
        if line.verb != "take"
        for words in (*line.cautions, *line.details)
    }
    return said | {
        *answer.settings,
        *answer.final_tests,
        *(answer.signals if answer.final_tests else ()),
    }


def test_it_counts_in_the_compartment_that_the_description_names() -> None:
    index = next(k for k, d in enumerate(devices()) if "screw plugs" in d.joints)
    run = run_to(index, "fan")
    plugs = next(
        line for line in run.lines if line.does == "undo" and line.name == "screw plugs"
    )
    counted = next(
        line for line in run.lines
        if line.asks == "count" and "screw plugs" in line.names
    )  # fmt: skip

    assert "Keep in compartment 6 to 10, one each." in plugs.details
    assert f"{plugs.letter} kept in 6 to 10, one each" in counted.says
    assert set(run.letters[name] for name in counted.names) == set(counted.compartments)


@pytest.mark.parametrize(("index", "names"), CASES)
def test_it_leaves_no_sentence_of_the_path_out(index: int, names: list[str]) -> None:
    device = devices()[index]
    run = run_to(index, *names)
    answer = opening_path(device, run.reach, never)

    shown = {
        words
        for line in run.lines
        for words in (line.says, *line.cautions, *line.details)
    }
    assert spoken(device, answer) - shown == set()


def test_it_says_at_the_refit_of_a_screw_what_may_stand_in() -> None:
    index = next(i for i, d in enumerate(devices()) if d.name == "Pellorin L240")
    run = run_to(index, "fan")

    line = next(
        one for one in run.lines if one.name == "rim screws" and one.does == "make"
    )
    assert "If one is missing, a spare like these may stand in: " in str(line.details)
    assert "centre screws (3.5 mm)" in str(line.details)
    assert "deep screws" not in str(line.details)


def test_it_says_what_lamps_mean_at_a_final_test_where_none_came_before() -> None:
    device = next(d for d in devices() if d.name == "Tavistle V80")
    goal = Goal(reach=("camera window",))

    run = run_for(device, goal, Lying(), never)

    final = [line for line in run.lines if line.phase == "final" and line.details]
    assert "Red lamp, steady: pack below the start level." in final[0].details

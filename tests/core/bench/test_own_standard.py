"""Do own medians stand only where enough work is behind them?"""

import math
import random
from datetime import UTC, datetime, timedelta

import pytest

from example_files import example_text
from turnscrew.core.bench.own_standard import (
    OwnMinutes,
    OwnStandard,
    open_close_minutes,
    own_element_times,
    own_standards,
)
from turnscrew.core.bench.own_time import Sample, Tap, own_times
from turnscrew.core.bench.tap_words import element_of_action
from turnscrew.core.model.model_terms import StandardMinutes
from turnscrew.core.model.times import ELEMENTS, ElementTime, element_time
from turnscrew.files.device_file import read_device

MONDAY = datetime(2027, 2, 1, 8, 0, tzinfo=UTC)


def sample(seconds: float, action: str = "undo screw", **facts) -> Sample:
    values = {"model": "M", "person": "p", "job": "j1", "n": 1, **facts}
    return Sample(action=action, seconds=seconds, **values)


def in_jobs(action: str, *each_s: float, n: int = 1, **facts) -> list[Sample]:
    return [
        sample(n * each, action, job=f"j{k}", n=n, **facts)
        for k, each in enumerate(each_s)
    ]


def test_five_samples_of_two_jobs_make_a_standard() -> None:
    samples = [sample(s, job=f"j{s % 2}") for s in (5, 6, 8, 9, 30)]

    assert {
        ("M", "undo screw", "p"): OwnStandard(
            n=5, n_jobs=2, median_s=8, middle_half_s=(6, 9)
        )
    } == own_standards(samples)


def test_four_samples_make_none() -> None:
    found = own_standards(in_jobs("undo screw", 5, 6, 8, 9))

    assert OwnStandard(n=4, n_jobs=4) == found["M", "undo screw", "p"]


def test_one_job_makes_none() -> None:
    found = own_standards([sample(8) for _ in range(30)])

    assert OwnStandard(n=30, n_jobs=1) == found["M", "undo screw", "p"]


def test_a_standard_is_of_one_piece() -> None:
    found = own_standards(in_jobs("undo screw", 4, 5, 6, 7, 8, n=5))

    assert 6 == found["M", "undo screw", "p"].median_s


def test_models_actions_and_people_are_kept_apart() -> None:
    samples = [sample(8), sample(8, person="q"), sample(8, model="N")]

    assert 3 == len(own_standards(samples))


def test_learning_shows() -> None:
    found = own_standards(in_jobs("undo screw", 30, 28, 25, 24, 20, 15, 12, 11, 10, 9))

    one = found["M", "undo screw", "p"]
    assert (25, 11) == (one.first_s, one.latest_s)


@pytest.mark.parametrize("seed", range(30))
def test_relabelling_the_jobs_and_doubling_the_times_does_what_it_must(seed) -> None:
    draw = random.Random(seed)
    samples = in_jobs("undo clip", *(draw.uniform(1, 9) for _ in range(11)))
    doubled = [sample(2 * s.seconds, s.action, job=f"x{s.job}") for s in samples]

    one = own_standards(samples)["M", "undo clip", "p"]
    two = own_standards(doubled)["M", "undo clip", "p"]

    assert one.median_s is not None and one.middle_half_s is not None
    assert two.median_s == pytest.approx(2 * one.median_s)
    assert one.middle_half_s[0] <= one.median_s <= one.middle_half_s[1]


def test_five_jobs_replace_the_default_and_four_do_not() -> None:
    five = own_element_times(in_jobs("undo screw", 5, 6, 7, 8, 9, n=4), {})
    four = own_element_times(in_jobs("undo screw", 5, 6, 7, 8), {})
    one = own_element_times([sample(7) for _ in range(50)], {})

    assert {
        "screw": ElementTime(
            7.0,
            ELEMENTS["screw"].refit_s,
            "own; undoing: median of 5 taps in 5 jobs; putting back: "
            "published service worksheet",
            n_jobs=5,
        )
    } == five
    assert five["screw"] == element_time("screw", five)
    assert ({}, {}) == (four, one)


def test_both_ways_of_an_element_are_own_if_both_are_known() -> None:
    samples = in_jobs("lift part", 2, 2, 2, 2, 2, 2) + in_jobs(
        "lay in part", 4, 4, 4, 4, 4
    )

    found = own_element_times(samples, {})

    assert (2, 4, 5) == (
        found["lift"].strip_s,
        found["lift"].refit_s,
        found["lift"].n_jobs,
    )


def test_a_turn_is_the_same_both_ways() -> None:
    found = own_element_times(in_jobs("turn posture", 6, 6, 6, 6, 6), {})

    assert (6, 6) == (found["turn"].strip_s, found["turn"].refit_s)
    assert found["turn"].source == "own; undoing: median of 5 taps in 5 jobs"


def test_the_description_keeps_what_rests_on_more_jobs() -> None:
    rich = {"screw": ElementTime(3, 3, n_jobs=40), "clip": ElementTime(2, 2)}
    samples = in_jobs("undo screw", 7, 7, 7, 7, 7) + in_jobs("undo clip", 5, 5, 5, 5, 5)

    found = own_element_times(samples, rich)

    assert rich["screw"] == found["screw"]
    assert (5, 2) == (found["clip"].strip_s, found["clip"].refit_s)
    assert ["screw", "clip"] == list(found)


def test_samples_of_another_model_do_not_count_for_one() -> None:
    samples = in_jobs("undo screw", 7, 7, 7, 7, 7, model="N")

    assert {} == own_element_times(samples, {}, "M")
    assert 7 == own_element_times(samples, {}, "N")["screw"].strip_s


def test_more_jobs_than_a_description_can_tell_are_told_as_its_most() -> None:
    found = own_element_times(in_jobs("undo screw", *[7.0] * 700), {})

    assert 500 == found["screw"].n_jobs


@pytest.mark.parametrize("element", [e for e in ELEMENTS if e not in ("tool", "turn")])
def test_every_element_of_the_engine_can_be_told_by_a_tap(element: str) -> None:
    if element in ("lift", "aside"):
        back = {"lift": "lay in", "aside": "bring back"}[element]
        assert (element, "strip") == element_of_action(f"{element} part")
        assert (element, "refit") == element_of_action(f"{back} part")
    else:
        assert (element, "strip") == element_of_action(f"undo {element}")
        assert (element, "refit") == element_of_action(f"make {element}")
        assert (element, "refit") == element_of_action(f"refit {element}")


@pytest.mark.parametrize("action", ["test open", "undo", "undo mystery", "look", ""])
def test_what_is_no_element_is_none(action: str) -> None:
    assert element_of_action(action) is None


def test_own_times_fit_into_a_description_and_move_its_opening() -> None:
    text = example_text("pellorin-l240.device.yaml")
    device = read_device(text, revision="B")
    samples = in_jobs("undo screw", 3, 3, 3, 3, 3) + in_jobs(
        "make screw", 4, 4, 4, 4, 4
    )

    times = own_element_times(samples, device.times)

    assert (3, 4) == (
        element_time("screw", times).strip_s,
        element_time("screw", times).refit_s,
    )
    assert element_time("screw", device.times) != element_time("screw", times)


# Whole jobs: opened, mended, closed.


def job_taps(job: str, start_s: float, number: int, pace: float) -> list[Tap]:
    lines = [
        ("see to place", 5),
        *[("undo screw", 45)] * 8,
        ("lift part", 30),
        ("fit work", 55),
        ("test open", 50),
        ("lay in part", 30),
        *[("make screw", 50)] * 8,
        ("count count", 20),
    ]
    taps, at_s = [], start_s
    for k, (action, seconds) in enumerate(lines):
        at_s += seconds * pace
        taps.append(
            Tap(
                number=number + k,
                at=MONDAY + timedelta(seconds=at_s),
                person="p",
                job=job,
                model="M",
                action=action,
            )
        )
    return taps


def worked(paces: list[float]) -> list[Tap]:
    return [
        one
        for k, pace in enumerate(paces)
        for one in job_taps(f"j{k}", 3000 * k, 100 * k, pace)
    ]


def test_five_whole_jobs_give_the_minutes_of_opening_and_closing() -> None:
    times = own_times(worked([0.9, 1.0, 1.1, 0.8, 1.2]))
    whole = {f"j{k}" for k in range(5)}

    found = open_close_minutes(times, "M", whole)

    # 8 x 45 + 30 + 30 + 8 x 50 + 20 seconds; mending and test are not in it.
    assert OwnMinutes(14, 5, "own: median of 5 whole jobs") == found
    assert found.minutes is not None
    assert StandardMinutes(5, 5, open_close=found.minutes).open_close == 14


def test_four_whole_jobs_give_none() -> None:
    times = own_times(worked([1.0] * 6))

    found = open_close_minutes(times, "M", {"j0", "j1", "j2", "j3"})

    assert OwnMinutes(None, 4, "own: median of 4 whole jobs; 5 are wanted") == found
    assert open_close_minutes(times, "N", {f"j{k}" for k in range(6)}).minutes is None


@pytest.mark.parametrize("seed", range(20))
def test_the_median_of_drawn_times_comes_near_the_true_one(seed: int) -> None:
    draw = random.Random(seed)
    taps, now = [], MONDAY
    for k in range(200):
        now += timedelta(seconds=9.4 * math.exp(draw.gauss(0, 0.5)))
        if draw.random() < 0.05:
            now += timedelta(seconds=draw.uniform(60, 400))
        taps.append(
            Tap(
                number=k,
                at=now,
                person="p",
                job=f"j{k // 20}",
                model="M",
                action="undo screw",
            )
        )

    times = own_element_times(own_times(taps).samples, {})

    assert 9.4 == pytest.approx(times["screw"].strip_s, rel=0.2)

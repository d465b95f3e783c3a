"""Does the spread come from own times where there are enough, and is it wider else?"""

from math import exp, log
from random import Random
from statistics import stdev

import pytest

from turnscrew.core.schedule.spread import ENOUGH, WIDER, spread_of


def minutes(model: float, n: int, seed: int = 1) -> list[float]:
    chance = Random(seed)
    return [model * exp(chance.gauss(0, 0.4)) for _ in range(n)]


def test_without_own_times_the_figure_of_the_terms_is_made_wider() -> None:
    found = spread_of({}, 0.3)

    assert (0.3 * WIDER, "terms, made wider", 0) == (
        found.sd, found.known_by, found.n_jobs,
    )  # fmt: skip
    assert "too few own times of like jobs (0 jobs)" in str(found)


def test_one_model_gives_the_deviation_of_its_logarithms() -> None:
    # The textbook figure of one sample, by the standard library.
    own = minutes(60, ENOUGH + 1)
    found = spread_of({"V80": own}, 0.3)

    assert stdev(map(log, own)) == pytest.approx(found.sd)
    assert f"own times of {ENOUGH + 1} jobs" in str(found)


def test_models_of_other_length_do_not_make_it_wider() -> None:
    short, long = minutes(20, 200), minutes(200, 200, seed=2)
    found = spread_of({"R50": short, "V80": long}, 0.3)

    assert pytest.approx(0.4, abs=0.04) == found.sd


def test_it_counts_what_is_left_of_each_model() -> None:
    # 20 jobs of 10 models tell of 10 differences only.
    few = {f"M{n}": minutes(30, 2, seed=n) for n in range(10)}

    assert "terms, made wider" == spread_of(few, 0.3).known_by
    assert "own times" == spread_of({"V80": minutes(30, ENOUGH + 1)}, 0.3).known_by
    assert 0 == spread_of({"V80": [30.0]}, 0.3).n_jobs

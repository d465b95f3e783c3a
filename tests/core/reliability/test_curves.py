"""Do the curves agree with slow oracles, another program and their laws?"""

import math

import numpy as np
import pytest
from statsmodels.duration.survfunc import SurvfuncRight

from random_lives import random_lives
from turnscrew.core.reliability.curves import cumulative_hazard, survival_curve
from turnscrew.core.reliability.lives import lives_of, lives_until
from turnscrew.errors import BadArgumentError


def slow_table(lives):
    """Count at each age, row by row."""
    entry = [0] * lives.n_rows if lives.entry is None else lives.entry.tolist()
    weight = [1] * lives.n_rows if lives.weight is None else lives.weight.tolist()
    rows = list(zip(entry, lives.exit.tolist(), lives.is_event, weight, strict=True))
    for age in sorted({exit for _, exit, is_event, _ in rows if is_event}):
        at_risk = sum(w for begin, end, _, w in rows if begin < age <= end)
        failed = sum(w for _, end, is_event, w in rows if is_event and end == age)
        yield age, at_risk, failed


def test_it_counts_as_a_slow_oracle_on_thousands_of_tables():
    for seed in range(1500):
        lives = random_lives(seed, 3 + seed % 20, with_entry=seed % 3 > 0,
                             with_weight=seed % 2 > 0, digits=-2)  # fmt: skip
        curve = survival_curve(lives)
        hazard = cumulative_hazard(lives)
        broken = cumulative_hazard(lives, ties="one by one")
        share, total, single, square = 1.0, 0.0, 0.0, 0.0
        table = list(slow_table(lives))
        assert len(table) == len(curve.age)
        for row, (age, at_risk, failed) in enumerate(table):
            share *= 1 - failed / at_risk
            total += failed / at_risk
            single += sum(1 / (at_risk - j) for j in range(int(failed)))
            square += sum(1 / (at_risk - j) ** 2 for j in range(int(failed)))
            assert (age, at_risk, failed) == (
                curve.age[row], curve.n_at_risk[row], curve.n_events[row]
            )  # fmt: skip
            assert pytest.approx(share, abs=1e-12) == curve.survival[row]
            assert pytest.approx(total, rel=1e-12) == hazard.hazard[row]
            assert pytest.approx(single, rel=1e-11) == broken.hazard[row]
            assert (
                pytest.approx(math.sqrt(square), rel=1e-10)
                == (broken.standard_error[row])
            )


@pytest.mark.parametrize("seed", range(60))
def test_it_agrees_with_another_program(seed):
    lives = random_lives(seed, 40, with_entry=False, digits=-1)
    other = SurvfuncRight(lives.exit, lives.is_event.astype(int))
    curve = survival_curve(lives)
    assert np.allclose(other.surv_times, curve.age)
    assert np.allclose(other.surv_prob, curve.survival)
    runs = curve.survival > 0
    assert np.allclose(other.surv_prob_se[runs], curve.standard_error[runs])
    assert other.quantile(0.5) == curve.median or curve.median is None


@pytest.mark.parametrize("limits", ["plain", "log", "log-log"])
def test_it_keeps_limits_around_the_share(limits):
    curve = survival_curve(random_lives(2, 50), limits=limits)
    runs = curve.survival > 0
    assert (curve.low[runs] <= curve.survival[runs]).all()
    assert (curve.high[runs] >= curve.survival[runs]).all()
    assert (curve.low >= 0).all() and not (curve.high > 1).any()
    assert (np.diff(curve.survival) <= 0).all()


def test_it_gives_the_exponential_of_the_hazard_if_asked():
    lives = random_lives(3, 30)
    curve = survival_curve(lives, estimator="exponential of hazard", variance="aalen")
    hazard = cumulative_hazard(lives)
    assert np.allclose(-np.log(curve.survival), hazard.hazard)
    assert np.allclose(curve.standard_error / curve.survival, hazard.standard_error)


def test_it_sets_limits_of_the_hazard_on_two_scales():
    lives = random_lives(3, 30)
    plain = cumulative_hazard(lives, limits="plain")
    log = cumulative_hazard(lives)
    assert np.allclose(log.low * log.high, log.hazard**2)
    assert (plain.low >= 0).all()
    assert np.allclose(plain.high - plain.hazard, 1.959964 * plain.standard_error)


def test_it_leaves_the_latecomer_out_of_earlier_ages():
    lives = lives_of([2, 5, 9], [1, 1, 0], entry=[0, 2, 2])
    curve = survival_curve(lives)
    assert [1, 2] == curve.n_at_risk.tolist()
    assert [0, 0] == curve.survival.tolist()
    assert curve.is_cut_off
    assert np.isnan(curve.high).all()
    assert 0 == curve.survival_at(20)


def test_it_reads_the_curve_between_and_beyond_its_ages():
    curve = survival_curve(lives_until([10, 32], [50, 60]))
    assert (1, 0.75, 0.75, 0.5) == tuple(map(curve.survival_at, (5, 10, 31, 60)))
    assert curve.survival_at(60.5) is None
    assert not curve.is_cut_off
    assert 32 == curve.median
    age, low, high = curve.quantile(0.25)
    assert (10, 10, None) == (age, low, high)
    assert (None, 10) == curve.quantile(0.6)[:2]


def test_it_is_empty_where_nothing_failed():
    curve = survival_curve(lives_until([], [4, 5]))
    assert 0 == len(curve.age)
    assert 1 == curve.survival_at(4.5)
    assert curve.median is None
    assert 0 == len(cumulative_hazard(lives_until([], [4])).age)


@pytest.mark.parametrize(
    "call",
    [
        lambda: survival_curve(lives_until([1]), confidence=0),
        lambda: cumulative_hazard(lives_until([1]), confidence=1),
        lambda: survival_curve(lives_until([1])).quantile(1),
    ],
)
def test_it_refuses_what_is_no_share(call):
    with pytest.raises(BadArgumentError, match="wanted between 0 and 1"):
        call()

"""How widely do times of the same work spread?"""

from statistics import fmean, quantiles, stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.handbook.spread import cleaned, mean_ratio, spread_of
from turnscrew.errors import BadArgumentError

TIMES = st.lists(st.floats(1, 1e4), min_size=2, max_size=60)


@given(times_s=TIMES)
def test_it_agrees_with_the_standard_library(times_s) -> None:
    """Mean and deviation reckoned by other code."""
    spread = spread_of(times_s)

    assert pytest.approx(fmean(times_s)) == spread.mean_s
    assert pytest.approx(stdev(times_s), rel=1e-6, abs=1e-6) == spread.sd_s
    assert pytest.approx(spread.sd_s) == spread.variation * spread.mean_s


@given(times_s=TIMES)
def test_it_leaves_out_only_what_lies_far_beyond(times_s) -> None:
    """Quartiles by other code; all that stays keeps its order."""
    low_s, _, high_s = quantiles(times_s, n=4, method="inclusive")
    reach_s = 1.5 * (high_s - low_s)
    kept = cleaned(times_s)
    # A time on the fence itself may fall either way in the last bit.
    inner = [t for t in times_s if low_s - reach_s + 1e-6 < t < high_s + reach_s - 1e-6]
    outer = [t for t in times_s if low_s - reach_s - 1e-6 < t < high_s + reach_s + 1e-6]

    assert len(inner) <= len(kept) <= len(outer)
    assert set(inner) <= set(kept) <= set(outer)
    assert list(kept) == [t for t in times_s if t in set(kept)]


def test_it_keeps_times_that_are_all_alike() -> None:
    """No width, no fence to fall over."""
    assert (5.0, 5.0, 5.0) == cleaned([5.0, 5.0, 5.0])
    assert 0 == spread_of([5.0, 5.0]).variation


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: spread_of([1.0]), "times_s: found 1 time, wanted at least two"),
        (lambda: spread_of([1.0, -1.0]), "times_s: found -1"),
        (lambda: cleaned([]), "times_s: found 0 times"),
        (lambda: mean_ratio([]), "pairs: found none, wanted at least one pair"),
        (lambda: mean_ratio([(0, 1)]), "pairs: found 0"),
        (lambda: mean_ratio([(1, -1)]), "pairs: found -1"),
    ],
)
def test_it_refuses_too_few_times(reckon, words) -> None:
    """One time has no spread."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()

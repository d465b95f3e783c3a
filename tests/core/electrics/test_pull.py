"""Which voltage does a pull-up make on a CC pin?"""

import pytest

from turnscrew.core.electrics.pull import cc_divider_v, cc_source_v, cc_worst_case_v
from turnscrew.errors import BadArgumentError


def test_it_gives_the_plain_divider_without_tolerances() -> None:
    """Only VBUS strays then."""
    assert (cc_divider_v(10e3, 4.75), cc_divider_v(10e3, 5.5)) == cc_worst_case_v(
        10e3, 0, 0
    )


def test_it_gives_the_pull_up_to_the_lower_rail() -> None:
    """36 kilohm to 3.3 V makes the level that 56 kilohm to 5 V makes."""
    assert pytest.approx(cc_divider_v(56e3), abs=0.01) == cc_divider_v(36e3, 3.3)


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: cc_divider_v(0), "pull_up_ohm: found 0"),
        (lambda: cc_divider_v(1, -1), "supply_v: found -1"),
        (lambda: cc_divider_v(1, 5, 0), "pull_down_ohm: found 0"),
        (lambda: cc_source_v(-1), "current_a: found -1"),
        (lambda: cc_source_v(1, 0), "pull_down_ohm: found 0"),
        (lambda: cc_worst_case_v(1, 0.6), "pull_up_tolerance: found 0.6"),
        (lambda: cc_worst_case_v(1, 0, -0.1), "pull_down_tolerance: found -0.1"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """Nothing is divided by zero."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()

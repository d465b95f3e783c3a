"""What is counted in the time until an item works again?"""

from dataclasses import astuple, fields, replace

import pytest

from turnscrew.core.handbook.restoring import (
    Stretches,
    availability,
    restoration_of,
)
from turnscrew.errors import BadArgumentError

# Which of repair, active, corrective and restoration each stretch counts in.
COUNTED = {
    "detection": (0, 0, 0, 1),
    "administrative": (0, 0, 0, 1),
    "logistic": (0, 0, 1, 1),
    "technical": (0, 1, 1, 1),
    "localization": (1, 1, 1, 1),
    "correction": (1, 1, 1, 1),
    "checkout": (1, 1, 1, 1),
}


@pytest.mark.parametrize("name", [field.name for field in fields(Stretches)])
def test_it_counts_each_stretch_where_it_belongs(name) -> None:
    """IEC 60050-192, figures 1 and 2."""
    found = restoration_of(replace(Stretches(), **{name: 1}))

    assert COUNTED[name] == astuple(found)


def test_it_is_fit_always_or_never_at_the_ends() -> None:
    """No restoration at all, or nothing but restoration."""
    assert 1 == availability(3600, 0)
    assert 0 == availability(0, 3600)


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: Stretches(logistic=-1), "logistic: found -1"),
        (lambda: Stretches(checkout=float("nan")), "checkout: found nan"),
        (lambda: availability(-1, 1), "operating_s: found -1"),
        (lambda: availability(1, -1), "restoring_s: found -1"),
        (lambda: availability(0, 0), "operating_s: found 0, wanted more than 0 s"),
    ],
)
def test_it_refuses_a_time_below_zero(reckon, words) -> None:
    """And a share of no time."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()

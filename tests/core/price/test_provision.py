"""Is the money set aside the expected number times the mean cost?"""

import pytest

from turnscrew.core.price.provision import provision_for
from turnscrew.errors import BadArgumentError


def test_it_multiplies_as_by_hand() -> None:
    # By hand: the mean of 30.00 and 50.00 is 40.00; 2.5 of it are 100.00.
    told = provision_for(2.5, (0, 6), [3_000, 5_000])

    assert told is not None
    assert (4_000, 2) == (told.mean_cost_minor, told.n_costs)
    assert (0, 10_000, 24_000) == (
        told.low_minor, told.expected_minor, told.high_minor,
    )  # fmt: skip


def test_it_gives_none_where_no_cost_is_known() -> None:
    assert provision_for(2.5, (0, 6), []) is None


def test_it_refuses_what_cannot_be() -> None:
    for expected, limits, costs in (
        (-1.0, (0, 1), [1]),
        (1.0, (-1, 1), [1]),
        (1.0, (2, 1), [1]),
        (1.0, (0, 1), [-1]),
    ):
        with pytest.raises(BadArgumentError, match="found"):
            provision_for(expected, limits, costs)

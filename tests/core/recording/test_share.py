"""The share of unproven orders bounds the share of forbidden ones."""

import random

import pytest

from random_openings import drawn_openings, hidden_device, is_legal
from turnscrew.core.recording.orders import Opened, rules_from
from turnscrew.core.recording.share import (
    UnprovenShare,
    drawn_order,
    unproven_share,
    upper_share,
)


def test_it_meets_the_closed_form_where_nothing_was_hit() -> None:
    for n_trials in (1, 10, 59, 3000):
        assert upper_share(0, n_trials) == pytest.approx(1 - 0.05 ** (1 / n_trials))


def test_it_meets_the_tail_it_is_defined_by() -> None:
    """With two of five hits at share p, at most two come with chance 0.05."""
    p = upper_share(2, 5)

    tail = (1 - p) ** 5 + 5 * p * (1 - p) ** 4 + 10 * p**2 * (1 - p) ** 3
    assert tail == pytest.approx(0.05)


def test_it_bounds_nothing_where_nothing_was_tried_or_all_was_hit() -> None:
    assert 1.0 == upper_share(0, 0) == upper_share(4, 4)


def test_it_counts_orders_that_no_recording_proves() -> None:
    openings = [Opened(("a", "c")), Opened(("b", "c"))]
    orders = [Opened(("a", "b", "c")), Opened(("c",))]

    found = unproven_share(orders, openings)

    assert found == UnprovenShare(2, 1, upper_share(1, 2))


@pytest.mark.parametrize("kept", [1, 2])
def test_it_bounds_the_share_of_forbidden_orders(kept: int) -> None:
    """Three alternatives are more than the rules keep, so some orders are forbidden."""
    n_forbidden = n_covered = 0
    seeds = range(150)
    for seed in seeds:
        rng = random.Random(seed)
        hidden = hidden_device(rng, most_alternatives=3)
        openings = drawn_openings(rng, hidden, 1 + seed % 15)
        rules = rules_from(openings, kept)
        drawn = [drawn_order(rules, rng.randrange) for _ in range(40)]
        fresh = [drawn_order(rules, rng.randrange) for _ in range(40)]
        wrong = [o for o in drawn if not is_legal(hidden.needs, o.order)]
        bound = unproven_share(drawn, openings)
        n_fresh = sum(not is_legal(hidden.needs, o.order) for o in fresh)

        assert len(wrong) <= bound.n_unproven <= 40 * bound.upper_share
        n_forbidden += len(wrong)
        n_covered += n_fresh <= 40 * bound.upper_share
    assert n_forbidden > 0
    assert n_covered >= 0.95 * len(seeds)

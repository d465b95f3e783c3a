"""What does a charger offer, and what does a sink take?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.electrics.offers import (
    Offer,
    cable_current_a,
    cable_limit,
    delivered_w,
    extended_rating_w,
    offer_taken,
    offers_by_rating,
)
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("rated_w", "levels"),
    [
        (0.5, [5]),
        (15, [5]),
        (15.1, [5, 9]),
        (27, [5, 9]),
        (27.1, [5, 9, 15]),
        (45, [5, 9, 15]),
        (45.1, [5, 9, 15, 20]),
        (100, [5, 9, 15, 20]),
    ],
)
def test_it_adds_a_level_just_above_its_watts(rated_w, levels) -> None:
    """Power rules, read on a maker's training page."""
    assert levels == [offer.voltage_v for offer in offers_by_rating(rated_w)]


@given(rated_w=st.floats(0.5, 100))
def test_it_never_offers_more_than_the_rating(rated_w) -> None:
    """And the highest level always reaches it."""
    powers = [o.voltage_v * o.current_a for o in offers_by_rating(rated_w)]

    assert max(powers) <= rated_w * (1 + 1e-12)
    assert pytest.approx(rated_w) == powers[-1]


@given(
    offers=st.lists(
        st.builds(Offer, st.sampled_from([5.0, 9.0, 15.0, 20.0]), st.floats(0.1, 5)),
        max_size=6,
    ),
    sink_v=st.sampled_from([4.0, 5.0, 12.0, 20.0]),
    sink_a=st.floats(0.1, 5),
)
def test_it_takes_what_trying_all_offers_finds(offers, sink_v, sink_a) -> None:
    """No offer within the volts gives more power, nor as much at a higher voltage."""
    choice = offer_taken(tuple(offers), sink_v, sink_a)
    tried = sorted(
        (o.voltage_v * min(o.current_a, sink_a), o.voltage_v)
        for o in offers
        if o.voltage_v <= sink_v
    )

    assert (choice.power_w, choice.voltage_v) == (tried[-1] if tried else (0, 0))
    assert bool(tried) is (choice.position > 0)


def test_it_says_why_it_takes_an_offer() -> None:
    """No offer, one that leads, and a tie each have their words."""
    five, fifteen, twenty = Offer(5, 3), Offer(15, 3), Offer(20, 2.25)

    assert "no offer at 4 V or less" == offer_taken((five,), 4, 3).why
    assert "most power" == offer_taken((five, fifteen), 20, 3).why
    assert offer_taken((fifteen, twenty), 20, 3).why.endswith("higher voltage")


def test_it_stops_at_the_weaker_of_charger_and_cable() -> None:
    """A plain cable carries 3 A, a marked one 5 A."""
    plain_a, marked_a = (cable_current_a(is_marked_5a=m) for m in (False, True))

    assert 60 == delivered_w(20, 5, plain_a)
    assert 100 == delivered_w(20, 5, marked_a)
    assert 45 == delivered_w(20, 2.25, marked_a)


def test_it_splits_the_cable_limit_over_both_conductors() -> None:
    """At 5 A: 100 and 50 milliohm; an article that reproduces the rule."""
    limit = cable_limit(5)

    assert pytest.approx((0.100, 0.050, 0.150)) == (
        limit.vbus_ohm, limit.ground_ohm, limit.loop_ohm
    )  # fmt: skip


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: Offer(0, 3), "voltage_v: found 0"),
        (lambda: Offer(5, -1), "current_a: found -1"),
        (lambda: offers_by_rating(0), "rated_w: found 0"),
        (lambda: offers_by_rating(100.1), "rated_w: found 100.1"),
        (lambda: extended_rating_w(20), "voltage_v: found 20, wanted 28, 36 or 48 V"),
        (lambda: delivered_w(0, 1, 1), "voltage_v: found 0"),
        (lambda: delivered_w(5, -1, 1), "source_a: found -1"),
        (lambda: delivered_w(5, 1, -1), "cable_a: found -1"),
        (lambda: offer_taken((), 0, 3), "sink_max_v: found 0"),
        (lambda: offer_taken((), 20, -3), "sink_max_a: found -3"),
        (lambda: cable_limit(0), "current_a: found 0"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """Each message names its argument."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()

"""Is one shelf given once, and are packs and price breaks shared by all batches?"""

import random
from collections import Counter
from dataclasses import replace
from datetime import date, timedelta

import pytest

from turnscrew.core.model.spare_part import PriceBreak, SparePart
from turnscrew.core.stock.lead import lead_of
from turnscrew.core.stock.order import cheapest
from turnscrew.core.stock.together import SHELF, Want, bought_together, shares
from turnscrew.errors import BadArgumentError

TODAY = date(2027, 2, 1)


def part(**facts) -> SparePart:
    usual = {"part": "P", "description": "thing", "model": "M", "cost_minor": 100}
    return SparePart(**(usual | facts))


def wants(batch: str, n: int, *, waits: bool = False, latest: int = 5) -> list[Want]:
    day = TODAY + timedelta(days=latest)
    return [Want(batch, "P", at, day, waits_for_yes=waits) for at in range(1, n + 1)]


def bought(rows, one: SparePart, coming: int = 0, keep: int = 0):
    made = bought_together(rows, {"P": one}, {"P": coming}, {"P": keep}, TODAY)
    return made[0] if made else None


def test_two_batches_share_a_pack() -> None:
    # By hand: 3 and 4 of packs of 10 are one pack, not two.
    made = bought(wants("a", 3) + wants("b", 4), part(pack=10))

    assert (7, 10, 1000, 2000) == (
        made.n_needed, made.n_bought, made.cost_minor, made.alone_minor,
    )  # fmt: skip
    assert (("a", 3), ("b", 4)) == made.by_batch


def test_two_batches_reach_a_price_break_together() -> None:
    one = part(breaks=(PriceBreak(10, 60),))
    made = bought(wants("a", 5) + wants("b", 5), one)

    assert (600, 1000) == (made.cost_minor, made.alone_minor)


def test_one_shelf_is_given_once_and_to_the_earliest_day() -> None:
    made = bought(
        wants("late", 3, latest=9) + wants("soon", 2, latest=2), part(stock=2), coming=1
    )

    assert (2, 1, 2) == (made.n_shelf, made.n_coming, made.n_needed)
    assert (("late", 2),) == made.by_batch
    assert TODAY + timedelta(days=9) == made.latest_day


def test_what_waits_for_a_yes_is_not_bought_today() -> None:
    made = bought(wants("a", 1) + wants("b", 2, waits=True), part())

    assert (1, 2) == (made.n_needed, made.n_later)


def test_it_says_that_the_latest_day_is_over() -> None:
    assert bought(wants("a", 1, latest=-1), part()).is_late
    assert not bought(wants("a", 1, latest=0), part()).is_late


def test_the_shelf_is_filled_above_the_point_at_which_it_is_bought_again() -> None:
    assert bought([], part(stock=4), keep=3) is None
    assert (("", 1),) == bought([], part(stock=3), keep=3).by_batch
    made = bought(wants("a", 2), part(stock=3), keep=3)
    assert (3, (("", 3),)) == (made.n_needed, made.by_batch)


def test_nothing_is_bought_twice_or_too_little() -> None:
    chance = random.Random(35)
    for _ in range(2000):
        one = part(
            stock=chance.randint(0, 4), pack=chance.choice([1, 3, 10]),
            breaks=(PriceBreak(8, 70),),
        )  # fmt: skip
        counts = {name: chance.randint(0, 5) for name in "abc"}
        rows = [w for name, n in counts.items() for w in wants(name, n)]
        coming = chance.randint(0, 3)
        made = bought(rows, one, coming)
        n = max(0, sum(counts.values()) - one.stock - coming)
        if n == 0:
            assert made is None
            continue
        assert (n, *cheapest(one, n)) == (
            made.n_needed, made.n_bought, made.cost_minor,
        )  # fmt: skip
        assert made.cost_minor <= made.alone_minor
        shared = shares(made)
        assert made.n_bought == sum(n for _, n, _ in shared)
        assert made.cost_minor == sum(minor for _, _, minor in shared)
        assert Counter(dict(made.by_batch)) <= Counter(counts) + Counter({SHELF: 0})


def test_an_unknown_lead_is_the_longest_seen_of_its_supplier() -> None:
    near = part(part="A", lead_days=4, supplier="near")
    far = part(part="B", lead_days=9, supplier="far")
    unknown = part(part="C", supplier="near")

    def told(one: SparePart, seen: dict[str, int]) -> tuple[int, str]:
        lead = lead_of(one, [near, far, unknown], seen)
        return (lead.days, lead.known_by)

    assert (4, "longest of its supplier") == told(unknown, {})
    # A parcel that took longer than what is said of any part counts too.
    assert (7, "longest of its supplier") == told(unknown, {"near": 7})
    assert (9, "longest of all") == told(part(part="D"), {"near": 7})
    assert (4, "its own") == told(near, {"near": 7})
    assert (0, "not known") == (
        lead_of(unknown, [], {}).days,
        lead_of(unknown, [], {}).known_by,
    )


def test_a_part_that_nobody_knows_is_refused_and_not_left_out() -> None:
    with pytest.raises(BadArgumentError, match="part zz, wanted one of the parts list"):
        bought([*wants("A", 1), replace(wants("A", 1)[0], part="zz")], part())


def test_what_is_not_bought_is_shared_by_nobody() -> None:
    one = bought(wants("A", 1), part())

    assert () == shares(replace(one, n_bought=0))

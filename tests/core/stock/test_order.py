"""Is the order the cheapest that serves, and placed in time?"""

import itertools
import math
import random

import pytest

from turnscrew.core.model.spare_part import PriceBreak, SparePart
from turnscrew.core.stock.allot import allotted
from turnscrew.core.stock.demand import FAR_DAY, Demand, Offer, Use, in_order
from turnscrew.core.stock.lead import lead_of
from turnscrew.core.stock.order import cheapest, ordered
from turnscrew.errors import BadArgumentError


def part(**facts) -> SparePart:
    usual = {"part": "P", "description": "thing", "model": "M", "cost_minor": 100}
    return SparePart(**(usual | facts))


def brute_cheapest(one: SparePart, n_needed: int) -> tuple[int, int]:
    """Try every number of packs up to far beyond the need."""
    best = None
    for packs in range(400):
        n = packs * one.pack
        if n < n_needed:
            continue
        each = one.cost_minor
        for step in one.breaks:
            if n >= step.n:
                each = step.cost_minor
        if best is None or n * each < best[1]:
            best = (n, n * each)
    assert best is not None
    return best


def test_it_agrees_with_trying_every_number_of_packs() -> None:
    chance = random.Random(7)
    for _ in range(3000):
        steps = sorted(chance.sample(range(2, 60), chance.randint(0, 3)))
        costs = sorted((chance.randint(10, 99) for _ in steps), reverse=True)
        breaks = tuple(PriceBreak(n, c) for n, c in zip(steps, costs, strict=True))
        one = part(pack=chance.choice([1, 1, 4, 10]), breaks=breaks)
        n = chance.randint(1, 40)

        assert brute_cheapest(one, n) == cheapest(one, n)


def test_it_buys_more_where_that_costs_less() -> None:
    one = part(breaks=(PriceBreak(10, 60),))

    assert (8, 800) != cheapest(one, 8)
    assert (10, 600) == cheapest(one, 8)


def test_it_serves_the_shelf_then_donors_then_the_supplier() -> None:
    parts = {"P": part(stock=1, lead_days=4)}
    demands = [
        Demand(1, "P", due_day=7, minutes=50),
        Demand(2, "P", due_day=4, minutes=40),
        Demand(3, "P", due_day=7, minutes=60),
    ]
    uses = allotted(demands, parts, [Offer(9, "P")], 2, {})

    assert [(2, "stock"), (3, "donor"), (1, "order")] == [
        (use.demand.device, use.source) for use in uses
    ]
    assert [1, 2, 5] == [use.ready_day for use in uses]
    (line,) = ordered(uses, parts)
    assert (3, (1,), 5) == (line.latest_day, line.devices, line.arrives_day)


def test_it_keeps_every_demand_and_never_gives_a_piece_twice() -> None:
    chance = random.Random(3)
    for _ in range(500):
        parts = {
            name: part(part=name, stock=chance.randint(0, 3), lead_days=2)
            for name in "PQ"
        }
        demands = [
            Demand(n, chance.choice("PQ"), chance.randint(1, 9), chance.randint(1, 90))
            for n in range(chance.randint(0, 12))
        ]
        offers = [Offer(n, chance.choice("PQ")) for n in range(chance.randint(0, 5))]
        uses = allotted(demands, parts, offers, 2, {})

        assert sorted(map(repr, demands)) == sorted(repr(u.demand) for u in uses)
        given = [(u.donor, u.demand.part) for u in uses if u.source == "donor"]
        assert len(given) == len(set(given))
        assert all(Offer(*one) in offers for one in given)
        for name, one in parts.items():
            from_shelf = sum(
                u.source == "stock" and u.demand.part == name for u in uses
            )
            assert from_shelf <= one.stock


def test_an_order_made_later_or_a_late_parcel_arrives_later() -> None:
    parts = {"P": part(lead_days=3)}
    demand = Demand(1, "P", 7, 50, order_day=2)

    assert 5 == allotted([demand], parts, (), 2, {})[0].ready_day
    assert 7 == allotted([demand], parts, (), 2, {"P": 2})[0].ready_day


@pytest.mark.parametrize(("supplier", "lead"), [("near", 4), ("", 9), ("elsewhere", 9)])
def test_an_unknown_lead_is_taken_as_the_longest_known(supplier, lead) -> None:
    parts = {
        "A": part(part="A", lead_days=4, supplier="near"),
        "B": part(part="B", lead_days=9, supplier="far"),
        "C": part(part="C", lead_days=None, supplier=supplier),
    }

    assert lead == lead_of(parts["C"], parts.values(), {}).days


def test_a_donor_serves_no_device_that_an_order_serves_sooner() -> None:
    parts = {"P": part(lead_days=0)}
    early, late = Demand(1, "P", 1, 60), Demand(2, "P", 5, 60)
    uses = allotted([early, late], parts, [Offer(9, "P")], 2, {})

    assert [("order", 1), ("donor", 2)] == [(one.source, one.ready_day) for one in uses]
    slow = {"P": part(lead_days=4)}
    (use,) = allotted([early], slow, [Offer(9, "P")], 2, {})
    assert ("donor", 2) == (use.source, use.ready_day)


def test_a_part_on_no_list_is_refused_by_its_number() -> None:
    with pytest.raises(BadArgumentError, match="part Q, wanted one of the parts list"):
        allotted([Demand(1, "Q", 4, 60)], {"P": part()}, (), 2, {})


def latest(*demands: Demand) -> int | None:
    """Give the latest day to order for devices, with a lead of three days."""
    parts = {"P": part(lead_days=3)}
    (line,) = ordered(allotted(demands, parts, (), 2, {}), parts)
    return line.latest_day


def test_a_part_is_there_a_day_sooner_for_what_is_on_charge_over_night() -> None:
    assert 3 == latest(Demand(1, "P", due_day=6, minutes=50))
    assert 2 == latest(Demand(1, "P", due_day=6, minutes=50, charge_days=1))


def test_no_day_agreed_is_no_latest_day() -> None:
    far = Demand(1, "P", due_day=FAR_DAY, minutes=50)

    assert latest(far) is None
    assert 3 == latest(far, Demand(2, "P", due_day=6, minutes=50))


def plainly(demands, parts, offers) -> list[Use]:
    """Give every piece in order of due day alone, as by hand."""
    free = {name: one.stock for name, one in parts.items()}
    given = {name: [o.donor for o in offers if o.part == name] for name in parts}
    uses = []
    for demand in in_order(demands):
        name = demand.part
        day = demand.order_day + (parts[name].lead_days or 0)
        if free[name]:
            free[name] -= 1
            uses.append(Use(demand, "stock", 1))
        elif given[name] and max(demand.due_day, day) >= 2:
            uses.append(Use(demand, "donor", 2, given[name].pop(0)))
        else:
            uses.append(Use(demand, "order", day))
    return uses


def ready(uses, parts) -> dict[int, float]:
    """Give the day on which all is there, by device; never where something is gone."""
    days: dict[int, float] = {}
    for use in uses:
        is_gone = use.source == "order" and parts[use.demand.part].is_sold_no_more
        day = math.inf if is_gone else use.ready_day
        days[use.demand.device] = max(days.get(use.demand.device, 0), day)
    return days


def test_no_piece_of_the_shelf_makes_a_device_late_by_lying_in_wait() -> None:
    chance = random.Random(11)
    n_sooner = 0
    for _ in range(3000):
        parts = {
            name: part(
                part=name,
                stock=chance.randint(0, 2),
                lead_days=chance.randint(0, 9),
                is_sold_no_more=chance.random() < 0.1,
            )  # fmt: skip
            for name in "PQR"
        }
        demands = [
            Demand(device, name, due, 30, first)
            for device in range(1, chance.randint(3, 6))
            for due, first in [(chance.randint(1, 9), chance.choice([1, 1, 3]))]
            for name in chance.sample("PQR", chance.randint(1, 3))
        ]
        offers = [Offer(9, name) for name in "PQR" if chance.random() < 0.3]
        due = {demand.device: demand.due_day for demand in demands}
        plain = plainly(demands, parts, offers)
        uses = allotted(demands, parts, offers, 2, {})
        before, after = ready(plain, parts), ready(uses, parts)

        assert all(after[name] <= before[name] for name in before)
        n_sooner += after != before
        assert sorted((u.demand.part, u.source) for u in plain) == sorted(
            (u.demand.part, u.source) for u in uses
        )
        assert [use.demand for use in plain] == [use.demand for use in uses]
        # No exchange is left that makes a late device sooner and none later.
        for taker, giver in itertools.permutations(range(len(uses)), 2):
            one, other = uses[taker], uses[giver]
            if (one.source, other.source) != ("order", "stock"):
                continue
            if one.demand.part != other.demand.part:
                continue
            day = other.demand.order_day + (parts[other.demand.part].lead_days or 0)
            changed = list(uses)
            changed[taker] = Use(one.demand, "stock", 1)
            changed[giver] = Use(other.demand, "order", day)
            then = ready(changed, parts)
            late = one.demand.device
            is_better = due[late] < after[late] and then[late] < after[late]
            assert not (is_better and all(then[name] <= after[name] for name in then))
    assert n_sooner > 50

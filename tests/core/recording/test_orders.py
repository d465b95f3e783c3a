"""Rules learned from recorded orders forbid too much at first, and never too little."""

import random
from itertools import combinations

import pytest

from random_openings import (
    Hidden,
    drawn_opening,
    drawn_openings,
    hidden_device,
    is_legal,
    legal_orders,
    problem_of,
)
from turnscrew.core.recording.orders import (
    Opened,
    Rules,
    Unmet,
    reduced,
    rules_from,
    seen_before,
    seen_both_ways,
    unmet_in,
    unproven_in,
)
from turnscrew.core.recording.share import drawn_order
from turnscrew.flows.opening import solved


def never() -> bool:
    return False


def learned(seed: int, n_openings: int, most: int) -> tuple[Hidden, list[Opened]]:
    rng = random.Random(seed)
    hidden = hidden_device(rng, most_alternatives=most)
    return hidden, list(drawn_openings(rng, hidden, n_openings))


def forbidden_among(hidden: Hidden, rules: Rules, seed: int, n: int = 12) -> int:
    rng = random.Random(seed)
    orders = [drawn_order(rules, rng.randrange).order for _ in range(n)]
    return sum(not is_legal(hidden.needs, order) for order in orders)


@pytest.mark.parametrize("most", [1, 2, 3])
def test_it_never_allows_a_forbidden_order_if_the_rules_have_room(most: int) -> None:
    for seed in range(150):
        hidden, openings = learned(seed, 1 + seed % 9, most)

        assert 0 == forbidden_among(hidden, rules_from(openings, most), seed), seed


def test_it_would_see_a_forbidden_order_if_the_rules_had_no_room() -> None:
    found = [learned(seed, 9, 2) for seed in range(60)]

    assert 0 < sum(
        forbidden_among(hidden, rules_from(openings, 1), 1)
        for hidden, openings in found
    )


def test_it_allows_no_order_at_all_that_a_small_device_forbids() -> None:
    for seed in range(120):
        rng = random.Random(seed)
        hidden = hidden_device(rng, n_things=(3, 5))
        rules = rules_from(drawn_openings(rng, hidden, rng.randint(1, 5)))

        assert all(is_legal(hidden.needs, order) for order in legal_orders(rules))


def test_it_allows_every_order_it_has_seen() -> None:
    for seed in range(150):
        _, openings = learned(seed, 6, 3)
        rules = rules_from(openings)

        assert [] == [told for told in openings if unmet_in(rules, told)]
        assert [] == [told for told in openings if unproven_in(told, openings)]


def test_it_only_loosens_as_openings_are_added() -> None:
    for seed in range(120):
        rng = random.Random(seed)
        hidden = hidden_device(rng)
        openings = [drawn_opening(rng, hidden)]
        rules = rules_from(openings)
        for _ in range(6):
            openings.append(drawn_opening(rng, hidden))
            later = rules_from(openings)
            for thing, clauses in rules.items():
                for clause in later[thing]:
                    assert any(set(old) <= set(clause) for old in clauses)
            rules = later


def test_it_ends_at_the_true_rules_once_all_orders_were_seen() -> None:
    for seed in range(60):
        hidden = hidden_device(random.Random(seed), n_things=(3, 5))
        true = set(legal_orders(hidden.needs))
        openings = [Opened(order) for order in true]

        assert true == set(legal_orders(rules_from(openings)))


def test_it_finds_all_smallest_hitting_sets() -> None:
    for seed in range(60):
        hidden, openings = learned(seed, 4, 3)
        rules = rules_from(openings, 3)
        for thing, sets in seen_before(openings).items():
            hitting = [
                frozenset(group)
                for size in range(4)
                for group in combinations(hidden.things, size)
                if all(seen.intersection(group) for seen in sets)
            ]
            smallest = {h for h in hitting if not any(o < h for o in hitting)}

            assert smallest == {frozenset(clause) for clause in rules[thing]}


def test_it_allows_exactly_the_same_orders_when_reduced() -> None:
    n_left_out = 0
    for seed in range(80):
        rng = random.Random(seed)
        hidden = hidden_device(rng, n_things=(4, 6))
        rules = rules_from(drawn_openings(rng, hidden, rng.randint(1, 4)))
        short = reduced(rules)
        n_left_out += count(rules) - count(short)

        assert set(legal_orders(rules)) == set(legal_orders(short))
    assert n_left_out > 0


def test_it_leaves_nothing_to_leave_out() -> None:
    for seed in range(40):
        rng = random.Random(seed)
        hidden = hidden_device(rng, n_things=(4, 5))
        short = reduced(rules_from(drawn_openings(rng, hidden, 3)))
        allowed = set(legal_orders(short))
        for thing, clauses in short.items():
            for clause in clauses:
                less = {**short, thing: tuple(c for c in clauses if c != clause)}

                assert allowed != set(legal_orders(less))


def test_it_leaves_out_what_is_given_anyhow() -> None:
    for seed in range(60):
        rng = random.Random(seed)
        hidden = hidden_device(rng, n_things=(4, 5))
        rules = rules_from(drawn_openings(rng, hidden, 2))
        given = {
            thing: tuple(clause for clause in clauses if rng.random() < 0.5)
            for thing, clauses in rules.items()
        }
        short = reduced(rules, given)
        both = {thing: (*short[thing], *given[thing]) for thing in rules}

        assert set(legal_orders(rules)) == set(legal_orders(both))


def test_it_tells_a_chain_by_its_links() -> None:
    rules = rules_from([Opened(("screws", "cover", "plug", "fan"))])

    assert (("screws",), ("cover",), ("plug",)) == rules["fan"]
    assert {
        "screws": (), "cover": (("screws",),), "plug": (("cover",),),
        "fan": (("plug",),),
    } == reduced(rules)  # fmt: skip


def test_it_frees_what_was_left_on() -> None:
    openings = [Opened(("label", "screws", "cover")), Opened(("screws", "cover"))]

    assert (("screws",),) == rules_from(openings)["cover"]


def test_it_learns_nothing_of_what_an_abandoned_opening_never_reached() -> None:
    openings = [Opened(("screws", "cover")), Opened(("plug",))]

    assert (("screws",),) == rules_from(openings)["cover"]


def test_it_keeps_two_alternatives_but_not_three() -> None:
    two = [Opened(("card", "cover")), Opened(("pick", "cover"))]
    three = [*two, Opened(("strap", "cover"))]

    assert (("card", "pick"),) == rules_from(two)["cover"]
    assert () == rules_from(three)["cover"]
    assert (("card", "pick", "strap"),) == rules_from(three, 3)["cover"]


def test_it_does_not_take_a_missing_joint_for_a_needless_one() -> None:
    openings = [
        Opened(("screws", "cover")), Opened(("cover",), gone=frozenset({"screws"}))
    ]  # fmt: skip

    assert (("screws",),) == rules_from(openings)["cover"]
    assert () == rules_from(openings)["screws"]
    assert () == rules_from(openings[1:])["cover"]


def test_it_says_where_an_order_breaks_a_rule() -> None:
    rules = rules_from([Opened(("screws", "cover"))])

    assert (Unmet("cover", ("screws",)),) == unmet_in(rules, Opened(("cover",)))
    assert (Unmet("fan", ()),) == unmet_in(rules, Opened(("fan",)))
    assert ("cover",) == unproven_in(Opened(("cover", "screws")), [
        Opened(("screws", "cover"))
    ])  # fmt: skip


def test_it_names_pairs_seen_both_ways() -> None:
    openings = [Opened(("plug", "strap", "fan")), Opened(("strap", "plug"))]

    assert (("plug", "strap"),) == seen_both_ways(openings)


def test_it_never_promises_less_than_the_true_cost_and_comes_nearer() -> None:
    gaps = {1: 0.0, 3: 0.0, 9: 0.0}
    for seed in range(50):
        hidden, openings = learned(seed, 9, 2)
        target = openings[0].order[-1]
        best = cost(hidden, hidden.needs, target)
        before = float("inf")
        for n_openings in gaps:
            found = cost(hidden, rules_from(openings[:n_openings]), target)

            assert best <= found <= before
            gaps[n_openings] += found / best - 1
            before = found
    assert gaps[1] > gaps[3] > gaps[9] > 0


def count(rules: Rules) -> int:
    return sum(len(clauses) for clauses in rules.values())


def cost(hidden: Hidden, needs: Rules, target: str) -> int:
    answer = solved(problem_of(hidden, needs, target), never)
    assert "optimal" == answer.status
    assert answer.cost is not None
    return answer.cost

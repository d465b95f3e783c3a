"""Are the donors chosen the best there are?"""

import random
from math import comb

import pytest

from oracles.donors_brute import best_figures
from turnscrew.core.stock.demand import Offer
from turnscrew.core.stock.donors import (
    DonorProblem,
    Wait,
    donors_chosen,
    p_enough,
    valued,
)

PARTS = ("P", "Q", "R")


def random_problem(seed: int) -> DonorProblem:
    chance = random.Random(seed)
    donors = range(1, chance.randint(1, 6))
    offers = tuple(
        Offer(donor, part)
        for donor in donors
        for part in PARTS
        if chance.random() < 0.6
    )
    waits = {
        part: tuple(
            Wait(
                chance.choice([0, 0, 1, 2, 5]),
                chance.choice([0, 0, 0, 1]),
                chance.choice([100, 250, 990]),
            )
            for _ in range(chance.randint(0, 3))
        )
        for part in PARTS
    }
    # Within one part all pieces cost the same, as they do in a parts list.
    waits = {
        part: tuple(
            Wait(max(w.late_by_order, w.late_by_donor), w.late_by_donor, 100 + i * 77)
            for w in rows
        )
        for i, (part, rows) in enumerate(waits.items())
    }
    chances = {part: chance.choice([1.0, 0.8, 0.5]) for part in PARTS}
    minutes = {donor: chance.choice([18, 25, 25]) for donor in donors}
    return DonorProblem(offers, waits, minutes, chances)


@pytest.mark.parametrize("block", range(20))
def test_it_agrees_with_trying_everything(block) -> None:
    for seed in range(block * 60, block * 60 + 60):
        problem = random_problem(seed)
        choice = donors_chosen(problem)
        found = (
            choice.n_late,
            choice.late_days,
            choice.purchases_minor,
            choice.minutes,
        )

        assert best_figures(problem) == pytest.approx(found, abs=2e-5), seed


def test_it_never_strips_what_gives_nothing_wanted() -> None:
    problem = DonorProblem(
        (Offer(1, "P"), Offer(2, "Q")), {"P": (Wait(0, 0, 500),)}, {1: 25, 2: 25}, {}
    )

    assert (1,) == donors_chosen(problem).strips


def test_it_strips_a_second_donor_when_the_first_may_fail() -> None:
    waits = {"P": (Wait(0, 0, 500),)}
    offers = (Offer(1, "P"), Offer(2, "P"))
    sure = DonorProblem(offers, waits, {1: 25, 2: 25}, {"P": 1.0})
    unsure = DonorProblem(offers, waits, {1: 25, 2: 25}, {"P": 0.8})

    assert (1,) == donors_chosen(sure).strips
    assert (1, 2) == donors_chosen(unsure).strips


def test_it_answers_without_donors() -> None:
    problem = DonorProblem((), {"P": (Wait(2, 0, 500),)}, {}, {})
    choice = donors_chosen(problem)

    assert () == choice.strips
    assert (1, 2, 500) == (choice.n_late, choice.late_days, choice.purchases_minor)


@pytest.mark.parametrize(
    ("wanted", "there", "p"),
    # Binomial tail computed for this work: 3 of 4, 2 of 3, 2 of 4 at 0.8 each.
    [(3, 4, 0.8192), (2, 3, 0.896), (2, 4, 0.9728), (0, 0, 1.0), (1, 0, 0.0)],
)
def test_it_reckons_the_chance_that_enough_pass(wanted, there, p) -> None:
    assert p_enough(wanted, there, 0.8) == pytest.approx(p)


@pytest.mark.parametrize(
    ("wanted", "there", "q", "p"),
    [
        # Next to surely, and surely not: 824 are expected, give or take 13.
        (3, 1030, 0.8, 1.0),
        (1000, 1030, 0.8, 0.0),
        # By symmetry: more than half of an odd number pass as often as not.
        (501, 1001, 0.5, 0.5),
        (3, 100_000, 1.0, 1.0),
        (3, 100_000, 0.0, 0.0),
    ],
)
def test_it_reckons_the_chance_among_very_many_pieces(wanted, there, q, p) -> None:
    assert p_enough(wanted, there, q) == pytest.approx(p, abs=1e-12)


def test_the_chance_is_the_sum_of_every_number_that_may_pass() -> None:
    for there in range(40):
        for wanted in range(there + 2):
            for q in (0.0, 0.1, 0.5, 0.8, 1.0):
                each = (
                    comb(there, k) * q**k * (1 - q) ** (there - k)
                    for k in range(wanted, there + 1)
                )
                assert p_enough(wanted, there, q) == pytest.approx(sum(each))


def test_more_donors_never_cost_more() -> None:
    for seed in range(200):
        problem = random_problem(seed)
        all_of_them = tuple(sorted({offer.donor for offer in problem.offers}))
        best, everything = donors_chosen(problem), valued(problem, all_of_them)

        assert (best.n_late, best.late_days) <= (
            everything.n_late + 1e-6,
            everything.late_days + 1e-6,
        )

"""Does a repair pay where it should, and is it said where nobody can tell?"""

import pytest

from turnscrew.core.price.replace import (
    Expected,
    Replacement,
    repair_or_replace,
    replacements_from_texts,
)
from turnscrew.errors import BadArgumentError

NEW = Replacement(40_000, 5)
YOUNG = Expected(1_000, 500, 1_500)


def told(repair_minor: int, old: Expected, years_left: float = 1.0):
    return repair_or_replace(
        repair_minor=repair_minor, years_left=years_left, needs_old=old,
        needs_new=YOUNG, replacement=NEW,
    )  # fmt: skip


def test_it_compares_both_ways_over_the_same_years() -> None:
    # By hand: a fifth of 400.00 is 80.00; the new one needs 10.00, the old one 30.00:
    # a repair pays up to 80 + 10 - 30 = 60.00.
    answer = told(2_500, Expected(3_000, 2_000, 4_000))

    assert (5_500, 9_000) == (answer.keep_minor, answer.renew_minor)
    assert (8_000 + 500 - 4_000, 6_000, 8_000 + 1_500 - 2_000) == answer.most
    assert "repair" == answer.choice


@pytest.mark.parametrize(
    ("repair_minor", "choice"),
    [
        (4_500, "repair"),
        (4_501, "too close to call"),
        (7_500, "too close to call"),
        (7_501, "replace"),
    ],
)
def test_it_decides_only_beyond_the_limits(repair_minor: int, choice: str) -> None:
    assert choice == told(repair_minor, Expected(3_000, 2_000, 4_000)).choice


def test_an_old_device_that_eats_money_does_not_pay_even_for_nothing() -> None:
    answer = told(0, Expected(20_000, 15_000, 25_000))

    assert answer.most[1] < 0
    assert "replace" == answer.choice


def test_it_refuses_what_cannot_be() -> None:
    for made in (
        lambda: Expected(1, 2, 3),
        lambda: Replacement(-1, 5),
        lambda: Replacement(1, 0),
        lambda: Replacement(1, 0.99),
        lambda: replacements_from_texts(["V80=1.00/1", "V80=2.00/1"]),
        lambda: told(0, YOUNG, years_left=6),
    ):
        with pytest.raises(BadArgumentError):
            made()

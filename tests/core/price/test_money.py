"""Does money add up to the last unit?"""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.model.terms import Tax
from turnscrew.core.price.money import (
    half_up,
    labour_minor,
    part_price_minor,
    taxed,
)

MINOR = st.integers(0, 10_000_000)
PERCENT = st.decimals(0, 40, places=2)


@given(st.integers(-(10**9), 10**9), st.integers(1, 1000))
def test_a_half_is_rounded_up_as_the_decimal_library_does(top, bottom) -> None:
    exact = Fraction(top, bottom)
    quotient = Decimal(top) / Decimal(bottom)
    # The library's quotient has 28 digits, enough to tell a half for these sizes.
    assert int(quotient.to_integral_value(ROUND_HALF_UP)) == half_up(exact)


@pytest.mark.parametrize(
    ("cost", "markup", "price"),
    [(505, "1.30", 657), (335, "1.10", 369), (1, "0.50", 1), (0, "1.30", 0)],
)
def test_a_part_is_rounded_by_itself(cost, markup, price) -> None:
    assert price == part_price_minor(cost, Decimal(markup))


def test_labour_is_rounded_once() -> None:
    assert 5120 == labour_minor(64, 4800)
    assert 83 == labour_minor(1, 5000)


@given(MINOR, st.lists(PERCENT, max_size=3))
def test_tax_on_top_leaves_the_net_amount(amount, percents) -> None:
    taxes = [Tax(str(n), percent) for n, percent in enumerate(percents)]
    apart = taxed(amount, taxes, is_included=False)

    assert amount == apart.net_minor
    exact = sum(amount * Fraction(percent) / 100 for percent in percents)
    assert abs(apart.tax_minor - exact) <= Fraction(len(percents), 2)


@given(MINOR, st.lists(PERCENT, max_size=3))
def test_tax_inside_leaves_the_sum(amount, percents) -> None:
    taxes = [Tax(str(n), percent) for n, percent in enumerate(percents)]
    apart = taxed(amount, taxes, is_included=True)

    assert amount == apart.net_minor + apart.tax_minor
    assert 0 <= apart.tax_minor <= amount


def test_tax_of_one_rate_is_known() -> None:
    tax = [Tax("usual", Decimal(20))]

    assert (100_00, 20_00) == _pair(taxed(100_00, tax, is_included=False))
    assert (100_00, 20_00) == _pair(taxed(120_00, tax, is_included=True))


def _pair(apart) -> tuple[int, int]:
    return apart.net_minor, apart.tax_minor

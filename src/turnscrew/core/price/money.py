"""How is money multiplied, rounded and taxed without losing a unit?"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from turnscrew.core.model.terms import Tax


def half_up(amount: Decimal | Fraction) -> int:
    """
    Round an amount to whole minor units, a half away from zero.

    Parameters
    ----------
    amount
        The exact amount. [minor units]

    Returns
    -------
    int
        Whole minor units.
    """
    if isinstance(amount, Decimal):
        return int(amount.to_integral_value(ROUND_HALF_UP))
    doubled = abs(amount) * 2
    units = (doubled.numerator // doubled.denominator + 1) // 2
    return units if amount >= 0 else -units


def labour_minor(minutes: int, rate_minor: int) -> int:
    """
    Give the price of some minutes.

    Parameters
    ----------
    minutes
        Standard minutes. [min]
    rate_minor
        Price of an hour. [minor units]

    Returns
    -------
    int
        The price, a half rounded up. [minor units]
    """
    return half_up(Fraction(minutes * rate_minor, 60))


def part_price_minor(cost_minor: int, markup: Decimal) -> int:
    """
    Give the price of one part.

    Parameters
    ----------
    cost_minor
        What it cost. [minor units]
    markup
        Price to cost. [1]

    Returns
    -------
    int
        The price, a half rounded up. [minor units]
    """
    return half_up(cost_minor * markup)


@dataclass(frozen=True)
class Taxed:
    """
    An amount with its tax apart.

    Parameters
    ----------
    net_minor
        Before tax. [minor units]
    tax_minor
        Tax. [minor units]
    """

    net_minor: int
    tax_minor: int


def taxed(amount_minor: int, taxes: Sequence[Tax], *, is_included: bool) -> Taxed:
    """
    Part an amount from its tax, or put the tax on it.

    Each rate is reckoned on the same net amount and rounded by itself, line by line,
    so that bills may be split and merged without a difference.

    Parameters
    ----------
    amount_minor
        The amount. [minor units]
    taxes
        The rates that hold for it.
    is_included
        True if the amount holds the tax already.

    Returns
    -------
    Taxed
        Net and tax; included tax leaves the sum as it was.
    """
    percent = sum((Fraction(tax.percent) for tax in taxes), Fraction(0))
    if is_included:
        net = half_up(amount_minor / (1 + percent / 100))
        return Taxed(net, amount_minor - net)
    each = (half_up(amount_minor * Fraction(tax.percent) / 100) for tax in taxes)
    return Taxed(amount_minor, sum(each))

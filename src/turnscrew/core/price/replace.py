"""
Does a repair pay, or is the money better put to another device?

Both ways are reckoned over the same years of service: keeping costs the repair and what
the old device will still need; replacing costs its share of the price of a device that
lasts longer, and what such a one needs in its first years. Money is not discounted; the
years are few.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from turnscrew.core.model.quantities import minor_from_text
from turnscrew.core.model.wanted import refuse, unlike
from turnscrew.errors import BadArgumentError

Choice = Literal["repair", "replace", "too close to call"]


@dataclass(frozen=True)
class Expected:
    """
    An expected cost with its limits.

    Parameters
    ----------
    mean
        Mean. [minor units]
    low
        Lower limit. [minor units]
    high
        Upper limit. [minor units]
    """

    mean: float
    low: float
    high: float

    def __post_init__(self) -> None:
        """Refuse limits that do not hold the mean."""
        if not 0 <= self.low <= self.mean <= self.high:
            found = f"{self.low:g}, {self.mean:g}, {self.high:g}"
            refuse(f"limits: found {found}, wanted 0 or more and rising")


@dataclass(frozen=True)
class Replacement:
    """
    What another device would be.

    Parameters
    ----------
    price_minor
        Its price. [minor units]
    years
        Years it will serve, one or more. [years]
    """

    price_minor: int
    years: float

    def __post_init__(self) -> None:
        """Refuse a price below 0, or less than the year that is told of."""
        refuse(
            unlike("price_minor", self.price_minor, least=0, is_whole=True),
            unlike("years", self.years, least=1),
        )


def replacement_from_text(words: str) -> tuple[str, Replacement]:
    """
    Read what would take the place of a model.

    Parameters
    ----------
    words
        Model, price and years, such as ``V80=389.00/5``.

    Returns
    -------
    tuple
        The model and the other device.

    Raises
    ------
    BadArgumentError
        If the words are none of these.
    """
    model, _, rest = words.strip().partition("=")
    price, _, years = rest.partition("/")
    try:
        return model.strip(), Replacement(minor_from_text(price.strip()), float(years))
    except ValueError as error:
        raise BadArgumentError(
            f"replace: found {words}, wanted model=price/years such as V80=389.00/5, "
            "years 1 or more"
        ) from error


def replacements_from_texts(words: Iterable[str]) -> dict[str, Replacement]:
    """
    Read what would take the place of each of some models.

    Parameters
    ----------
    words
        Model, price and years of each.

    Returns
    -------
    dict
        The other devices, by model.

    Raises
    ------
    BadArgumentError
        If any cannot be read, or a model stands in two.
    """
    made: dict[str, Replacement] = {}
    for one in words:
        model, other = replacement_from_text(one)
        if model in made:
            raise BadArgumentError(f"replace: found {model} twice, wanted it once")
        made[model] = other
    return made


@dataclass(frozen=True)
class RepairOrReplace:
    """
    What pays.

    Parameters
    ----------
    choice
        What costs less, or that the limits overlap.
    keep_minor
        Expected cost of keeping. [minor units]
    renew_minor
        Expected cost of replacing. [minor units]
    most
        Most a repair may cost so that it pays; limits from those of the costs to come.
        Below 0: it does not pay even for nothing. [minor units]
    """

    choice: Choice
    keep_minor: float
    renew_minor: float
    most: tuple[float, float, float]


def repair_or_replace(
    *,
    repair_minor: int,
    years_left: float,
    needs_old: Expected,
    needs_new: Expected,
    replacement: Replacement,
) -> RepairOrReplace:
    """
    Say whether a repair pays over the years the device is still wanted.

    Parameters
    ----------
    repair_minor
        What the repair costs. [minor units]
    years_left
        Years for which the device is still wanted. [years]
    needs_old
        What it will need in them after the repair.
    needs_new
        What another device will need in its first years of the same number.
    replacement
        The other device.

    Returns
    -------
    RepairOrReplace
        What pays, and up to which price of the repair.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range, or the other device would not last as long.
    """
    refuse(
        unlike("repair_minor", repair_minor, least=0, is_whole=True),
        unlike("years_left", years_left, above=0, most=replacement.years),
    )
    share = replacement.price_minor * years_left / replacement.years
    keep = repair_minor + needs_old.mean
    renew = share + needs_new.mean
    most = renew - needs_old.mean
    # Wide on purpose: both limits at their worst, and at their best.
    low = share + needs_new.low - needs_old.high
    high = share + needs_new.high - needs_old.low
    choice: Choice = "too close to call"
    if repair_minor <= low:
        choice = "repair"
    elif repair_minor > high:
        choice = "replace"
    return RepairOrReplace(choice, keep, renew, (low, most, high))

"""
How much money is to be set aside for comebacks that are still expected?

Expected comebacks times what one costs on average. The limits are those of the number
of comebacks: that one comeback costs more than another is not in them.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from turnscrew.core.model.wanted import refuse, unlike


@dataclass(frozen=True)
class Provision:
    """
    Money to be set aside.

    Parameters
    ----------
    mean_cost_minor
        Mean cost of a comeback, a float. [minor units]
    n_costs
        Costs the mean is taken of. [1]
    expected_minor
        Expected cost of those to come, a float. [minor units]
    low_minor
        Lower limit. [minor units]
    high_minor
        Upper limit. [minor units]
    """

    mean_cost_minor: float
    n_costs: int
    expected_minor: float
    low_minor: float
    high_minor: float


def provision_for(
    expected: float, limits: tuple[int, int], costs_minor: Sequence[int]
) -> Provision | None:
    """
    Give what is to be set aside.

    Parameters
    ----------
    expected
        Comebacks expected. [1]
    limits
        Lower and upper limit of their number. [1]
    costs_minor
        What single comebacks cost. [minor units]

    Returns
    -------
    Provision or None
        The money; ``None`` if it is not known what a comeback costs.

    Raises
    ------
    BadArgumentError
        If a figure is below 0, or the limits are not whole or do not rise.
    """
    low, high = limits
    refuse(
        unlike("expected", expected, least=0),
        unlike("limits, lower", low, least=0, is_whole=True),
        unlike("limits, upper", high, least=low, is_whole=True),
        *(
            unlike(f"costs_minor, row {row}", cost, least=0, is_whole=True)
            for row, cost in enumerate(costs_minor, 1)
        ),
    )
    if not costs_minor:
        return None
    mean = sum(costs_minor) / len(costs_minor)
    return Provision(
        mean_cost_minor=mean,
        n_costs=len(costs_minor),
        expected_minor=expected * mean,
        low_minor=low * mean,
        high_minor=high * mean,
    )

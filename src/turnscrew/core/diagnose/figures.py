"""
What does a strategy cost, with its spread, and how does it end?

Method: one walk over the tree; every path to an end has a probability and a cost.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import sqrt

from turnscrew.core.diagnose.answer import Leaf, Policy


@dataclass(frozen=True)
class Path:
    """
    One way through a strategy.

    Parameters
    ----------
    p
        Probability of going this way. [1]
    cost
        What it costs. [cost]
    money
        What of it is money. [minor units]
    opens
        True if anything is opened on the way.
    works
        True if the device works at the end.
    actions
        Actions on the way, by name.
    """

    p: float
    cost: float
    money: float
    opens: bool
    works: bool
    actions: tuple[str, ...]


@dataclass(frozen=True)
class Figures:
    """
    What a strategy leads to.

    Parameters
    ----------
    cost
        Expected cost. [cost]
    spread
        Standard deviation of the cost. [cost]
    low, high
        A tenth of the jobs cost less than the one, a tenth more than the other. [cost]
    money
        Expected money of it. [minor units]
    p_unopened
        Chance of ending with a device that works and was never opened. [1]
    p_works
        Chance that it works at the end. [1]
    """

    cost: float
    spread: float
    low: float
    high: float
    money: float
    p_unopened: float
    p_works: float


def figures_of(
    policy: Policy, money: Mapping[str, float], given_up: float
) -> Figures:
    """
    Reckon what a strategy leads to.

    Parameters
    ----------
    policy
        The strategy.
    money
        What each action costs in money. [minor units]
    given_up
        Money lost by giving up. [minor units]

    Returns
    -------
    Figures
        Its cost, spread and ends.
    """
    paths = list(paths_of(policy, money, given_up))
    cost = sum(path.p * path.cost for path in paths)
    variance = sum(path.p * (path.cost - cost) ** 2 for path in paths)
    return Figures(
        cost=cost,
        spread=sqrt(variance),
        low=_quantile(paths, 0.1),
        high=_quantile(paths, 0.9),
        money=sum(path.p * path.money for path in paths),
        p_unopened=sum(path.p for path in paths if path.works and not path.opens),
        p_works=sum(path.p for path in paths if path.works),
    )


def paths_of(
    policy: Policy, money: Mapping[str, float], given_up: float
) -> Iterator[Path]:
    """
    Give every way through a strategy.

    Parameters
    ----------
    policy
        The strategy.
    money
        What each action costs in money. [minor units]
    given_up
        Money lost by giving up. [minor units]

    Yields
    ------
    Path
        The ways, each with its probability.
    """
    if isinstance(policy, Leaf):
        works = policy.kind == "works"
        lost = 0.0 if works else given_up
        yield Path(1.0, policy.cost, lost, opens=False, works=works, actions=())
        return
    spent = money.get(policy.action, 0.0)
    for _, p, after in policy.branches:
        for path in paths_of(after, money, given_up):
            yield Path(
                p * path.p,
                policy.cost + path.cost,
                spent + path.money,
                opens=path.opens or bool(policy.opens),
                works=path.works,
                actions=(policy.action, *path.actions),
            )


def _quantile(paths: list[Path], share: float) -> float:
    reached = 0.0
    for path in sorted(paths, key=lambda path: path.cost):
        reached += path.p
        if reached >= share:
            return path.cost
    return paths[-1].cost

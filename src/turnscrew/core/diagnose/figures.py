"""
What does a strategy cost, with its spread, and how does it end?

Method: one walk over the tree; every path to an end has a probability and a cost.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import sqrt

from turnscrew.core.diagnose.answer import Leaf, Policy


@dataclass(frozen=True)
class Prices:
    """
    What actions cost in money.

    Parameters
    ----------
    price_minor
        Price of what each repair uses. [minor units]
    risk_minor
        Expected price of what each repair may harm. [minor units]
    tried
        Repairs whose part is tried from stock.
    given_up_minor
        Money lost by giving up. [minor units]
    """

    price_minor: Mapping[str, float]
    risk_minor: Mapping[str, float]
    tried: frozenset[str]
    given_up_minor: float


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
    opens
        True if anything is opened on the way.
    works
        True if the device works at the end.
    repairs
        Repairs on the way, by name.
    """

    p: float
    cost: float
    opens: bool
    works: bool
    repairs: tuple[str, ...]


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
    money_minor
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
    money_minor: float
    p_unopened: float
    p_works: float


def figures_of(policy: Policy, prices: Prices) -> Figures:
    """
    Reckon what a strategy leads to.

    Parameters
    ----------
    policy
        The strategy.
    prices
        What its actions cost in money.

    Returns
    -------
    Figures
        Its cost, spread and ends.
    """
    paths = list(paths_of(policy))
    cost = sum(path.p * path.cost for path in paths)
    variance = sum(path.p * (path.cost - cost) ** 2 for path in paths)
    return Figures(
        cost=cost,
        spread=sqrt(variance),
        low=_quantile(paths, 0.1),
        high=_quantile(paths, 0.9),
        money_minor=sum(path.p * money_on(path, prices) for path in paths),
        p_unopened=sum(path.p for path in paths if path.works and not path.opens),
        p_works=sum(path.p for path in paths if path.works),
    )


def paths_of(policy: Policy) -> Iterator[Path]:
    """
    Give every way through a strategy.

    Parameters
    ----------
    policy
        The strategy.

    Yields
    ------
    Path
        The ways, each with its probability.
    """
    if isinstance(policy, Leaf):
        works = policy.kind == "works"
        yield Path(1.0, policy.cost, opens=False, works=works, repairs=())
        return
    own = (policy.action,) if policy.kind == "repair" else ()
    for _, p, after in policy.branches:
        for path in paths_of(after):
            yield Path(
                p * path.p,
                policy.cost + path.cost,
                opens=path.opens or bool(policy.opens),
                works=path.works,
                repairs=(*own, *path.repairs),
            )


def money_on(path: Path, prices: Prices) -> float:
    """
    Reckon the money spent on one way.

    A part tried from stock is paid for if it is the last repair and the device works.

    Parameters
    ----------
    path
        The way.
    prices
        What its actions cost in money.

    Returns
    -------
    float
        The money. [minor units]
    """
    total = 0.0 if path.works else prices.given_up_minor
    for repair in path.repairs:
        is_kept = path.works and repair == path.repairs[-1]
        total += prices.risk_minor.get(repair, 0.0)
        if repair not in prices.tried or is_kept:
            total += prices.price_minor.get(repair, 0.0)
    return total


def _quantile(paths: list[Path], share: float) -> float:
    reached = 0.0
    for path in sorted(paths, key=lambda path: path.cost):
        reached += path.p
        if reached >= share:
            return path.cost
    return paths[-1].cost

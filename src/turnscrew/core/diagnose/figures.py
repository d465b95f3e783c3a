"""
What does a strategy cost, with its spread, and how does it end?

Method: one walk over the tree; every path to an end has a probability and a cost. Money
is reckoned with the chances of the faults at each step: a part tried from stock is paid
for where it mends, whatever else waits for the same power test.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import sqrt

from turnscrew.core.diagnose.answer import Leaf, Policy
from turnscrew.core.diagnose.problem import DiagnosisProblem
from turnscrew.core.diagnose.walk import Walk, Weights


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
    """

    p: float
    cost: float
    opens: bool
    works: bool


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


def figures_of(policy: Policy, prices: Prices, problem: DiagnosisProblem) -> Figures:
    """
    Reckon what a strategy leads to.

    Parameters
    ----------
    policy
        The strategy.
    prices
        What its actions cost in money.
    problem
        The problem that it solves.

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
        money_minor=money_of(policy, prices, problem),
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
        yield Path(1.0, policy.cost, opens=False, works=works)
        return
    for _, p, after in policy.branches:
        for path in paths_of(after):
            yield Path(
                p * path.p,
                policy.cost + path.cost,
                opens=path.opens or bool(policy.opens),
                works=path.works,
            )


def money_of(policy: Policy, prices: Prices, problem: DiagnosisProblem) -> float:
    """
    Reckon the money that a strategy is expected to cost.

    Parameters
    ----------
    policy
        The strategy.
    prices
        What its actions cost in money.
    problem
        The problem that it solves.

    Returns
    -------
    float
        The money. [minor units]
    """
    walk = Walk(problem)

    def onward(at: Policy, weights: Weights) -> float:
        mass = sum(weights.values())
        if isinstance(at, Leaf):
            return 0.0 if at.kind == "works" else prices.given_up_minor * mass
        total = sum(onward(rest, there) for rest, there in walk.after(at, weights))
        if at.kind == "repair":
            is_tried = at.action in prices.tried
            paying = walk.mended(at, weights) if is_tried else mass
            total += prices.risk_minor.get(at.action, 0.0) * mass
            total += prices.price_minor.get(at.action, 0.0) * paying
        return total

    return onward(policy, walk.start())


def _quantile(paths: list[Path], share: float) -> float:
    reached = 0.0
    for path in sorted(paths, key=lambda path: path.cost):
        reached += path.p
        if reached >= share:
            return path.cost
    return paths[-1].cost

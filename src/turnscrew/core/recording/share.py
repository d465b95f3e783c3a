"""
How many of the orders that the learned rules allow are not proven by any recording?

An order that a device forbids is never proven, whatever its needs look like: so the
share of unproven orders bounds the share of forbidden ones, without knowing the device
and also where an OR has more alternatives than a rule keeps. On orders drawn at random
it is counted, and an exact binomial bound covers those not drawn.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import exp, lgamma, log, log1p

from turnscrew.core.recording.orders import Opened, Rules, unproven_counts

CONFIDENCE = 0.95
"""How often the bound holds at least, over many draws. [1]"""

_HALVINGS = 60
"""Halvings of the interval from 0 to 1; more than a float can tell apart. [1]"""


@dataclass(frozen=True)
class UnprovenShare:
    """
    Share of orders that nobody has shown to be possible.

    Parameters
    ----------
    n_orders
        Orders looked at. [1]
    n_unproven
        Those with a thing undone with less off than was ever seen. [1]
    upper_share
        Upper bound on the share of unproven, and so of forbidden, orders among all
        that could have been drawn in the same manner. [1]
    """

    n_orders: int
    n_unproven: int
    upper_share: float


def unproven_share(
    orders: Sequence[Opened],
    openings: Iterable[Opened],
    confidence: float = CONFIDENCE,
) -> UnprovenShare:
    """
    Bound the share of forbidden orders among those drawn from learned rules.

    Parameters
    ----------
    orders
        Orders drawn independently of one another.
    openings
        What was recorded.
    confidence
        How often the bound is to hold at least. [1]

    Returns
    -------
    UnprovenShare
        The count and the bound.
    """
    n_unproven = sum(n > 0 for n in unproven_counts(orders, openings))
    upper = upper_share(n_unproven, len(orders), confidence)
    return UnprovenShare(len(orders), n_unproven, upper)


def upper_share(n_hits: int, n_trials: int, confidence: float = CONFIDENCE) -> float:
    """
    Give the exact one-sided binomial upper bound on a share.

    Parameters
    ----------
    n_hits
        How often it happened. [1]
    n_trials
        Out of how many. [1]
    confidence
        How often the bound is to hold at least. [1]

    Returns
    -------
    float
        The largest share at which so few hits are still as likely as 1 - confidence;
        1 if nothing was tried. [1]

    References
    ----------
    C. J. Clopper and E. S. Pearson, "The use of confidence or fiducial limits
    illustrated in the case of the binomial", Biometrika 26 (1934); from memory.
    """
    if n_hits >= n_trials:
        return 1.0
    low, high = n_hits / n_trials, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if middle >= 1:
            break
        if _at_most(n_hits, n_trials, middle) > 1 - confidence:
            low = middle
        else:
            high = middle
    return high


def drawn_order(rules: Rules, below: Callable[[int], int]) -> Opened:
    """
    Draw one order that the rules allow, of all that can be undone.

    Parameters
    ----------
    rules
        The rules.
    below
        Draws a whole number from 0 to below the one given.

    Returns
    -------
    Opened
        The order.
    """
    order: list[str] = []
    off: set[str] = set()
    while True:
        ready = [
            thing
            for thing, clauses in rules.items()
            if thing not in off and not any(off.isdisjoint(c) for c in clauses)
        ]
        if not ready:
            return Opened(tuple(order))
        thing = ready[below(len(ready))]
        order.append(thing)
        off.add(thing)


def _at_most(n_hits: int, n_trials: int, share: float) -> float:
    """Give the chance of at most so many hits."""
    return sum(
        exp(
            lgamma(n_trials + 1)
            - lgamma(n + 1)
            - lgamma(n_trials - n + 1)
            + n * log(share)
            + (n_trials - n) * log1p(-share)
        )
        for n in range(n_hits + 1)
    )

"""
Which strategy costs least, and how far is that proven?

Method: bounds from groups of faults; looks of one, two and three steps over a strategy
without tests for a good answer at once; then an exact search that proves bound after
bound, until the best is found or the time is up.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from math import inf

from turnscrew.core.diagnose.answer import DiagnosisAnswer, Leaf, Policy
from turnscrew.core.diagnose.compile import Compact, compact
from turnscrew.core.diagnose.problem import WRITE_OFF, DiagnosisProblem, Mode
from turnscrew.core.diagnose.solve.bounds import Bounds, CureBounds, GroupBounds
from turnscrew.core.diagnose.solve.lookahead import Lookahead
from turnscrew.core.diagnose.solve.patterns import Charges, groups_of, patterns_of
from turnscrew.core.diagnose.solve.policy import (
    first_of,
    looking_policy,
    name_of,
    policy_of,
)
from turnscrew.core.diagnose.solve.search import OutOfTimeError, Search

Asked = Callable[[], bool]

MOST_WORK = 4_000_000
"""Most values to reckon for the bounds; about a fifth of a second's work [1]."""

_LOOKS = ((1, inf), (2, 4_000), (3, 12_000))
"""Steps to look ahead in turn, each with the states after which to go on [1]."""

LEAST_SHARE = 0.01
"""States rarer than this go on without tests, if a strategy is not proven. [1]"""

_TREE_STEPS = 2
"""Most steps to look ahead at every state of a strategy. [1]"""

_EASY_STATES = 15_000
"""States after which a problem is not easy [1]."""

_SHARES = (0.1, 0.2, 0.35, 0.5, 0.7, 0.9, 1.0)
"""Shares of the gap to be proven in turn [1]."""

_TIE = 1e-8
_MORE_STATES = 3_000


@dataclass(frozen=True)
class Found:
    """
    The best strategy of one run.

    Parameters
    ----------
    search
        The search, with all it remembers.
    cost
        Its expected cost. [cost]
    bound
        No strategy costs less. [cost]
    n_steps
        Number of steps looked ahead to find it. [1]
    is_proven
        True if it is the best there is.
    least_share
        States rarer than this go on without tests, if the strategy is not proven. [1]
    policy
        The strategy of that cost, if looking ahead again at every state gave it.
    values
        What first actions were found to lead to, at most. [cost]
    """

    search: Search
    cost: float
    bound: float
    n_steps: int
    is_proven: bool
    least_share: float = LEAST_SHARE
    policy: Policy | None = None
    values: dict[str, float] = field(default_factory=dict)


def solve(
    problem: DiagnosisProblem,
    mode: Mode,
    is_time_up: Asked,
    *,
    most_work: int = MOST_WORK,
    wants_policy: bool = False,
    least_share: float = LEAST_SHARE,
) -> DiagnosisAnswer:
    """
    Find the strategy of least expected cost.

    Parameters
    ----------
    problem
        The problem.
    mode
        When a power test is due.
    is_time_up
        Asked now and then.
    most_work
        Most values to reckon for the bounds. [1]
    wants_policy
        True to have the whole strategy as a tree.
    least_share
        States rarer than this go on without tests, if the strategy is not proven. [1]

    Returns
    -------
    DiagnosisAnswer
        The best strategy found: its cost, how far it is proven, and what each first
        action leads to.

    Raises
    ------
    BadArgumentError
        If the problem cannot be turned into numbers.
    """
    whole = compact(problem)
    bounds = bounds_for(whole, mode, is_time_up, most_work)
    found = best_found(whole, mode, bounds, is_time_up, least_share)
    return _answer(whole, mode, found, wants_policy=wants_policy)


def first_look(problem: DiagnosisProblem, mode: Mode, most_work: int) -> str:
    """
    Find the first action by one quick step ahead.

    Parameters
    ----------
    problem
        The problem.
    mode
        When a power test is due.
    most_work
        Most values to reckon for the bounds. [1]

    Returns
    -------
    str
        The action.

    Raises
    ------
    BadArgumentError
        If the problem cannot be turned into numbers.
    """
    whole = compact(problem)

    def never() -> bool:
        return False

    search = Search(whole, mode, bounds_for(whole, mode, never, most_work), never)
    start = search.start()
    lookahead = Lookahead(search)
    option, _ = lookahead.best(start, 1, lookahead.plan(start))
    if option is not None:
        return name_of(whole, option)
    return first_of(search, is_proven=False)


def bounds_for(whole: Compact, mode: Mode, is_time_up: Asked, most_work: int) -> Bounds:
    """
    Choose the bounds for a problem.

    Parameters
    ----------
    whole
        The problem.
    mode
        When a power test is due.
    is_time_up
        Asked now and then.
    most_work
        Most values to reckon. [1]

    Returns
    -------
    Bounds
        Groups of faults if one fault is present at a time, else a clairvoyant.
    """
    if not whole.is_single:
        return CureBounds(whole, mode)
    relaxed: Mode = mode
    charges = Charges(whole.verify_cost, whole.verify_shut)
    # Sets of repairs have one cost only if nothing must be closed for one of them and
    # no price depends on which of them mended.
    is_odd = any(repair.shut or repair.keep_cost for repair in whole.repairs)
    if mode == "free" or (mode == "block" and is_odd):
        # A power test free of cost after each repair, and one paid for at the end, is
        # never dearer.
        relaxed, charges = "each", Charges(0.0, 0, whole.verify_cost)
    groups = groups_of(whole, relaxed, charges.verify_shut, most_work)
    return GroupBounds(whole, patterns_of(whole, relaxed, groups, is_time_up, charges))


def best_found(
    whole: Compact,
    mode: Mode,
    bounds: Bounds,
    is_time_up: Asked,
    least_share: float,
) -> Found:
    """
    Look a few steps ahead, then search until the best is proven or the time is up.

    Parameters
    ----------
    whole
        The problem.
    mode
        When a power test is due.
    bounds
        Bounds of states not yet searched.
    is_time_up
        Asked now and then.
    least_share
        States rarer than this go on without tests, if the strategy is not proven. [1]

    Returns
    -------
    Found
        The best strategy and its bound.
    """
    search = Search(whole, mode, bounds, is_time_up)
    start = search.start()
    cost = Lookahead(search).plan(start)
    found = Found(
        search,
        cost,
        min(start.least, cost),
        n_steps=0,
        is_proven=False,
        least_share=least_share,
    )
    try:
        for n_steps, most_states in _LOOKS:
            found = _looked(found, n_steps, most_states)
            if n_steps <= _TREE_STEPS:
                found = _built(found, n_steps)
            if n_steps == 1:
                # Most problems are easy; then nothing need be looked at further.
                found = _searched(found, (1.0,), most_states=_EASY_STATES)
            if found.is_proven:
                return found
        return _searched(found, _SHARES, most_states=inf)
    except OutOfTimeError:
        return found


def _built(found: Found, n_steps: int) -> Found:
    """Keep the strategy of looking ahead again at every state, if it is better."""
    policy = looking_policy(found.search, n_steps, least_share=found.least_share)
    cost = cost_of_tree(policy)
    return replace(found, cost=cost, policy=policy) if cost < found.cost else found


def _looked(found: Found, n_steps: int, most_states: float) -> Found:
    search = found.search
    lookahead = Lookahead(search)
    lookahead.most_states = most_states
    start = search.start()
    cost, values = found.cost, dict(found.values)
    try:
        for option in search.options(start, with_useless=n_steps == 1):
            limit = inf if n_steps == 1 else cost
            if option.total >= limit:
                break
            value = lookahead.option_value(start, option, n_steps, limit)
            if value < limit:
                name = name_of(search.whole, option)
                values[name] = min(value, values.get(name, inf))
                cost = min(cost, value)
    except OutOfTimeError:
        pass
    n_steps = n_steps if cost < found.cost else found.n_steps
    return replace(found, cost=cost, n_steps=n_steps, values=values)


def _searched(found: Found, shares: tuple[float, ...], *, most_states: float) -> Found:
    """Prove bound after bound, each a share of the way up to the cost."""
    search = found.search
    search.most_states = search.n_states + most_states
    low = found.bound
    for share in shares:
        limit = inf if share == 1 else low + share * (found.cost - low)
        try:
            value = search.value(search.start(), limit)
        except OutOfTimeError:
            return found
        if value < limit:
            return replace(found, cost=value, bound=value, is_proven=True, policy=None)
        found = replace(found, bound=max(found.bound, min(limit, found.cost)))
    return found


def _policy(found: Found) -> Policy:
    search = found.search
    if found.policy is not None:
        return found.policy
    # The tree is read off even if the time is up: it is what was asked for.
    search.most_states = inf
    search.is_time_up = lambda: False
    if found.is_proven:
        return policy_of(search)
    return looking_policy(search, 1, least_share=found.least_share)


def _answer(
    whole: Compact, mode: Mode, found: Found, *, wants_policy: bool
) -> DiagnosisAnswer:
    search = found.search
    search.most_states = 2 * search.n_states + _MORE_STATES
    values, proven = first_values(whole, found)
    looked = dict(values)
    least = min(found.cost, *values.values())
    policy: Policy | None = None
    if wants_policy or found.policy is not None:
        policy = _policy(found)
        if not found.is_proven:
            least = cost_of_tree(policy)
            first = WRITE_OFF if isinstance(policy, Leaf) else policy.action
            values = {first: least} | {n: v for n, v in values.items() if n != first}
    slack = _TIE * (1 + abs(least))
    if min(values.values()) > least + slack:
        # The time ran out before the best first action was looked at by itself.
        first = first_of(search, is_proven=found.is_proven)
        values = {first: least} | {n: v for n, v in values.items() if n != first}
        proven |= {first} if found.is_proven else set()
    return DiagnosisAnswer(
        status="optimal" if found.is_proven else "bounded",
        mode=mode,
        cost=least,
        bound=least if found.is_proven else min(found.bound, least),
        first=tuple(name for name, value in values.items() if value <= least + slack),
        values=values,
        proven=frozenset(proven),
        policy=policy if wants_policy else None,
        looked=looked,
    )


def cost_of_tree(policy: Policy) -> float:
    """
    Reckon the expected cost of a strategy from its own figures.

    Parameters
    ----------
    policy
        The strategy.

    Returns
    -------
    float
        The cost. [cost]
    """
    if isinstance(policy, Leaf):
        return policy.cost
    return policy.cost + sum(p * cost_of_tree(rest) for _, p, rest in policy.branches)


def first_values(whole: Compact, found: Found) -> tuple[dict[str, float], set[str]]:
    """
    Find what each first action leads to, as far as time and states allow.

    Parameters
    ----------
    whole
        The problem.
    found
        The best strategy.

    Returns
    -------
    tuple
        The expected cost by first action, the best ones first [cost]; and those of them
        that are proven exact.
    """
    search = found.search
    start = search.start()
    exact = {WRITE_OFF: whole.giving_up(whole.open_now)}
    for option in search.options(start, with_useless=True) if found.is_proven else ():
        try:
            value = search.option_value(start, option, inf)
        except OutOfTimeError:
            break
        exact[name_of(whole, option)] = value
    values = exact if found.is_proven else found.values | exact
    return dict(sorted(values.items(), key=lambda pair: pair[1])), set(exact)

"""
Which strategy costs least, and how far is that proven?

Method: bounds from groups of faults, then searches with bounds stretched less and
less; each gives a strategy and a proof, the last one (no stretch) the optimum.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf

from turnscrew.core.diagnose.answer import DiagnosisAnswer
from turnscrew.core.diagnose.compile import Compact, compact
from turnscrew.core.diagnose.problem import WRITE_OFF, DiagnosisProblem, Mode
from turnscrew.core.diagnose.solve.bounds import Bounds, CureBounds, GroupBounds
from turnscrew.core.diagnose.solve.patterns import groups_of, patterns_of
from turnscrew.core.diagnose.solve.policy import name_of, policy_of
from turnscrew.core.diagnose.solve.search import OutOfTimeError, Search

Asked = Callable[[], bool]

MOST_WORK = 4_000_000
"""Most values to reckon for the bounds; about a fifth of a second's work. [1]"""

_STRETCHES = ((1.1, inf), (1.0, 15_000), (1.03, inf), (1.0, inf))
"""Stretches in turn, each with the number of states after which to go on. [1]"""

_TIE = 1e-8
_MORE_STATES = 5_000


@dataclass(frozen=True)
class Found:
    """
    The best strategy of one run.

    Parameters
    ----------
    search
        The last search that came to an end.
    cost
        Its expected cost. [cost]
    bound
        No strategy costs less. [cost]
    """

    search: Search
    cost: float
    bound: float


def solve(
    problem: DiagnosisProblem,
    mode: Mode,
    is_time_up: Asked,
    *,
    most_work: int = MOST_WORK,
    wants_policy: bool = False,
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
    found = best_found(whole, mode, bounds, is_time_up)
    return _answer(whole, mode, found, wants_policy=wants_policy)


def bounds_for(
    whole: Compact, mode: Mode, is_time_up: Asked, most_work: int
) -> Bounds:
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
    cost, shut, works = whole.verify_cost, whole.verify_shut, 0.0
    # Sets of repairs have one cost only if nothing must be closed for one of them and
    # no price depends on which of them mended.
    is_odd = any(repair.shut or repair.keep_cost for repair in whole.repairs)
    if mode == "free" or (mode == "block" and is_odd):
        # A power test free of cost after each repair, and one paid for at the end, is
        # never dearer.
        relaxed, cost, shut, works = "each", 0.0, 0, whole.verify_cost
    groups = groups_of(whole, relaxed, shut, most_work)
    patterns = patterns_of(
        whole,
        relaxed,
        groups,
        is_time_up,
        verify_cost=cost,
        verify_shut=shut,
        works_cost=works,
    )
    if patterns is None:
        return CureBounds(whole, mode)
    return GroupBounds(whole, patterns)


def best_found(whole: Compact, mode: Mode, bounds: Bounds, is_time_up: Asked) -> Found:
    """
    Search with bounds stretched less and less, until proven or out of time.

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

    Returns
    -------
    Found
        The best strategy and its bound; giving up at once if nothing better was found.
    """
    exact = Search(whole, mode, bounds, is_time_up)
    start = exact.start()
    cost = whole.giving_up(start.open_set)
    found = Found(exact, cost, min(start.least, cost))
    for stretch, most_states in _STRETCHES:
        search = exact
        if stretch > 1:
            search = Search(whole, mode, bounds, is_time_up, stretch=stretch)
        search.most_states = most_states
        try:
            value = search.value(search.start(), inf)
        except OutOfTimeError:
            continue
        bound = max(found.bound, value / stretch)
        found = Found(search, min(value, found.cost), bound)
        if search is exact:
            break
    return found


def _answer(
    whole: Compact, mode: Mode, found: Found, *, wants_policy: bool
) -> DiagnosisAnswer:
    search = found.search
    is_optimal = search.stretch == 1.0 and search.n_states > 0
    search.most_states = 2 * search.n_states + _MORE_STATES
    values = first_values(whole, search, found.cost)
    values[WRITE_OFF] = whole.giving_up(whole.open_now)
    least = min((found.cost, *values.values()))
    slack = _TIE * (1 + abs(least))
    return DiagnosisAnswer(
        status="optimal" if is_optimal else "bounded",
        mode=mode,
        cost=least,
        bound=least if is_optimal else min(found.bound, least),
        first=tuple(name for name, value in values.items() if value <= least + slack),
        values=values,
        proven=frozenset(values) if is_optimal else frozenset({WRITE_OFF}),
        policy=policy_of(search) if wants_policy else None,
    )


def first_values(whole: Compact, search: Search, cost: float) -> dict[str, float]:
    """
    Find what each first action leads to, as far as time and states allow.

    Parameters
    ----------
    whole
        The problem.
    search
        The search that ended.
    cost
        The value of the start. [cost]

    Returns
    -------
    dict
        The expected cost by first action, the best ones first. [cost]
    """
    start = search.start()
    values: dict[str, float] = {}
    for option in search.options(start, with_useless=True):
        try:
            value = search.option_value(start, option, inf)
        except OutOfTimeError:
            break
        values[name_of(whole, option)] = value
    return dict(sorted(values.items(), key=lambda pair: pair[1]))

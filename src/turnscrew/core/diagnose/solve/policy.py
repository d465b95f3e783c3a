"""How is the best strategy read off a search that has ended?"""

from collections.abc import Callable
from dataclasses import replace
from math import inf

from turnscrew.core.diagnose.answer import FAILS, WORKS, Leaf, Policy, Step
from turnscrew.core.diagnose.compile import Compact
from turnscrew.core.diagnose.problem import VERIFY, WRITE_OFF
from turnscrew.core.diagnose.solve.bounds import State
from turnscrew.core.diagnose.solve.lookahead import Lookahead
from turnscrew.core.diagnose.solve.plan import Plan
from turnscrew.core.diagnose.solve.search import Option, Search

DONE = "done"

Chooser = Callable[[Search, State], Option | None]
"""Chooses the action at a state; none to give up."""

_SLACK = 1e-9

_OFTEN = 0.05
"""States at least as likely as this are looked at more steps ahead. [1]"""


def policy_of(search: Search) -> Policy:
    """
    Read the strategy that a search has found.

    Parameters
    ----------
    search
        A search that has ended.

    Returns
    -------
    Policy
        The strategy as a tree; the probabilities are those at each step.

    Raises
    ------
    OutOfTimeError
        If the search stops again while states are looked up.
    """
    return _from(search, search.start(), _best)


def looking_policy(
    search: Search, n_steps: int, *, least_share: float = 0.01
) -> Policy:
    """
    Build a strategy by looking a few steps ahead at every state.

    Parameters
    ----------
    search
        The search whose actions and bounds are used.
    n_steps
        Number of steps; a state rarer than ``_OFTEN`` is given one. [1]
    least_share
        States rarer than this go on without tests. [1]

    Returns
    -------
    Policy
        The strategy as a tree; what it costs is reckoned from the tree.
    """
    lookahead = Lookahead(search)

    def best(search: Search, state: State) -> Option | None:
        plan = lookahead.planned(state)
        if state.mass >= least_share:
            n = max(1, n_steps) if state.mass >= _OFTEN else 1
            option, _ = lookahead.best(state, n, plan.value)
            if option is not None:
                return option
        return _planned(search, state, plan)

    return _from(search, search.start(), best)


def _planned(search: Search, state: State, plan: Plan) -> Option | None:
    if plan.gives_up:
        return None
    wanted = ("repair", plan.block[0]) if plan.block else ("verify", -1)
    return next(o for o in search.options(state) if (o.kind, o.index) == wanted)


def first_of(search: Search, *, is_proven: bool) -> str:
    """
    Name the first action of the strategy found, even if the time is up.

    Parameters
    ----------
    search
        The search.
    is_proven
        True if the search has ended; else the strategy is the one without tests.

    Returns
    -------
    str
        The action.
    """
    search.most_states = inf
    search.is_time_up = lambda: False
    start = search.start()
    if is_proven:
        option = _best(search, start)
    else:
        option = _planned(search, start, Lookahead(search).planned(start))
    return WRITE_OFF if option is None else name_of(search.whole, option)


def name_of(whole: Compact, option: Option) -> str:
    """
    Name the action of an option.

    Parameters
    ----------
    whole
        The problem.
    option
        The option.

    Returns
    -------
    str
        Its name.
    """
    match option.kind:
        case "test":
            return whole.tests[option.index].name
        case "repair":
            return whole.repairs[option.index].name
    return VERIFY


def _from(search: Search, state: State, best: Chooser) -> Policy:
    option = best(search, state)
    if option is None:
        return Leaf("written off", search.whole.giving_up(state.open_set))
    match option.kind:
        case "test":
            return _test(search, state, option, best)
        case "repair":
            return _repair(search, state, option, best)
    return _verify(search, state, option.open_set, best)


def _best(search: Search, state: State) -> Option | None:
    give_up = search.whole.giving_up(state.open_set) * state.mass
    best, least = None, give_up
    for option in search.options(state):
        if option.total >= least:
            break
        value = search.option_value(state, option, least)
        # The same sum in another order must not beat what is as good.
        if value < least - _SLACK * give_up:
            best, least = option, value
    return best


def _test(search: Search, state: State, option: Option, best: Chooser) -> Step:
    test = search.whole.tests[option.index]
    opens, closes = _access(search, state.open_set, test.need, test.shut)
    branches: list[tuple[str, float, Policy]] = []
    for o, outcome in enumerate(test.outcomes):
        after = search.after(state, option, o)
        if after.mass > 0:
            p = after.mass / state.mass
            branches.append((outcome, p, _from(search, after, best)))
    cost = option.cost / state.mass
    return Step(test.name, "test", cost, opens, closes, tuple(branches))


def _repair(search: Search, state: State, option: Option, best: Chooser) -> Step:
    whole = search.whole
    repair = whole.repairs[option.index]
    opens, closes = _access(search, state.open_set, repair.need, repair.shut)
    there = whole.access.move(state.open_set, repair.need, repair.shut)
    after = search.after(state, option, 0)
    mended = sum(state.weights) - sum(after.weights)
    cost = there.cost + repair.cost + repair.keep_cost * mended / state.mass
    if search.mode != "each":
        then = _from(search, after, best)
    else:
        ok = state.ok + mended
        then = _power_test(search, there.open_set, ok / state.mass, after, best)
    return Step(repair.name, "repair", cost, opens, closes, ((DONE, 1.0, then),))


def _verify(search: Search, state: State, open_set: int, best: Chooser) -> Step:
    after = replace(
        state,
        open_set=open_set,
        is_pending=False,
        ok=0.0,
        least=search.bounds.at(state, open_set),
    )
    return _power_test(search, state.open_set, state.ok / state.mass, after, best)


def _power_test(
    search: Search, open_set: int, p_ok: float, failed: State, best: Chooser
) -> Step:
    whole = search.whole
    move = whole.access.move(open_set, 0, whole.verify_shut)
    opens, closes = _access(search, open_set, 0, whole.verify_shut)
    end = Leaf("works", whole.access.closing(move.open_set))
    branches: list[tuple[str, float, Policy]] = []
    if p_ok > 0:
        branches.append((WORKS, p_ok, end))
    if failed.mass > 0:
        branches.append((FAILS, 1 - p_ok, _from(search, failed, best)))
    cost = move.cost + whole.verify_cost
    return Step(VERIFY, "verify", cost, opens, closes, tuple(branches))


def _access(
    search: Search, open_set: int, need: int, shut: int
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    access = search.whole.access
    move = access.move(open_set, need, shut)
    return (
        tuple(access.nodes[i].name for i in move.opens),
        tuple(access.nodes[i].name for i in move.closes),
    )

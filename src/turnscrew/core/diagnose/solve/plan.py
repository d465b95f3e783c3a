"""
What does a strategy without tests cost from here?

Method: repairs in falling order of the chance to mend over the cost with access; then
the best points for a power test and the best point to give up, by backward induction
over that order. Access is closed after each power test, which a lazy hand need not do;
so the cost is an upper bound.
"""

from dataclasses import dataclass

from turnscrew.core.diagnose.compile import Compact
from turnscrew.core.diagnose.problem import Mode
from turnscrew.core.diagnose.solve.bounds import State

MOST_IN_BLOCK = 4
"""Most repairs before a power test that are looked at. [1]"""


@dataclass(frozen=True)
class Plan:
    """
    A strategy without tests.

    Parameters
    ----------
    value
        Its expected cost times the weight of the state. [cost]
    block
        Repairs before the next power test, by index; empty with ``gives_up`` false
        means a power test at once.
    gives_up
        True if the best is to give up at once.
    """

    value: float
    block: tuple[int, ...]
    gives_up: bool


def plan_from(whole: Compact, mode: Mode, state: State) -> Plan:
    """
    Find the best strategy without tests along one order of repairs.

    Parameters
    ----------
    whole
        The problem, one fault at a time.
    mode
        When a power test is due; in ``free`` a block serves too.
    state
        The state.

    Returns
    -------
    Plan
        The strategy.
    """
    order = _order(whole, state)
    left = [sum(state.weights)]
    weights = state.weights
    for r in order:
        repair = whole.repairs[r]
        weights = [w * (1 - repair.p_mends(h)) for h, w in enumerate(weights)]
        left.append(sum(weights))
    tail = [0.0] * (len(order) + 1)
    tail[-1] = whole.giving_up(0) * left[-1]
    longest = 1 if mode == "each" else MOST_IN_BLOCK
    for i in range(len(order) - 1, 0, -1):
        best = whole.giving_up(0) * left[i]
        for value, _ in _blocks(whole, order, left, tail, i, 0, 0.0, longest):
            best = min(best, value)
        tail[i] = best
    mass = left[0] + state.ok
    best, block, gives_up = whole.giving_up(state.open_set) * mass, (), True
    blocks = _blocks(
        whole, order, left, tail, 0, state.open_set, state.ok, longest
    )
    if len(order):
        tail[0] = min(
            [whole.giving_up(0) * left[0]]
            + [v for v, _ in _blocks(whole, order, left, tail, 0, 0, 0.0, longest)]
        )
    if state.ok > 0 or state.is_pending:
        end = _power_test(whole, state.open_set, mass, state.ok, left[0])
        blocks = [(end + tail[0], 0), *blocks]
    for value, n in blocks:
        if value < best:
            best, block, gives_up = value, tuple(order[:n]), False
    return Plan(best, block, gives_up)


def _order(whole: Compact, state: State) -> list[int]:
    ratios: list[tuple[float, int]] = []
    for r, repair in enumerate(whole.repairs):
        if state.tried >> r & 1:
            continue
        chance = sum(
            w * repair.p_mends(h) for h, w in enumerate(state.weights) if w > 0
        )
        if chance > 0:
            access = whole.access.move(0, repair.need, 0).cost
            access += whole.access.closing(repair.need)
            cost = repair.cost + repair.keep_cost + access + whole.verify_cost
            ratios.append((-chance / cost if cost > 0 else -1e300, r))
    return [r for _, r in sorted(ratios)]


def _blocks(
    whole: Compact,
    order: list[int],
    left: list[float],
    tail: list[float],
    i: int,
    open_set: int,
    ok: float,
    longest: int,
) -> list[tuple[float, int]]:
    found: list[tuple[float, int]] = []
    mass, cost, keep = left[i] + ok, 0.0, 0.0
    for j in range(i + 1, min(i + longest, len(order)) + 1):
        repair = whole.repairs[order[j - 1]]
        move = whole.access.move(open_set, repair.need, repair.shut)
        open_set = move.open_set
        cost += (move.cost + repair.cost) * mass
        keep += repair.keep_cost * (left[j - 1] - left[j])
        works = ok + left[i] - left[j]
        end = _power_test(whole, open_set, mass, works, left[j])
        found.append((cost + keep + end + tail[j], j - i))
    return found


def _power_test(
    whole: Compact, open_set: int, mass: float, works: float, fails: float
) -> float:
    move = whole.access.move(open_set, 0, whole.verify_shut)
    closing = whole.access.closing(move.open_set)
    return (move.cost + whole.verify_cost) * mass + closing * (works + fails)

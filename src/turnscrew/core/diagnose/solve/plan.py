"""
What does a strategy without tests cost from here?

Method: repairs in falling order of the chance to mend over the cost with access; then
the best points for a power test and the best point to give up, by backward induction
over that order. Access is closed after each power test, which a lazy hand need not do;
so the cost is an upper bound.
"""

from dataclasses import dataclass
from math import inf

from turnscrew.core.diagnose.compile import Compact
from turnscrew.core.diagnose.problem import Mode
from turnscrew.core.diagnose.solve.bounds import State

MOST_IN_BLOCK = 4
"""Most repairs before a power test that are looked at [1]."""


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
    line = _line(whole, mode, state)
    tail = [0.0] * (len(line.order) + 1)
    for i in range(len(line.order), -1, -1):
        ways = [value for value, _ in _blocks(line, tail, i, 0, 0.0)]
        tail[i] = min([whole.giving_up(0) * line.left[i], *ways])
    mass = line.left[0] + state.ok
    best = Plan(whole.giving_up(state.open_set) * mass, (), gives_up=True)
    blocks = _blocks(line, tail, 0, state.open_set, state.ok)
    if state.ok > 0 or state.is_pending:
        end = _power_test(whole, state.open_set, mass)
        blocks.append((end + tail[0], 0))
    for value, n in blocks:
        if value < best.value:
            best = Plan(value, tuple(line.order[:n]), gives_up=False)
    return best


@dataclass(frozen=True)
class _Line:
    """Repairs in order, with the broken weight before each and after the last."""

    whole: Compact
    order: list[int]
    left: list[float]
    longest: int


def _line(whole: Compact, mode: Mode, state: State) -> _Line:
    order = _order(whole, state)
    left = [sum(state.weights)]
    weights = state.weights
    for r in order:
        repair = whole.repairs[r]
        weights = [w * (1 - repair.p_mends(h)) for h, w in enumerate(weights)]
        left.append(sum(weights))
    return _Line(whole, order, left, 1 if mode == "each" else MOST_IN_BLOCK)


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
            ratios.append((-chance / cost if cost > 0 else -inf, r))
    return [r for _, r in sorted(ratios)]


def _blocks(
    line: _Line, tail: list[float], i: int, open_set: int, ok: float
) -> list[tuple[float, int]]:
    """For each length of the next block: its value to the end, and the length."""
    whole, left = line.whole, line.left
    found: list[tuple[float, int]] = []
    mass, cost = left[i] + ok, 0.0
    for j in range(i, min(i + line.longest, len(line.order))):
        repair = whole.repairs[line.order[j]]
        move = whole.access.move(open_set, repair.need, repair.shut)
        open_set = move.open_set
        cost += (move.cost + repair.cost) * mass
        cost += repair.keep_cost * (left[j] - left[j + 1])
        end = _power_test(whole, open_set, mass)
        found.append((cost + end + tail[j + 1], j + 1 - i))
    return found


def _power_test(whole: Compact, open_set: int, mass: float) -> float:
    """Cost of a power test after which all is closed, whatever it shows."""
    return (whole.access.closing(open_set) + whole.verify_cost) * mass

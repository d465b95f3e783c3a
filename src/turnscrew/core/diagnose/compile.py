"""
How does a problem look as numbers?

A hypothesis is one fault, or with several faults at once a set of them.
A test multiplies the weight of each hypothesis by the row of its outcome.
A repair moves weight from a hypothesis to what is left of it; nothing left is ok.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations, product
from math import prod

from turnscrew.core.diagnose.access import Access, access_of
from turnscrew.core.diagnose.problem import DiagnosisProblem, Repair, Test
from turnscrew.errors import BadArgumentError

OK = -1
"""Index of the hypothesis that nothing is wrong (any more)."""

Faults = frozenset[str]


@dataclass(frozen=True)
class CompactTest:
    """
    One test as numbers.

    Parameters
    ----------
    name
        Its name.
    outcomes
        Names of its outcomes.
    cost
        Its cost. [cost]
    need
        Mask of what must be open.
    shut
        Mask of what must be closed.
    rows
        For each hypothesis the probability of each outcome. [1]
    ok_row
        The same for a device that works. [1]
    powers
        True if it powers the device.
    """

    name: str
    outcomes: tuple[str, ...]
    cost: float
    need: int
    shut: int
    rows: tuple[tuple[float, ...], ...]
    ok_row: tuple[float, ...]
    powers: bool


@dataclass(frozen=True)
class CompactRepair:
    """
    One repair as numbers.

    Parameters
    ----------
    name
        Its name.
    cost
        Cost of trying it. [cost]
    keep_cost
        Cost that falls due if it mends. [cost]
    need
        Mask of what must be open.
    shut
        Mask of what must be closed.
    goes
        For each hypothesis what may be left of it, and with what probability. [1]
    attends
        Mask of the faults without power that it may mend.
    """

    name: str
    cost: float
    keep_cost: float
    need: int
    shut: int
    goes: tuple[tuple[tuple[int, float], ...], ...]
    attends: int

    def p_mends(self, hypothesis: int) -> float:
        """
        Reckon the chance that this repair makes the device work.

        Parameters
        ----------
        hypothesis
            What is wrong, by index.

        Returns
        -------
        float
            The chance. [1]
        """
        return sum(p for left, p in self.goes[hypothesis] if left == OK)


@dataclass(frozen=True)
class Compact:
    """
    A problem as numbers.

    Parameters
    ----------
    hypotheses
        What may be wrong.
    prior
        Probability of each hypothesis. [1]
    p_ok
        Probability that nothing is wrong. [1]
    access
        Nodes of access.
    open_now
        Mask of what is open.
    tests
        The tests.
    repairs
        The repairs.
    verify_cost
        Cost of the power test. [cost]
    verify_shut
        Mask of what must be closed for it.
    write_off
        Cost of giving up. [cost]
    is_closed_first
        True if the device is closed before it is given up.
    no_power
        For each hypothesis the mask of its faults that forbid power.
    power_limit
        Probability of such a fault from which on nothing is powered. [1]
    """

    hypotheses: tuple[Faults, ...]
    prior: tuple[float, ...]
    p_ok: float
    access: Access
    open_now: int
    tests: tuple[CompactTest, ...]
    repairs: tuple[CompactRepair, ...]
    verify_cost: float
    verify_shut: int
    write_off: float
    is_closed_first: bool
    no_power: tuple[int, ...]
    power_limit: float

    @property
    def is_single(self) -> bool:
        """True if a repair either mends a hypothesis or leaves it as it is."""
        return all(
            left in (OK, h)
            for repair in self.repairs
            for h, goes in enumerate(repair.goes)
            for left, _ in goes
        )

    def giving_up(self, open_set: int) -> float:
        """
        Reckon the cost of giving up.

        Parameters
        ----------
        open_set
            What is open.

        Returns
        -------
        float
            The cost, with closing if that comes first. [cost]
        """
        closing = self.access.closing(open_set) if self.is_closed_first else 0.0
        return self.write_off + closing


def compact(problem: DiagnosisProblem) -> Compact:
    """
    Turn a problem into numbers.

    Parameters
    ----------
    problem
        The problem.

    Returns
    -------
    Compact
        The numbers.

    Raises
    ------
    BadArgumentError
        If no fault has weight though the device may not work, access nodes need one
        another in a ring, an action needs a node open and what carries it closed, or
        rows cannot be combined.
    """
    access = access_of(problem.nodes)
    weights = _weights(problem)
    total = sum(weights.values())
    if total <= 0 and problem.p_ok < 1:
        raise BadArgumentError("no fault has any weight, wanted at least one above 0")
    hypotheses = tuple(weights)
    tests = tuple(_test(test, hypotheses, access) for test in problem.tests)
    repairs = tuple(_repair(problem, r, hypotheses, access) for r in problem.repairs)
    share = (1 - problem.p_ok) / total if total > 0 else 0.0
    return Compact(
        hypotheses=hypotheses,
        prior=tuple(weight * share for weight in weights.values()),
        p_ok=problem.p_ok,
        access=access,
        open_now=access.opened(problem.open_now),
        tests=tests,
        repairs=repairs,
        verify_cost=problem.verification.cost,
        verify_shut=access.shut(problem.verification.closed),
        write_off=problem.write_off.cost,
        is_closed_first=problem.write_off.is_closed_first,
        no_power=tuple(_no_power(problem, faults) for faults in hypotheses),
        power_limit=problem.power_limit,
    )


def _weights(problem: DiagnosisProblem) -> dict[Faults, float]:
    if not problem.independent:
        return {frozenset({name}): weight for name, weight in problem.faults.items()}
    shares = problem.independent
    return {
        frozenset(present): prod(
            share if name in present else 1 - share for name, share in shares.items()
        )
        for n in range(1, min(problem.most_faults, len(shares)) + 1)
        for present in combinations(shares, n)
    }


def _test(test: Test, hypotheses: tuple[Faults, ...], access: Access) -> CompactTest:
    need, shut = _masks(test, access)
    rows = tuple(_row(test, faults) for faults in hypotheses)
    return CompactTest(
        test.name,
        test.outcomes,
        test.cost,
        need,
        shut,
        rows,
        test.p_ok,
        powers=test.powers,
    )


def _no_power(problem: DiagnosisProblem, faults: Iterable[str]) -> int:
    return sum(1 << i for i, name in enumerate(problem.no_power) if name in faults)


def _masks(action: Test | Repair, access: Access) -> tuple[int, int]:
    need, shut = access.opened(action.open), access.shut(action.closed)
    if need & shut:
        node = next(n for i, n in enumerate(access.nodes) if need & shut & 1 << i)
        raise BadArgumentError(
            f"{action.name} needs {node.name} open and what carries it closed"
        )
    return need, shut


def _row(test: Test, faults: Faults) -> tuple[float, ...]:
    seen = [
        name
        for name in faults
        if (test.looks_at is None or name in test.looks_at) and name in test.p
    ]
    if len(seen) <= 1:
        return test.p[seen[0]] if seen else test.p_ok
    if len(test.p_ok) != 2 or test.p_ok[0] <= 0:
        raise BadArgumentError(
            f"{test.name} with several faults at once: found {len(test.p_ok)} outcomes"
            f" of which the first has probability {test.p_ok[0]} when all is well,"
            " wanted two outcomes and a first one above 0, or looks_at one fault"
        )
    # Noisy-or: each fault present spoils the first outcome on its own account.
    first = test.p_ok[0] * prod(min(1.0, test.p[f][0] / test.p_ok[0]) for f in seen)
    return (first, 1 - first)


def _repair(
    problem: DiagnosisProblem,
    repair: Repair,
    hypotheses: tuple[Faults, ...],
    access: Access,
) -> CompactRepair:
    need, shut = _masks(repair, access)
    index = {faults: i for i, faults in enumerate(hypotheses)}
    goes = tuple(_goes(repair, faults, index) for faults in hypotheses)
    mended = [name for name, chance in repair.mends.items() if chance > 0]
    return CompactRepair(
        repair.name,
        repair.cost,
        repair.keep_cost,
        need,
        shut,
        goes,
        _no_power(problem, mended),
    )


def _goes(
    repair: Repair, faults: Faults, index: dict[Faults, int]
) -> tuple[tuple[int, float], ...]:
    touched = [name for name in sorted(faults) if repair.mends.get(name, 0.0) > 0]
    left: dict[int, float] = {}
    for mended in product((True, False), repeat=len(touched)):
        p = prod(
            repair.mends[name] if is_mended else 1 - repair.mends[name]
            for name, is_mended in zip(touched, mended, strict=True)
        )
        rest = faults.difference(
            name for name, is_mended in zip(touched, mended, strict=True) if is_mended
        )
        target = index[rest] if rest else OK
        if p > 0:
            left[target] = left.get(target, 0.0) + p
    return tuple(left.items())

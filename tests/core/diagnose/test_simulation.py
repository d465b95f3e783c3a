"""A hundred thousand devices under a strategy cost in the mean what was foretold."""

from dataclasses import dataclass
from math import sqrt

import numpy as np
import pytest

from core.diagnose.given import PORTABLE, never, portable, problem_of
from turnscrew.core.diagnose.answer import Leaf, Policy, Step
from turnscrew.core.diagnose.problem import DiagnosisProblem, Mode
from turnscrew.core.diagnose.solve import solve

N_DEVICES = 100_000
OK = "nothing"

Counts = dict[str, int]
"""How many of the devices at one step have which fault."""


@dataclass
class Bench:
    """Mends devices as a strategy says; what comes of it follows from their faults."""

    problem: DiagnosisProblem
    chance: np.random.Generator  # noqa: TID251 - only named, the tests pass it in

    def __post_init__(self) -> None:
        self.nodes = {node.name: node for node in self.problem.nodes}
        self.n_done = 0
        self.total = 0.0
        self.squares = 0.0

    def receive(self, policy: Policy) -> None:
        names = [*self.problem.faults, OK]
        shares = [p * (1 - self.problem.p_ok) for p in self.problem.faults.values()]
        drawn = self.split(N_DEVICES, (*shares, self.problem.p_ok))
        counts = dict(zip(names, drawn, strict=True))
        self.work(policy, counts, 0.0, frozenset(self.problem.open_now))

    def split(self, n: int, shares: tuple[float, ...]) -> list[int]:
        # Shares written with few digits may miss a sum of one by a hair.
        exact = np.array(shares) / sum(shares)
        return [int(k) for k in self.chance.multinomial(n, exact)]

    def work(
        self, policy: Policy, counts: Counts, paid: float, opened: frozenset[str]
    ) -> None:
        if not sum(counts.values()):
            return
        if isinstance(policy, Leaf):
            self.end(policy, counts, paid + self.price_of_end(policy, opened))
            return
        paid += sum(self.nodes[name].close_cost for name in policy.closes)
        paid += sum(self.nodes[name].open_cost for name in policy.opens)
        opened = opened.difference(policy.closes).union(policy.opens)
        cost, parts = self.outcomes(policy, counts)
        rest = {name: after for name, _, after in policy.branches}
        for name, part in parts.items():
            if sum(part.values()):
                self.work(rest[name], part, paid + cost, opened)

    def price_of_end(self, leaf: Leaf, opened: frozenset[str]) -> float:
        write_off = self.problem.write_off
        closing = sum(self.nodes[name].close_cost for name in opened)
        if leaf.kind == "works":
            return closing
        return write_off.cost + (closing if write_off.is_closed_first else 0.0)

    def end(self, leaf: Leaf, counts: Counts, paid: float) -> None:
        n = sum(counts.values())
        assert leaf.kind == "written off" or counts[OK] == n
        self.n_done += n
        self.total += n * paid
        self.squares += n * paid * paid

    def outcomes(self, step: Step, counts: Counts) -> tuple[float, dict[str, Counts]]:
        """Give the price of the step itself, and who goes which way after it."""
        match step.kind:
            case "test":
                test = next(t for t in self.problem.tests if t.name == step.action)
                rows = {**test.p, OK: test.p_ok}
                split = {name: self.split(n, rows[name]) for name, n in counts.items()}
                return test.cost, {
                    outcome: {name: ways[o] for name, ways in split.items()}
                    for o, outcome in enumerate(test.outcomes)
                }
            case "repair":
                repair = next(r for r in self.problem.repairs if r.name == step.action)
                assert not repair.keep_cost
                ((outcome, _, _),) = step.branches
                return repair.cost, {outcome: self.mended(repair.mends, counts)}
        passed = {name: n if name == OK else 0 for name, n in counts.items()}
        failed = {name: 0 if name == OK else n for name, n in counts.items()}
        ends = {"works": passed, "still at fault": failed}
        return self.problem.verification.cost, ends

    def mended(self, mends: dict[str, float], counts: Counts) -> Counts:
        after = dict(counts)
        for name, chance in mends.items():
            n = int(self.chance.binomial(counts[name], chance))
            after[name] -= n
            after[OK] += n
        return after


@pytest.mark.parametrize("mode", ["each", "block"])
@pytest.mark.parametrize("which", ["given", "drawn", "often well"])
def test_it_costs_in_the_mean_what_was_foretold(which: str, mode: Mode) -> None:
    problem = {
        "given": lambda: problem_of(PORTABLE),
        "drawn": lambda: portable(7, 7),
        "often well": lambda: problem_of("D12-no-fault-found"),
    }[which]()
    answer = solve(problem, mode, never, wants_policy=True)
    bench = Bench(problem, np.random.default_rng(20_260_101))  # noqa: TID251 - seeded
    assert answer.policy is not None

    bench.receive(answer.policy)

    mean = bench.total / bench.n_done
    error = sqrt((bench.squares / bench.n_done - mean**2) / bench.n_done)
    assert N_DEVICES == bench.n_done
    assert 0 < error < 0.01 * mean
    assert abs(mean - answer.cost) < 3 * error


def test_it_notices_a_figure_that_is_off_by_a_hundredth() -> None:
    problem = problem_of(PORTABLE)
    answer = solve(problem, "each", never, wants_policy=True)
    bench = Bench(problem, np.random.default_rng(20_260_101))  # noqa: TID251 - seeded
    assert answer.policy is not None

    bench.receive(answer.policy)

    mean = bench.total / bench.n_done
    error = sqrt((bench.squares / bench.n_done - mean**2) / bench.n_done)
    assert abs(mean - 1.01 * answer.cost) > 3 * error

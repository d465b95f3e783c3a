"""
How large a fault search is solved exactly, and what is the best strategy worth?

Run ``python benchmarks/diagnosis.py`` (about three minutes).
"""

import json
import random
import statistics
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from tests.random_models import (  # noqa: E402 - the path comes first
    Model,
    portable_model,
)

from turnscrew.core.diagnose.answer import DiagnosisAnswer  # noqa: E402
from turnscrew.core.diagnose.check import faults_in  # noqa: E402
from turnscrew.core.diagnose.compile import compact  # noqa: E402
from turnscrew.core.diagnose.problem import (  # noqa: E402
    DiagnosisProblem,
    Mode,
    Repair,
    Test,
)
from turnscrew.core.diagnose.solve import (  # noqa: E402
    MOST_WORK,
    bounds_for,
    solve,
)
from turnscrew.core.diagnose.solve.bounds import GroupBounds  # noqa: E402
from turnscrew.core.diagnose.solve.search import Search  # noqa: E402
from turnscrew.files.case_file import read_case  # noqa: E402

Sizes = tuple[int, int, int, int]
"""Faults, repairs, tests, nodes."""

SIZES: dict[Mode, tuple[Sizes, ...]] = {
    "each": ((7, 10, 5, 5), (9, 12, 6, 5), (12, 16, 8, 6), (14, 20, 8, 7)),
    "block": ((6, 9, 4, 5), (7, 10, 5, 5), (10, 14, 6, 5), (12, 16, 8, 6)),
}
LARGE: Sizes = (20, 28, 10, 8)
N_MODELS = 10
N_WORTH = 200
WITHIN_S = 1.0
LONG_S = 3.0


def drawn(seed: int, sizes: Sizes, *, times_write_off: float) -> DiagnosisProblem:
    """Draw a portable computer whose tests are all noisy."""
    faults, repairs, tests, nodes = sizes
    model = portable_model(
        random.Random(seed),
        faults=faults,
        repairs=repairs,
        tests=tests,
        nodes=nodes,
        noisy=1.0,
    )
    return posed(model, times_write_off)


def posed(model: Model, times_write_off: float) -> DiagnosisProblem:
    model["writeoff"]["cost"] *= times_write_off
    return read_case(json.dumps(model))


def timed(
    problem: DiagnosisProblem, mode: Mode, limit_s: float
) -> tuple[float, DiagnosisAnswer]:
    start = time.perf_counter()
    end = start + limit_s
    answer = solve(problem, mode, lambda: time.perf_counter() > end)
    return time.perf_counter() - start, answer


def told(sizes: Sizes) -> str:
    return "/".join(str(n) for n in sizes)


# --- sizes and bounds --------------------------------------------------------


def solved_sizes() -> None:
    print(
        f"solved within {WITHIN_S:g} s, every test noisy; faults/repairs/tests/nodes;"
    )
    print("bound before the search by the best cost found, each fault alone, in groups")
    for times, name in ((1.0, "write-off as drawn"), (1.5, "raised by half")):
        for mode, rows in SIZES.items():
            for sizes in rows:
                solved_row(mode, sizes, times, name)


def solved_row(mode: Mode, sizes: Sizes, times: float, name: str) -> None:
    seconds, gaps = [], []
    alone, grouped = [], []
    for seed in range(N_MODELS):
        problem = drawn(seed, sizes, times_write_off=times)
        took, answer = timed(problem, mode, WITHIN_S)
        seconds.append(took)
        if answer.status == "bounded":
            gaps.append(answer.gap)
        alone.append(least(problem, mode, 1) / answer.cost)
        grouped.append(least(problem, mode, MOST_WORK) / answer.cost)
    print(
        f"  {mode:<5} {told(sizes):<10} {name:<18} "
        f"solved {N_MODELS - len(gaps):>2} of {N_MODELS}, "
        f"median {statistics.median(seconds):.2f} s, longest {max(seconds):.2f} s; "
        f"bound {statistics.mean(alone):5.1%}, {statistics.mean(grouped):6.1%}"
        + (f"; other gaps {min(gaps):.1%} to {max(gaps):.1%}" if gaps else ""),
        flush=True,
    )


def least(problem: DiagnosisProblem, mode: Mode, most_work: int) -> float:
    """Bound the problem before any search."""
    whole = compact(problem)
    bounds = bounds_for(whole, mode, lambda: False, most_work)
    if not isinstance(bounds, GroupBounds):
        raise SystemExit("the models have one fault at a time")
    return Search(whole, mode, bounds, lambda: False).start().least


def large_models() -> None:
    print(f"{told(LARGE)}, after {LONG_S:g} s:")
    for mode in ("each", "block"):
        gaps, seconds = [], []
        for seed in range(N_MODELS):
            took, answer = timed(drawn(seed, LARGE, times_write_off=1.0), mode, LONG_S)
            gaps.append(answer.gap)
            seconds.append(took)
        print(
            f"  {mode:<5} gap median {statistics.median(gaps):.1%}, "
            f"from {min(gaps):.1%} to {max(gaps):.1%}, longest {max(seconds):.2f} s",
            flush=True,
        )


# --- what habits cost --------------------------------------------------------

Belief = dict[str, float]
"""Weight of each fault; what is mended is no longer in it."""

Opened = frozenset[str]


class Bench:
    """One device being worked on, a power test after every repair."""

    def __init__(self, problem: DiagnosisProblem) -> None:
        self.problem = problem
        self.nodes = {node.name: node for node in problem.nodes}

    def with_needs(self, names: Iterable[str]) -> Opened:
        found: set[str] = set()
        todo = list(names)
        while todo:
            name = todo.pop()
            if name not in found:
                found.add(name)
                todo += self.nodes[name].needs
        return frozenset(found)

    def opening(self, opened: Opened, wanted: Iterable[str]) -> tuple[float, Opened]:
        needed = self.with_needs(wanted)
        cost = sum(self.nodes[name].open_cost for name in needed - opened)
        return cost, opened | needed

    def closing(self, opened: Opened) -> float:
        return sum(self.nodes[name].close_cost for name in opened)

    def access(self, action: Test | Repair) -> float:
        """Cost of opening what an action needs from shut, and of closing it again."""
        cost, opened = self.opening(frozenset(), action.open)
        return cost + self.closing(opened)

    def write_off(self, belief: Belief) -> float:
        return self.problem.write_off.cost * sum(belief.values())

    def test(
        self, test: Test, belief: Belief, opened: Opened
    ) -> tuple[float, Opened, list[Belief]]:
        """Make a test: what it costs, what is open then, and each outcome."""
        cost, opened = self.opening(opened, test.open)
        after = [
            {name: weight * test.p[name][o] for name, weight in belief.items()}
            for o in range(len(test.outcomes))
        ]
        return (cost + test.cost) * sum(belief.values()), opened, after

    def repair(
        self, repair: Repair, belief: Belief, opened: Opened
    ) -> tuple[float, Belief]:
        """Repair, close and switch on: what it costs, and what is still at fault."""
        cost, opened = self.opening(opened, repair.open)
        cost += repair.cost + self.closing(opened) + self.problem.verification.cost
        after = {
            name: weight * (1 - repair.mends.get(name, 0.0))
            for name, weight in belief.items()
        }
        return cost * sum(belief.values()), after

    def chance(self, repair: Repair, belief: Belief) -> float:
        return sum(weight * repair.mends.get(n, 0.0) for n, weight in belief.items())

    def hopeful(self, belief: Belief, left: list[Repair]) -> list[Repair]:
        return [r for r in left if self.chance(r, belief) > 0]


Rule = Callable[[Bench], float]


def most_probable_first(bench: Bench) -> float:
    """Mend what most probably helps, until nothing is left to mend."""
    return repairs_by_chance(bench, bench.problem.faults, frozenset())


def repairs_by_chance(bench: Bench, belief: Belief, opened: Opened) -> float:
    total, left = 0.0, list(bench.problem.repairs)
    while hopeful := bench.hopeful(belief, left):
        repair = max(hopeful, key=lambda r: bench.chance(r, belief))
        cost, belief = bench.repair(repair, belief, opened)
        total, opened = total + cost, frozenset()
        left.remove(repair)
    return total + bench.write_off(belief)


def chance_by_cost(bench: Bench) -> float:
    """Mend by chance over cost with access; give up when that ratio is the best."""
    belief = dict(bench.problem.faults)
    total, left = 0.0, list(bench.problem.repairs)

    def ratio(repair: Repair) -> float:
        price = repair.cost + bench.access(repair) + bench.problem.verification.cost
        return bench.chance(repair, belief) / sum(belief.values()) / price

    while hopeful := bench.hopeful(belief, left):
        repair = max(hopeful, key=ratio)
        if ratio(repair) <= 1 / bench.problem.write_off.cost:
            break
        cost, belief = bench.repair(repair, belief, frozenset())
        total += cost
        left.remove(repair)
    return total + bench.write_off(belief)


def checklist(bench: Bench) -> float:
    """Make all tests, the cheapest first, then mend what most probably helps."""
    tests = sorted(bench.problem.tests, key=lambda test: test.cost)
    return checked(bench, tests, dict(bench.problem.faults), frozenset())


def checked(bench: Bench, tests: list[Test], belief: Belief, opened: Opened) -> float:
    if not sum(belief.values()):
        return 0.0
    if not tests:
        return repairs_by_chance(bench, belief, opened)
    cost, opened, after = bench.test(tests[0], belief, opened)
    return cost + sum(checked(bench, tests[1:], part, opened) for part in after)


class Stripper:
    """
    The best strategy of somebody who opens everything whenever anything must be open.

    Everything is tried, with a memory; nothing of the engine is used.
    """

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.known: dict[tuple[frozenset[tuple[str, int]], int, bool], float] = {}
        everything = frozenset(bench.nodes)
        self.open_all = sum(node.open_cost for node in bench.nodes.values())
        self.close_all = bench.closing(everything)

    def cost(self) -> float:
        return self.value(dict(self.bench.problem.faults), frozenset(), 0, False)

    def value(
        self,
        belief: Belief,
        made: frozenset[tuple[str, int]],
        tried: int,
        is_open: bool,
    ) -> float:
        key = (made, tried, is_open)
        if key not in self.known:
            self.known[key] = min(self.ways(belief, made, tried, is_open))
        return self.known[key]

    def ways(
        self,
        belief: Belief,
        made: frozenset[tuple[str, int]],
        tried: int,
        is_open: bool,
    ) -> Iterable[float]:
        mass = sum(belief.values())
        yield self.bench.write_off(belief)
        if mass <= 0:
            return
        problem, done = self.bench.problem, {name for name, _ in made}
        for test in problem.tests:
            if test.name not in done:
                opens = bool(test.open) and not is_open
                cost = (test.cost + (self.open_all if opens else 0.0)) * mass
                for o in range(len(test.outcomes)):
                    part = {n: w * test.p[n][o] for n, w in belief.items()}
                    after = made | {(test.name, o)}
                    cost += self.value(part, after, tried, is_open or opens)
                yield cost
        for r, repair in enumerate(problem.repairs):
            if not tried >> r & 1 and self.bench.chance(repair, belief) > 0:
                opens = bool(repair.open) and not is_open
                price = repair.cost + problem.verification.cost
                price += self.open_all if opens else 0.0
                price += self.close_all if opens or is_open else 0.0
                rest = {
                    n: w * (1 - repair.mends.get(n, 0.0)) for n, w in belief.items()
                }
                yield price * mass + self.value(rest, made, tried | 1 << r, False)


def stripped(bench: Bench) -> float:
    """Open everything whenever anything must be open; all else as well as can be."""
    return Stripper(bench).cost()


RULES: tuple[tuple[str, Rule], ...] = (
    ("most probable first, never gives up early", most_probable_first),
    ("chance by cost with access, no tests", chance_by_cost),
    ("everything opened at once, else the best", stripped),
    ("checklist of all tests, then most probable", checklist),
)


def worth() -> None:
    print(f"what habits cost over the optimum: {N_WORTH} models, mode each")
    ratios: dict[str, list[float]] = {name: [] for name, _ in RULES}
    for seed in range(N_WORTH):
        rng = random.Random(seed)
        faults, tests, nodes = rng.randint(5, 7), rng.randint(2, 4), rng.randint(3, 5)
        repairs = faults - 1 + rng.randint(0, 1)
        model = portable_model(
            rng, faults=faults, repairs=repairs, tests=tests, nodes=nodes, noisy=1.0
        )
        problem = posed(model, 1.0)
        optimum = proven(problem)
        for name, rule in RULES:
            cost = rule(Bench(problem))
            if cost < optimum * (1 - 1e-9):
                raise SystemExit(f"seed {seed}: {name} is cheaper than the optimum")
            ratios[name].append(cost / optimum)
    for name, found in ratios.items():
        ordered = sorted(found)
        print(
            f"  {name:<44} mean x{statistics.mean(found):.2f}, "
            f"9 of 10 below x{ordered[int(0.9 * len(ordered))]:.2f}, "
            f"worst x{ordered[-1]:.2f}",
            flush=True,
        )


def proven(problem: DiagnosisProblem) -> float:
    """Solve, replay and give the optimum."""
    answer = solve(problem, "each", lambda: False, wants_policy=True)
    if answer.policy is None or answer.status != "optimal":
        raise SystemExit("not proven")
    faults = faults_in(problem, answer.policy, "each", answer.cost)
    if faults:
        raise SystemExit(str(faults))
    return answer.cost


def main() -> None:
    start = time.perf_counter()
    solved_sizes()
    large_models()
    worth()
    print(f"all in {time.perf_counter() - start:.0f} s")


if __name__ == "__main__":
    main()

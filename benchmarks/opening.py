"""
How fast and how good is the opening engine, side by side with named peers?

Run ``python benchmarks/opening.py`` (about five minutes) or ``--quick``.
"""

import random
import statistics
import sys
import time
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from benchmarks.laptops import laptop  # noqa: E402 - the path comes first
from benchmarks.rules import by_listing, by_nearest, round_trip  # noqa: E402
from tests.opening_cases import bench_problem, bench_rows  # noqa: E402
from tests.oracles.opening_cpsat import cheapest  # noqa: E402

from turnscrew.core.opening.answer import NumericAnswer  # noqa: E402
from turnscrew.core.opening.check import faults_in  # noqa: E402
from turnscrew.core.opening.problem import OpeningProblem  # noqa: E402
from turnscrew.core.opening.solve import solve  # noqa: E402
from turnscrew.files.device_file import read_device  # noqa: E402
from turnscrew.flows import opening_path  # noqa: E402

EXAMPLES = (
    ("pellorin-l240", "B", ("upper case", "fan")),
    ("tavistle-v80", "2", ("camera", "loudspeaker")),
    ("grondle-r50", "K", ("keypad membrane", "display")),
)


def timed(
    problem: OpeningProblem, limit_s: float, *, one_way: bool = False
) -> tuple[NumericAnswer, float]:
    """Solve, replay and time one problem."""
    start = time.perf_counter()
    end = start + limit_s
    answer = solve(
        problem, one_way=one_way, is_time_up=lambda: time.perf_counter() > end
    )
    seconds = time.perf_counter() - start
    faults = faults_in(problem, answer, one_way=one_way)
    if faults:
        raise SystemExit(f"{problem.name}: {faults}")
    return answer, seconds


def limit_s(targets: object) -> float:
    """Give the time a row has by the wish it is measured against."""
    return 4.0 if targets == 4 else 10.0


def stored_rows() -> None:
    """Solve every stored problem both ways and compare with its reference."""
    print("stored problems: reference cost or bound; ours; seconds")
    groups: dict[tuple[int, str, str], list[tuple[float, NumericAnswer]]] = {}
    for row in bench_rows():
        problem = bench_problem(row)
        for way in ("strip", "round_trip"):
            answer, seconds = timed(
                problem, limit_s(row["targets"]), one_way=way == "strip"
            )
            reference = row[way]["cost"] or f">={row[way]['lower']:.0f}"
            if row[way]["cost"] not in (None, answer.cost):
                raise SystemExit(f"seed {row['seed']}: another optimum")
            print(
                f"{row['n']:>4} {row['targets']!s:>4} {row['seed']} {way:<10} "
                f"{reference!s:>9} {answer.cost:>7} {answer.status:<8} "
                f"gap {answer.gap:6.2%} {seconds:7.3f} s "
                f"(reference {row[way]['reference_s']:.3f} s)"
            )
            key = (row["n"], str(row["targets"]), way)
            groups.setdefault(key, []).append((seconds, answer))
    for (n, targets, way), found in groups.items():
        told(f"{n} actions, {targets} targets, {way}", found)


def told(name: str, found: Iterable[tuple[float, NumericAnswer]]) -> None:
    """Print a group's figures."""
    found = list(found)
    seconds = [s for s, _ in found]
    n_proved = sum(answer.status == "optimal" for _, answer in found)
    worst = max(answer.gap for _, answer in found)
    print(
        f"  {name}: proved {n_proved} of {len(found)}, median "
        f"{statistics.median(seconds):.3f} s, longest {max(seconds):.3f} s, "
        f"widest gap {worst:.2%}"
    )


def more_rows(n: int) -> None:
    """Solve more devices of the same kind than are stored."""
    print(f"{n} generated devices each, round trip")
    for n_actions, targets, within_s in (
        (60, 1, 10.0), (100, 2, 10.0), (200, 2, 10.0), (500, 2, 10.0),
        (100, 4, 4.0), (200, 4, 4.0), (60, None, 10.0), (100, None, 10.0),
    ):  # fmt: skip
        rng = random.Random(f"{n_actions} {targets}")
        problems = [laptop(n_actions, targets, rng) for _ in range(n)]
        name = f"{n_actions} actions, {targets or 'all'} targets, {within_s:g} s"
        told(name, [timed(p, within_s)[::-1] for p in problems])
    rng = random.Random(500)
    told("500 actions, all, 10 s", [timed(laptop(500, None, rng), 10.0)[::-1]])


def against_cp_sat(n: int, seconds: float) -> None:
    """Solve stored and generated devices with CP-SAT's circuit model."""
    print(f"against CP-SAT's circuit model, 2 workers, {seconds:g} s each")
    rng = random.Random(7)
    small = [laptop(14 + 3 * (i % 4), 1 + i % 2, rng) for i in range(n)]
    compared("generated, 14 to 24 actions", small, seconds)
    stored = [
        bench_problem(row)
        for row in bench_rows()
        if row["n"] in (60, 500) and row["targets"] in (1, 2)
    ]
    compared("stored, 60 and 500 actions, 1 and 2 targets", stored[:n], seconds)


def compared(name: str, problems: list[OpeningProblem], seconds: float) -> None:
    """Solve problems by both, assert the same optimum, print the ratios."""
    ratios, n_unproved = [], 0
    for problem in problems:
        for one_way in (True, False):
            answer, ours_s = timed(problem, 10.0, one_way=one_way)
            peer = cheapest(problem, seconds, one_way=one_way)
            is_proved = peer.status == "optimal"
            if is_proved and peer.cost != answer.cost:
                raise SystemExit(f"{problem.name}: CP-SAT finds {peer.cost}")
            ratio = peer.seconds / ours_s
            ratios += [ratio] if is_proved else []
            n_unproved += not is_proved
            words = "same optimum" if is_proved else "not proved"
            print(
                f"  {len(problem.actions)} actions, {'in' if one_way else 'round'}: "
                f"{ours_s:.4f} s, CP-SAT {peer.seconds:.2f} s {words}, x{ratio:.0f}"
            )
    print(f"  {name}: CP-SAT leaves {n_unproved} of {2 * len(problems)} unproved")
    if ratios:
        print(
            f"  where CP-SAT proves: median x{statistics.median(ratios):.0f}, "
            f"least x{min(ratios):.0f}"
        )


def worth(n: int) -> None:
    """Compare the optimum with simple rules and with separate openings."""
    rng = random.Random(200)
    rows: dict[str, list[tuple[float, float]]] = {}
    for _ in range(n):
        problem = laptop(60, 2, rng)
        answer, _ = timed(problem, 10.0)
        assert answer.cost is not None
        n_best = sum(m.kind in ("turn", "take") for m in answer.plan)
        for name, rule in (("listing order", by_listing), ("nearest", by_nearest)):
            cost, n_set_ups = round_trip(problem, rule)
            ratio = (cost / answer.cost, n_set_ups / n_best)
            rows.setdefault(name, []).append(ratio)
        apart = [
            timed(replace(problem, targets=(target,)), 10.0)[0]
            for target in problem.targets
        ]
        cost = sum(one.cost or 0 for one in apart)
        n_apart = sum(m.kind in ("turn", "take") for one in apart for m in one.plan)
        rows.setdefault("separate openings", []).append(
            (cost / answer.cost, n_apart / n_best)
        )
    print(f"worth, {n} generated devices of 60 actions, two targets (1 = the optimum)")
    for name, found in rows.items():
        times, set_ups = zip(*found, strict=True)
        print(
            f"  {name}: time x{statistics.mean(times):.2f} (worst x{max(times):.2f}), "
            f"turns and tool pick-ups x{statistics.mean(set_ups):.2f}"
        )
    for name, revision, reach in EXAMPLES:
        text = (ROOT / "examples" / f"{name}.device.yaml").read_text("utf-8")
        device = read_device(text, revision=revision)
        together = opening_path(device, reach, never).hands_on_s
        apart_s = sum(opening_path(device, (one,), never).hands_on_s for one in reach)
        print(
            f"  {device.name}, {' and '.join(reach)}: {together / 60:.1f} min in one "
            f"opening, {apart_s / 60:.1f} min in two"
        )


def never() -> bool:
    """Give all the time there is."""
    return False


def main(args: list[str]) -> None:
    """Run all parts."""
    is_quick = "--quick" in args
    parts: tuple[Callable[[], None], ...] = (
        lambda: against_cp_sat(4 if is_quick else 12, 5.0 if is_quick else 15.0),
        lambda: worth(20 if is_quick else 200),
        lambda: more_rows(2 if is_quick else 10),
        stored_rows,
    )
    for part in parts:
        part()


if __name__ == "__main__":
    main(sys.argv[1:])

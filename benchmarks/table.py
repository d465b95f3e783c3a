"""
How fast is each engine, beside a named peer, and how does it grow?

One run measures all of them and prints one table; `python3 start.py benchmark` sets up
the peers apart from the program and calls it. It writes ``benchmarks/newest.md`` with a
description of the machine, and the same table into ``README.md``::

    .venv/bin/python benchmarks/table.py [--quick]     # four minutes; ten without

Ours and peer are timed in turns, in one process, the best of several. Longer studies
of each, with their limits, are the other files of this folder.
"""

import argparse
import json
import math
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "src")]

from benchmarks import batch as batches  # noqa: E402 - the path comes first
from benchmarks import diagnosis, schedule  # noqa: E402
from benchmarks.laptops import laptop  # noqa: E402

from turnscrew.core.diagnose.solve import solve as fault_found  # noqa: E402
from turnscrew.core.opening.solve import solve as opened  # noqa: E402
from turnscrew.core.schedule.best import best_plan, figures_of  # noqa: E402
from turnscrew.core.schedule.rule import planned_by_rule  # noqa: E402

NEWEST = ROOT / "benchmarks" / "newest.md"
README = ROOT / "README.md"
BEGIN, END = "<!-- newest figures -->", "<!-- end of newest figures -->"
TURNS = 3


@dataclass(frozen=True)
class Row:
    """One line of the table; seconds, and what a peer needs."""

    task: str
    size: str
    ours_s: float
    peer: str = ""
    peer_s: float | None = None
    growth: float | None = None
    says: str = ""

    @property
    def cells(self) -> list[str]:
        ratio = "" if self.peer_s is None else f"{self.peer_s / self.ours_s:.3g}"
        return [
            self.task, self.size, time_text(self.ours_s), self.peer,
            "" if self.peer_s is None else time_text(self.peer_s), ratio,
            "" if self.growth is None else f"{self.growth:.2f}", self.says,
        ]  # fmt: skip


HEADS = (
    "task", "size", "ours", "peer", "the peer's", "ratio", "grows as n to", "besides",
)  # fmt: skip


def time_text(seconds: float) -> str:
    for unit, factor in (("s", 1.0), ("ms", 1e3)):
        if seconds * factor >= 1:
            return f"{seconds * factor:.3g} {unit}"
    return f"{seconds * 1e6:.3g} µs"


def timed(action: Callable[[], Any]) -> tuple[float, Any]:
    begun = time.perf_counter()
    answer = action()
    return time.perf_counter() - begun, answer


def in_turns(*actions: Callable[[], Any]) -> list[float]:
    """Give the best time of each action, taken one after the other several times."""
    rows = [[timed(action)[0] for action in actions] for _ in range(TURNS)]
    return [min(column) for column in zip(*rows, strict=True)]


def exponent(sizes: Sequence[float], seconds: Sequence[float]) -> float:
    return math.log(seconds[-1] / seconds[0]) / math.log(sizes[-1] / sizes[0])


def never() -> bool:
    return False


# --- the engines --------------------------------------------------------------


def opening_rows(is_quick: bool) -> Iterator[Row]:
    from oracles.opening_cpsat import cheapest  # noqa: PLC0415 - the path comes first

    rng = random.Random(7)
    small = [laptop(14 + 3 * (k % 3), 1, rng) for k in range(3 if is_quick else 6)]
    ours, theirs = [], []
    for problem in small:
        seconds, answer = min(
            (timed(lambda p=problem: opened(p)) for _ in range(TURNS)),
            key=lambda row: row[0],
        )
        peer = cheapest(problem, 8.0, one_way=False)
        assert peer.status != "optimal" or peer.cost == answer.cost
        ours.append(seconds)
        theirs.append(peer.seconds)
    yield Row(
        "opening and refit, proven", "14 to 20 actions", statistics.median(ours),
        "CP-SAT, circuit model", statistics.median(theirs),
    )  # fmt: skip
    sizes = (30, 60) if is_quick else (30, 60, 120)
    medians = []
    for n in sizes:
        rng = random.Random(n)
        problems = [laptop(n, 2, rng) for _ in range(5)]
        times = [timed(lambda p=problem: opened(p)) for problem in problems]
        medians.append(statistics.median(seconds for seconds, _ in times))
        n_proven = sum(answer.status == "optimal" for _, answer in times)
        growth = exponent(sizes, medians) if n == sizes[-1] else None
        yield Row(
            "opening and refit, two parts", f"{n} actions", medians[-1],
            growth=growth, says=f"{n_proven} of 5 proven",
        )  # fmt: skip


def diagnosis_rows(is_quick: bool) -> Iterator[Row]:
    sizes = ((7, 10, 5, 5), (9, 12, 6, 5))
    medians = []
    for size in sizes:
        problems = [
            diagnosis.drawn(seed, size, times_write_off=1.0)
            for seed in range(3 if is_quick else 8)
        ]
        times = [
            timed(lambda p=problem: fault_found(p, "each", never))[0]
            for problem in problems
        ]
        medians.append(statistics.median(times))
        growth = exponent([7, 9], medians) if size == sizes[-1] else None
        yield Row(
            "next test or repair, proven", f"{size[0]} faults, {size[2]} tests",
            medians[-1], growth=growth,
        )  # fmt: skip


def serial_rows(_is_quick: bool) -> Iterator[Row]:
    sizes, seconds = (1_000, 10_000), []
    chance = random.Random(1)
    for n in sizes:
        texts = batches.texts_of(n, chance)
        ours, theirs = in_turns(
            lambda t=texts: batches.near_pairs(t),
            lambda t=texts: batches.every_pair(t),
        )
        seconds.append(ours)
        growth = exponent(sizes, seconds) if n == sizes[-1] else None
        name = f"rapidfuzz {version('rapidfuzz')}, every pair"
        yield Row("serials nearly the same", f"{n:,}", ours, name, theirs, growth)


def batch_rows(is_quick: bool) -> Iterator[Row]:
    sizes = (100, 1_000) if is_quick else (100, 1_000, 10_000)
    seconds = []
    for n in sizes:
        contents = batches.larger(n, random.Random(n))

        def whole(contents: Any = contents) -> None:
            read = batches.read_batch_folder(contents)
            found = batches.reconciled(read.lines, read.listed)
            devices = batches.decided_devices(
                read, batches.holds_from_list(found), lambda _line: None
            )
            batches.supplied(read, devices, batches.WhatIf())

        seconds.append(min(timed(whole)[0] for _ in range(TURNS)))
        growth = exponent(sizes, seconds) if n == sizes[-1] else None
        yield Row(
            "batch read, compared, quoted, allotted", f"{n:,} devices", seconds[-1],
            growth=growth,
        )  # fmt: skip


def plan_rows(is_quick: bool) -> Iterator[Row]:
    for seed, tight in ((1, 1.0), (3, 1.6))[: 1 if is_quick else 2]:
        problem = schedule.batch(seed, tight=tight)
        rule = planned_by_rule(problem)
        ours_s, best = timed(lambda p=problem, r=rule: best_plan(p, r, 0.3))
        peer_s, peer = timed(
            lambda p=problem, r=rule: schedule.Peer(p, r).planned(None)
        )
        found = figures_of(problem, best.plan)
        theirs = None if peer is None else figures_of(problem, peer)
        says = f"{found.n_late} late, {found.n_set_ups} set-ups ({best.status})"
        if theirs is not None:
            says += f"; peer {theirs.n_late} late, {theirs.n_set_ups} set-ups"
        yield Row(
            "plan of people and days", f"{len(problem.jobs)} jobs", ours_s,
            "CP-SAT, plain intervals", peer_s, says=says,
        )  # fmt: skip


# --- what has a study of its own ----------------------------------------------


def study(name: str, *words: str) -> str:
    """Run another benchmark of this folder; give what it prints."""
    done = subprocess.run(
        [sys.executable, str(ROOT / "benchmarks" / name), *words],
        capture_output=True, text=True, check=False, cwd=ROOT,
    )  # fmt: skip
    if done.returncode:
        print(f"{name} failed:\n{done.stderr[-2000:]}", file=sys.stderr)
    return done.stdout


def fleet_rows(is_quick: bool) -> Iterator[Row]:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "fleet.json"
        study("fleet.py", "--json", str(file), *(["--quick"] if is_quick else []))
        if not file.is_file():
            return
        lines = json.loads(file.read_text("utf-8"))["lines"]
    last: dict[tuple[str, str], tuple[float, float]] = {}
    for line in lines:
        key = (line["task"], line["peer"] or "")
        growth = None
        if key in last:
            n, seconds = last[key]
            growth = exponent([n, line["rows"]], [seconds, line["ours_s"]])
        last[key] = (line["rows"], line["ours_s"])
        yield Row(
            line["task"], f"{line['rows']:,} rows", line["ours_s"], line["peer"] or "",
            line["peer_s"], growth,
        )  # fmt: skip


def report_rows(is_quick: bool) -> Iterator[Row]:
    sizes = (10_000, 100_000) if is_quick else (10_000, 100_000, 1_000_000)
    seconds = []
    for n in sizes:
        told = study("fleet_report.py", "--one", str(n))
        if not told:
            return
        one = json.loads(told)
        seconds.append(one["report_s"])
        growth = exponent(sizes, seconds) if n == sizes[-1] else None
        yield Row(
            "report on a fleet", f"{n:,} lives", one["report_s"], growth=growth,
            says=f"{one['peak_mb']:.0f} MB at most",
        )  # fmt: skip


TASKS: tuple[Callable[[bool], Iterator[Row]], ...] = (
    opening_rows, diagnosis_rows, serial_rows, batch_rows, plan_rows, fleet_rows,
    report_rows,
)  # fmt: skip


# --- the table ----------------------------------------------------------------


def table(rows: Sequence[Row]) -> list[str]:
    cells = [HEADS, *(row.cells for row in rows)]
    lines = ["| " + " | ".join(row) + " |" for row in cells]
    return [lines[0], "|" + "---|" * len(HEADS), *lines[1:]]


def machine(load_before: float, load_after: float) -> list[str]:
    from benchmarks.fleet import machine as told  # noqa: PLC0415 - wants its peers

    facts = {key: str(value) for key, value in told().items() if key != "load_1_min"}
    memory = Path("/proc/meminfo")
    if memory.exists():
        kib = int(memory.read_text("utf-8").split()[1])
        facts["memory"] = f"{kib / 2**20:.0f} GiB"
    facts["load before and after"] = f"{load_before:.1f}, {load_after:.1f}"
    return [f"- {key.replace('_', ' ')}: {value}" for key, value in facts.items()]


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__.strip().split("\n")[0])
    asked.add_argument("--quick", action="store_true", help="smaller sizes alone")
    asked.add_argument("--dry", action="store_true", help="print, write nothing")
    args = asked.parse_args()
    before = os.getloadavg()[0]
    rows: list[Row] = []
    for task in TASKS:
        for row in task(args.quick):
            rows.append(row)
            print(" | ".join(row.cells), flush=True)
    lines = table(rows)
    if args.dry:
        return 0
    day = time.strftime("%Y-%m-%d", time.gmtime())
    how = "smaller sizes" if args.quick else "all sizes"
    head = f"{day}, {how}, `python3 start.py benchmark`"
    facts = machine(before, os.getloadavg()[0])
    NEWEST.write_text(
        f"# Newest figures\n\n{head}.\n\n" + "\n".join((*facts, "", *lines)) + "\n",
        "utf-8",
    )
    text = README.read_text("utf-8")
    first, _, rest = text.partition(BEGIN)
    _, _, rest = rest.partition(END)
    where = "the machine stands in [benchmarks/newest.md](benchmarks/newest.md)"
    shown = f"{BEGIN}\n{head}; {where}.\n\n" + "\n".join(lines) + f"\n{END}"
    README.write_text(first + shown + rest, "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())

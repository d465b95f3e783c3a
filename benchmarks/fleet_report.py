"""
How long does the whole report on a fleet take, from 10,000 device-lives to 10,000,000?

Every size runs in a process of its own, so that its peak of memory is its own. The
report holds rates, places, model-years, lives, means with robust limits, outlooks,
shelf and advice; pictures and paper are timed apart. With ``--dask`` the parts are made
and kept by two processes, and the answer is laid beside that of one process. Run::

    .venv/bin/python benchmarks/fleet_report.py
    .venv/bin/python benchmarks/fleet_report.py --dask
"""

import argparse
import json
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from benchmarks.peak import peak_mib  # noqa: E402 - the path comes first

from turnscrew.cli.fleet_history import document  # noqa: E402
from turnscrew.cli.workers import spread_over  # noqa: E402
from turnscrew.core.fleet.answer import FleetReport  # noqa: E402
from turnscrew.core.reliability.table import FleetTable  # noqa: E402
from turnscrew.flows.fleet.report import fleet_report  # noqa: E402
from turnscrew.papers.fleet_report import fleet_report_pdf  # noqa: E402

CAUSES = 8
SITES = 20
PART = 1_000_000


def part_of(seed_and_n: tuple[int, int]) -> Mapping[str, FleetTable]:
    """Make some lives: half watched from a later day, one failure each in the mean."""
    seed, n = seed_and_n
    rng = np.random.default_rng(seed)  # noqa: TID251
    entry = np.where(rng.random(n) < 0.5, 0, rng.integers(1, 400, n)).astype(float)
    end = entry + rng.integers(1, 1200, n)
    unit = np.repeat(np.arange(n), rng.poisson(1, n))
    cause = rng.integers(0, CAUSES, len(unit))
    # Even causes come with age, odd ones by chance.
    place = rng.random(len(unit)) ** np.where(cause % 2, 1.0, 0.5)
    age = np.floor(entry[unit] + (end - entry)[unit] * place) + 1
    return {
        "A": FleetTable(
            unit=np.array([f"{seed}-{k}" for k in range(n)], dtype=object),
            model_year=rng.integers(2020, 2025, n),
            site=np.array([f"site {k}" for k in rng.integers(0, SITES, n)], object),
            entry_age=entry,
            end_age=end,
            weight=np.ones(n),
            causes=tuple(f"cause {k}" for k in range(CAUSES)),
            event_unit=unit,
            event_age=np.minimum(age, end[unit]),
            event_cause=cause,
            event_cost_minor=rng.integers(100, 9000, len(unit)),
            are_repeats_meant=True,
        )
    }


def parts_for(n: int) -> list[tuple[int, int]]:
    """Part a fleet into seeds and sizes."""
    return [(k, min(PART, n - k * PART)) for k in range(-(-n // PART))]


def one_size(n: int) -> dict[str, float]:
    """Time one size in this process."""
    parts = [part_of(one) for one in parts_for(n)]
    before = peak_mib()
    start = time.perf_counter()
    report = fleet_report(parts)
    told = time.perf_counter()
    fleet_report_pdf(report, title="benchmark")
    return {
        "n": n,
        "report_s": told - start,
        "paper_s": time.perf_counter() - told,
        "table_mb": before,
        "peak_mb": peak_mib(),
    }


def by_processes(n: int, engine: str) -> tuple[float, FleetReport]:
    """Time a fleet whose parts are made where they are worked on."""
    with spread_over(engine, 2) as spread:
        parts = spread.each(part_of, parts_for(n))
        if engine == "dask":
            from distributed import wait  # noqa: PLC0415 - an extra

            wait(parts)
        start = time.perf_counter()
        report = fleet_report(parts, spread=spread)
        return time.perf_counter() - start, report


def largest_difference(one: object, other: object) -> float:
    """Give the largest relative difference between two documents."""
    if isinstance(one, dict) and isinstance(other, dict):
        assert one.keys() == other.keys()
        return max((largest_difference(one[k], other[k]) for k in one), default=0.0)
    if isinstance(one, list) and isinstance(other, list):
        assert len(one) == len(other)
        pairs = zip(one, other, strict=True)
        return max((largest_difference(a, b) for a, b in pairs), default=0.0)
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) / max(abs(one), abs(other), 1e-300)
    assert one == other, (one, other)
    return 0.0


def means_of(report: FleetReport) -> dict[str, object]:
    """Give the figures of a report, curves among them."""
    curves = {}
    for model in report.models:
        assert model.number is not None and model.cost is not None
        for name, curve in (("number", model.number), ("cost", model.cost)):
            curves[f"{model.model} {name}"] = [
                curve.mean.tolist(), curve.variance.tolist(), curve.high.tolist(),
            ]  # fmt: skip
    lives = [life.curve.survival.tolist() for life in report.lives]
    return {**document(report), "curves": curves, "survival": lives}


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--dask", action="store_true")
    parser.add_argument("--one", type=int)
    asked = parser.parse_args()
    if asked.one:
        print(json.dumps(one_size(asked.one)))
        return
    if not asked.dask:
        print("lives, report [s], paper [s], tables [MB], peak [MB], us a life")
        for n in (10_000, 100_000, 1_000_000, 10_000_000):
            done = subprocess.run(
                [sys.executable, __file__, "--one", str(n)],
                capture_output=True, text=True, check=True,
            )  # fmt: skip
            told = json.loads(done.stdout)
            print(
                f"{n:,}, {told['report_s']:.2f}, {told['paper_s']:.2f}, "
                f"{told['table_mb']:.0f}, {told['peak_mb']:.0f}, "
                f"{1e6 * told['report_s'] / n:.2f}"
            )
        return
    for n in (1_000_000, 10_000_000):
        here_s, here = by_processes(n, "here")
        dask_s, dask = by_processes(n, "dask")
        off = largest_difference(means_of(here), means_of(dask))
        print(
            f"{n:,} lives: one process {here_s:.2f} s, two {dask_s:.2f} s "
            f"(ratio {here_s / dask_s:.2f}), largest relative difference {off:.1e}"
        )


if __name__ == "__main__":
    main()

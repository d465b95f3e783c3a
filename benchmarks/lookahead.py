"""
How much is lost by looking a few steps ahead, and how long does one look take?

Losses are against the optimum, on random portable models where it is proven; times are
for one decision at 20 faults, 28 repairs and 10 tests. Run::

    python benchmarks/lookahead.py [models]
"""

import json
import random
import sys
import time
from math import inf
from pathlib import Path
from statistics import fmean

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from random_models import portable_model  # noqa: E402
from turnscrew.core.diagnose.compile import compact  # noqa: E402
from turnscrew.core.diagnose.solve import (  # noqa: E402
    MOST_WORK,
    bounds_for,
    cost_of_tree,
)
from turnscrew.core.diagnose.solve.lookahead import Lookahead  # noqa: E402
from turnscrew.core.diagnose.solve.policy import looking_policy  # noqa: E402
from turnscrew.core.diagnose.solve.search import Search  # noqa: E402
from turnscrew.files.case_file import read_case  # noqa: E402


def never() -> bool:
    return False


def search_on(seed: int, mode: str, size: tuple[int, int, int, int], harder: float):
    model = portable_model(
        random.Random(seed),
        faults=size[0], repairs=size[1], tests=size[2], nodes=size[3], noisy=1.0,
    )  # fmt: skip
    model["writeoff"]["cost"] *= harder
    whole = compact(read_case(json.dumps(model)))
    work = MOST_WORK if size[0] < 15 else 200_000
    return Search(whole, mode, bounds_for(whole, mode, never, work), never)


def losses_of(seed: int, mode: str, size, harder: float) -> dict[str, float]:
    search = search_on(seed, mode, size, harder)
    best = search.value(search.start(), inf)
    fresh = search_on(seed, mode, size, harder)
    found = {"no look": Lookahead(fresh).plan(fresh.start())}
    for steps in (1, 2):
        found[f"first look {steps}"] = Lookahead(fresh).value(fresh.start(), steps, inf)
        tree = looking_policy(fresh, steps, least_share=0.002)
        found[f"looking again {steps}"] = cost_of_tree(tree)
    return {name: 100 * (cost / best - 1) for name, cost in found.items()}


def print_losses(n: int, mode: str, size, harder: float) -> None:
    rows = [losses_of(seed, mode, size, harder) for seed in range(n)]
    print(f"{mode} {'/'.join(map(str, size))}, giving up x{harder}, {n} models")
    for name in rows[0]:
        percent = [row[name] for row in rows]
        mean, worst = fmean(percent), max(percent)
        print(f"  {name:16} mean {mean:5.2f} %  worst {worst:5.2f} %")


def decision_s(seed: int, mode: str, steps: int) -> float:
    start = time.perf_counter()
    search = search_on(seed, mode, (20, 28, 10, 8), 1.5)
    lookahead = Lookahead(search)
    lookahead.best(search.start(), steps, lookahead.plan(search.start()))
    return time.perf_counter() - start


def main(n: int) -> None:
    for mode, size in (("each", (9, 12, 6, 5)), ("block", (7, 10, 5, 5))):
        for harder in (1.0, 1.5):
            print_losses(n, mode, size, harder)
    for mode in ("each", "block"):
        for steps in (1, 2):
            taken = sorted(decision_s(seed, mode, steps) for seed in range(10))
            print(
                f"{mode} 20/28/10/8, {steps} steps: median {taken[5]:.2f} s,"
                f" longest {taken[-1]:.2f} s, bounds included"
            )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)

"""
How fast are the fits and curves of a fleet, beside libraries for the same figures?

Every task is given to ours and to its peers in one process and one run: the same rows,
right censored and half of them watched from a later age, a standard error on both
sides, the best of several turns taken one after the other. Peers run with their default
options, and once more with their fastest: then one age alone is tabulated, and the
climb starts at the mean age. Where no peer was found the task is timed alone. Memory is
not measured: a peak is told of a whole process alone. Run it in an environment with
``requirements/peers.txt``::

    python -m pip install --require-hashes -r requirements/peers.txt
    PYTHONPATH=src python benchmarks/fleet.py [--quick] [--json FILE]

"""

import argparse
import gc
import json
import os
import platform
import sys
import time
import warnings
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass, field
from functools import partial
from importlib.metadata import version
from pathlib import Path

import lifelines
import numpy as np
from statsmodels.duration.survfunc import SurvfuncRight

from turnscrew.core.reliability.curves import (
    SurvivalCurve,
    cumulative_hazard,
    survival_curve,
)
from turnscrew.core.reliability.exponential import fit_exponential
from turnscrew.core.reliability.fit import LifeFit, Quantity
from turnscrew.core.reliability.lives import Floats, Lives, Recurrences, lives_of
from turnscrew.core.reliability.lognormal import fit_lognormal
from turnscrew.core.reliability.recurrence import MeanVariance, mean_cumulative
from turnscrew.core.reliability.weibull import fit_weibull

SEED = 20_261_127
N_UNITS = 250_000
TURNS = {1_000: 15, 100_000: 5, 1_000_000: 3}
PACKAGES = ("numpy", "scipy", "lifelines", "statsmodels")
Answer = list[Floats]


@dataclass
class Peer:
    """A peer, its call, and the same figures out of its result and of ours."""

    name: str
    call: Callable[[], object]
    theirs: Callable[[object], Answer]
    ours: Callable[[object], Answer]


@dataclass
class Task:
    """A task, our call, its peers and what is wished of it."""

    name: str
    n_rows: int
    call: Callable[[], object]
    peers: list[Peer] = field(default_factory=list)
    least_ratio: float | None = None
    most_s: float | None = None


@dataclass
class Line:
    """What one task took on both sides."""

    task: str
    rows: int
    ours_s: float
    peer: str | None = None
    peer_s: float | None = None
    ratio: float | None = None
    difference: float | None = None
    wish: str = ""


def drawn_lives(n: int, *, is_whole: bool = False, is_weighted: bool = False) -> Lives:
    """Draw lives of a Weibull law of shape 1.8, half of them watched from later on."""
    rng = np.random.default_rng(SEED)  # noqa: TID251
    many = 2 * n + 100
    age = 1000 * rng.weibull(1.8, many)
    entry = np.where(rng.random(many) < 0.5, rng.uniform(0, 600, many), 0.0)
    end = entry + rng.uniform(100, 1200, many)
    if is_whole:
        age, entry, end = np.ceil(age), np.floor(entry), np.ceil(end)
    kept = np.flatnonzero(age > entry)[:n]
    age, entry, end = age[kept], entry[kept], end[kept]
    weight = rng.integers(1, 5, n).astype(float) if is_weighted else None
    return lives_of(np.minimum(age, end), age <= end, entry=entry, weight=weight)


def drawn_events(n: int, *, is_whole: bool) -> Recurrences:
    """Draw failures evenly over the watches of units, half of them late comers."""
    rng = np.random.default_rng(SEED)  # noqa: TID251
    entry = np.where(rng.random(N_UNITS) < 0.5, rng.uniform(0, 600, N_UNITS), 0.0)
    end = entry + rng.uniform(100, 1200, N_UNITS)
    if is_whole:
        entry, end = np.floor(entry), np.ceil(end)
    unit = rng.integers(0, N_UNITS, n)
    age = entry[unit] + (end - entry)[unit] * (1 - rng.random(n))
    return Recurrences(end, unit, np.ceil(age) if is_whole else age, entry)


def figures_of(*names: Quantity) -> Callable[[object], Answer]:
    def ours(fit: object) -> Answer:
        assert isinstance(fit, LifeFit)
        told = [fit.told(name, None) for name in names]
        return [np.array([one for pair in told if pair for one in pair])]

    return ours


def their_figures(*names: str) -> Callable[[object], Answer]:
    def theirs(fit: object) -> Answer:
        table = fit.summary.loc[list(names), ["coef", "se(coef)"]]
        return [table.to_numpy().ravel()]

    return theirs


def fit_peers(
    fitter: Callable[[], object],
    lives: Lives,
    names: tuple[str, ...],
    ours: Callable[[object], Answer],
) -> list[Peer]:
    def default() -> object:
        return fitter().fit(lives.exit, lives.is_event, entry=lives.entry)

    def fastest() -> object:
        start = [lives.exit.mean(), 1.0][: len(names)]
        if fitter is lifelines.LogNormalFitter:
            start[0] = float(np.log(start[0]))
        return fitter().fit(
            lives.exit, lives.is_event, entry=lives.entry, timeline=[1.0],
            initial_point=np.array(start),
        )  # fmt: skip

    return [
        Peer("lifelines, defaults", default, their_figures(*names), ours),
        Peer("lifelines, fastest", fastest, their_figures(*names), ours),
    ]


def kaplan_meier(lives: Lives) -> Peer:
    def call() -> object:
        return lifelines.KaplanMeierFitter().fit(
            lives.exit, lives.is_event, entry=lives.entry, weights=lives.weight
        )

    def theirs(fit: object) -> Answer:
        ages = np.unique(lives.exit[lives.is_event])
        limits = fit.confidence_interval_survival_function_.loc[ages].to_numpy()
        return [fit.survival_function_.loc[ages].to_numpy().ravel(), *limits.T]

    def ours(curve: object) -> Answer:
        assert isinstance(curve, SurvivalCurve)
        return [curve.survival, curve.low, curve.high]

    return Peer("lifelines, defaults", call, theirs, ours)


def right_survival(lives: Lives) -> Peer:
    status = lives.is_event.astype(np.int64)

    def theirs(curve: object) -> Answer:
        return [curve.surv_prob, curve.surv_prob_se]

    return Peer(
        "statsmodels",
        lambda: SurvfuncRight(lives.exit, status, entry=lives.entry),
        theirs,
        lambda curve: [curve.survival, curve.standard_error],
    )


def nelson_aalen(lives: Lives) -> Peer:
    def call() -> object:
        fitter = lifelines.NelsonAalenFitter(nelson_aalen_smoothing=False)
        return fitter.fit(lives.exit, lives.is_event, entry=lives.entry)

    def theirs(fit: object) -> Answer:
        ages = np.unique(lives.exit[lives.is_event])
        return [fit.cumulative_hazard_.loc[ages].to_numpy().ravel()]

    # Its limits stand on another variance, so that the hazard alone is compared.
    return Peer("lifelines, ties together", call, theirs, lambda curve: [curve.hazard])


def fit_tasks(sizes: list[int]) -> Iterator[Task]:
    for n in sizes:
        lives = drawn_lives(n)
        peers = fit_peers(
            lifelines.WeibullFitter, lives, ("lambda_", "rho_"),
            figures_of("scale", "shape"),
        )  # fmt: skip
        least = {1_000: 300.0, 1_000_000: 50.0}.get(n)
        yield Task("Weibull fit", n, partial(fit_weibull, lives), peers, least)
    lives = drawn_lives(100_000)
    peers = fit_peers(
        lifelines.LogNormalFitter, lives, ("mu_", "sigma_"), figures_of("mu", "sigma")
    )
    yield Task("log-normal fit", lives.n_rows, partial(fit_lognormal, lives), peers)
    peers = fit_peers(
        lifelines.ExponentialFitter, lives, ("lambda_",), figures_of("scale")
    )
    yield Task("exponential fit", lives.n_rows, partial(fit_exponential, lives), peers)


def curve_tasks(sizes: list[int]) -> Iterator[Task]:
    for n in sizes:
        lives = drawn_lives(n)
        peers = [kaplan_meier(lives), right_survival(lives)]
        yield Task("survival curve", n, partial(survival_curve, lives), peers, 10.0)
    most = max(sizes)
    whole = drawn_lives(most, is_whole=True)
    peers = [kaplan_meier(whole), right_survival(whole)]
    call = partial(survival_curve, whole)
    yield Task("survival curve, whole days", most, call, peers)
    weighed = drawn_lives(most, is_weighted=True)
    call = partial(survival_curve, weighed)
    yield Task("survival curve, weights", most, call, [kaplan_meier(weighed)])
    lives = drawn_lives(most)
    call = partial(cumulative_hazard, lives)
    yield Task("cumulative hazard", most, call, [nelson_aalen(lives)])


def mean_tasks(sizes: list[int]) -> Iterator[Task]:
    most = max(sizes)
    rules: tuple[MeanVariance, ...] = ("robust (Lawless-Nadeau)", "Poisson")
    for is_whole in (True, False):
        fleet = drawn_events(most, is_whole=is_whole)
        for rule in rules:
            name = f"mean function, {rule}, " + ("whole days" if is_whole else "spread")
            call = partial(mean_cumulative, fleet, variance=rule)
            yield Task(name, most, call, most_s=1.0)


def seconds(call: Callable[[], object]) -> tuple[float, object]:
    """Call until a fiftieth of a second has passed, and tell the mean of the calls."""
    n_calls, took = 0, 0.0
    start = time.perf_counter()
    while took < 0.02:
        found = call()
        n_calls += 1
        took = time.perf_counter() - start
    return took / n_calls, found


def difference(one: Answer, other: Answer) -> float:
    """Give the greatest relative difference of figures that both sides tell."""
    worst = 0.0
    for mine, theirs in zip(one, other, strict=True):
        assert mine.shape == theirs.shape, (mine.shape, theirs.shape)
        told = np.isfinite(mine) & np.isfinite(theirs) & (np.abs(mine) > 1e-12)
        off = np.abs(mine - theirs)[told] / np.abs(mine)[told]
        worst = max(worst, float(off.max(initial=0.0)))
    return worst


def lines_of(task: Task) -> list[Line]:
    gc.collect()
    ours_s = float("inf")
    peers_s = [float("inf")] * len(task.peers)
    off = [0.0] * len(task.peers)
    for _ in range(TURNS[task.n_rows]):
        took, mine = seconds(task.call)
        ours_s = min(ours_s, took)
        for at, peer in enumerate(task.peers):
            took, found = seconds(peer.call)
            peers_s[at] = min(peers_s[at], took)
            off[at] = difference(peer.ours(mine), peer.theirs(found))
    if not task.peers:
        wish = f"at most {task.most_s:g} s: {_told(ours_s <= (task.most_s or 0))}"
        return [Line(task.name, task.n_rows, ours_s, wish=wish)]
    # The wish is held against the fastest peer, fastest setting and all.
    best = min(peers_s)
    lines = []
    for at, peer in enumerate(task.peers):
        wish = ""
        if task.least_ratio and peers_s[at] == best:
            is_met = best / ours_s >= task.least_ratio
            wish = f"at least {task.least_ratio:g} x: {_told(is_met)}"
        lines.append(
            Line(
                task.name,
                task.n_rows,
                ours_s,
                peer.name,
                peers_s[at],
                peers_s[at] / ours_s,
                off[at],
                wish,
            )
        )
    return lines


def _told(is_met: bool) -> str:
    return "met" if is_met else "missed"


def text_of(line: Line) -> str:
    head = f"{line.task:<48} {line.rows:>9,} {line.ours_s:>10.6f}"
    if line.peer is None:
        return f"{head}  no peer with ages of entry  {line.wish}"
    return (
        f"{head}  {line.peer:<25} {line.peer_s:>10.6f}"
        f" {line.ratio:>8.1f} {line.difference:>9.1e}  {line.wish}"
    )


def machine() -> dict[str, object]:
    info = Path("/proc/cpuinfo")
    models = [
        row.split(":")[1].strip()
        for row in (info.read_text("utf-8").splitlines() if info.exists() else ())
        if row.startswith("model name")
    ]
    return {
        "processor": models[0] if models else platform.processor(),
        "n_cores": os.cpu_count(),
        "system": platform.system(),
        "python": platform.python_version(),
        "load_1_min": os.getloadavg()[0],
        **{name: version(name) for name in PACKAGES},
    }


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__.strip().split("\n")[0])
    asked.add_argument("--quick", action="store_true", help="leave out 1,000,000 rows")
    asked.add_argument("--json", type=Path, help="write the figures here, too")
    args = asked.parse_args()
    warnings.simplefilter("ignore")
    sizes = [1_000, 100_000] if args.quick else [1_000, 100_000, 1_000_000]
    before = machine()
    print(", ".join(f"{name} {what}" for name, what in before.items()))
    print(
        f"{'task':<48} {'rows':>9} {'ours s':>10}  {'peer':<25}"
        f" {'peer s':>10} {'ratio':>8} {'differ':>9}  wish"
    )
    lines: list[Line] = []
    for tasks in (fit_tasks, curve_tasks, mean_tasks):
        for task in tasks(sizes):
            for line in lines_of(task):
                lines.append(line)
                print(text_of(line), flush=True)
    after = os.getloadavg()[0]
    print(f"load {before['load_1_min']:.2f} before, {after:.2f} after")
    if args.json:
        told = {
            "machine": before,
            "load_after": after,
            "lines": list(map(asdict, lines)),
        }
        args.json.write_text(json.dumps(told, indent=1) + "\n", "utf-8")
    # Other answers than the peers' are a fault, however fast.
    return 0 if all((line.difference or 0) < 1e-4 for line in lines) else 1


if __name__ == "__main__":
    sys.exit(main())

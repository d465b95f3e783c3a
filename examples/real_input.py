"""
What do the engines say of published input, beside the figures printed there?

    .venv/bin/python examples/real_input.py troubleshooting
    .venv/bin/python examples/real_input.py sequencing
    .venv/bin/python examples/real_input.py late-jobs
    .venv/bin/python examples/real_input.py shelf          # two minutes

Sources stand beside the data in ``data/published`` and ``data/LICENCES.md``; what comes
out is explained in ``docs/real-input.md``.
"""

import csv
import json
import sys
from collections.abc import Callable, Mapping, Sequence
from math import ceil
from pathlib import Path
from statistics import fmean
from typing import Any, NamedTuple

from turnscrew.core.diagnose.solve import solve as fault_found
from turnscrew.core.diagnose.tree import rolled_back
from turnscrew.core.opening.check import faults_in as faults_in_opening
from turnscrew.core.opening.problem import Act, Guard, Mode, OpeningProblem
from turnscrew.core.opening.solve import solve as opened
from turnscrew.core.schedule.best import BestPlan, best_plan
from turnscrew.core.schedule.check import faults_in as faults_in_plan
from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule
from turnscrew.core.stock.intermittent import (
    Method,
    intermittent_forecast,
    predict_demand,
)
from turnscrew.core.stock.laws import Poisson
from turnscrew.core.stock.service import newsvendor, stock_level
from turnscrew.files.case_file import read_case, read_tree

DATA = Path(__file__).resolve().parents[1] / "data"

N_YEAR, LEAD, TARGET = 12, 1, 0.95
"""Months played, months until a parcel comes, share to be served at once."""

EVERY = 6
"""One part in so many is played. [1]"""

HOLDING, WAITING = 0.02, 5.0
"""Cost of holding a piece for a month and of a piece waited for, a piece costing 1."""


class Figure(NamedTuple):
    """What was printed elsewhere, and what comes out here."""

    name: str
    printed: float
    here: float
    proof: str


class Shelf(NamedTuple):
    """What a rule of ordering did in a year."""

    name: str
    served: float
    held: float
    ordered: float
    cost: float


def published(name: str) -> Any:
    """Read a file of published examples."""
    return json.loads((DATA / "published" / name).read_text("utf-8"))


def troubleshooting() -> list[Figure]:
    """Reckon the published models of finding a fault."""
    found = []
    for case in published("troubleshooting.json")["cases"]:
        text = json.dumps(case["model"])
        tree = read_tree(text)
        if tree is not None:
            here, proof = min(rolled_back(tree).values()), "rolled back"
        else:
            answer = fault_found(read_case(text), "each", lambda: False)
            assert answer.cost is not None
            here, proof = answer.cost, answer.status
        if case["name"] == "a sequence of tests":
            here -= 100.0
        found.append(Figure(case["name"], case["printed"], here, proof))
    return found


def as_opening(name: str) -> OpeningProblem:
    """
    Make every city a posture of its own with one action in it.

    A city may be left only once its action is done, so none is passed through undone.
    A cost of -1 from row to column says that the column comes before the row.
    """
    rows = published("sequencing.json")[name]["rows"]
    cities = [f"c{i}" for i in range(len(rows))]
    acts = []
    for i, row in enumerate(rows):
        mode = Mode((cities[i],), None, 0)
        needs = tuple((cities[j],) for j, cost in enumerate(row) if cost == -1)
        acts.append(Act(cities[i], needs, (mode,), (mode,)))
    guards = tuple(
        Guard(start, end, ((start,),))
        for start in cities
        for end in cities
        if start != end
    )
    return OpeningProblem(
        name=name,
        unit="as published",
        postures=tuple(cities),
        posture_cost=tuple(
            tuple(None if cost == -1 else cost for cost in row) for row in rows
        ),
        guards=guards,
        tools=("none",),
        tool_cost=((0,),),
        start_posture=cities[0],
        start_tool="none",
        end_posture=cities[0],
        targets=(cities[-1],),
        actions=tuple(acts),
    )


def sequencing() -> list[Figure]:
    """Put the published cities in order as if they were joints of a device."""
    found = []
    for name, case in sorted(published("sequencing.json").items()):
        problem = as_opening(name)
        answer = opened(problem, one_way=True)
        assert answer.cost is not None
        assert () == faults_in_opening(problem, answer, one_way=True)
        found.append(Figure(name, case["published"], answer.cost, answer.status))
    return found


def on_one_bench(jobs: list[list[int]]) -> ScheduleProblem:
    """
    Make jobs with due times a day's work of one bench.

    A job due at d of a day of c minutes is charged for c - d, and done the same day if
    and only if the work ends by d.
    """
    length = max(sum(p for p, _ in jobs), *(d for _, d in jobs))
    return ScheduleProblem(
        tuple(
            Job(n, "k", p, 1, due_day=1, charge_minutes=length - d)
            for n, (p, d) in enumerate(jobs)
        ),
        (Bench("machine", length),),
    )


def late_jobs() -> list[Figure]:
    """Plan the published jobs with as few late as can be."""
    found = []
    for case in published("late-jobs.json")["cases"]:
        problem = on_one_bench(case["jobs"])
        best: BestPlan = best_plan(problem, planned_by_rule(problem), 2.0)
        assert () == faults_in_plan(problem, best.plan)
        here = best.figures.n_late
        found.append(Figure(case["name"], case["published"], here, best.status))
    return found


def series() -> list[list[int]]:
    """Read the parts that have a demand in every month of the file, one in six."""
    with (DATA / "spares_demand.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))[1:]
    whole = [[int(cell) for cell in row[1:]] for row in rows if all(row[1:])]
    return whole[::EVERY]


Level = Callable[[Sequence[int]], int]
"""Gives the pieces on hand and on order that a rule wishes, from the months known."""


def ours_by_service(known: Sequence[int]) -> int:
    """Give the level at which 95 % of all pieces are served at once."""
    law = predict_demand(known, periods=LEAD + 1).law
    return stock_level(law, target=TARGET, measure="unit fill").stock


def ours_by_cost(known: Sequence[int]) -> int:
    """Give the level at which holding and waiting cost least."""
    law = predict_demand(known, periods=LEAD + 1).law
    return newsvendor(law, holding=HOLDING * (LEAD + 1), shortage=WAITING).stock


def forecast_by(method: Method) -> Level:
    """Give the rule of a point forecast with a Poisson law around it."""

    def level(known: Sequence[int]) -> int:
        mean = intermittent_forecast(known, method=method, alpha=0.1).forecast
        law = Poisson(max(mean * (LEAD + 1), 1e-9))
        return stock_level(law, target=TARGET, measure="unit fill").stock

    return level


def two_months(known: Sequence[int]) -> int:
    """Give the habit of many shelves: twice the need of lead time, from last year."""
    return ceil(2 * fmean(known[-12:]) * (LEAD + 1))


RULES: Mapping[str, Level] = {
    "ours, 95 % at once": ours_by_service,
    "ours, least cost": ours_by_cost,
    "Croston": forecast_by("croston"),
    "Syntetos and Boylan": forecast_by("sba"),
    "Teunter, Syntetos, Babai": forecast_by("tsb"),
    "twice the need of last year": two_months,
}


def year_of(demand: Sequence[int], level: Level) -> tuple[int, float, int, int]:
    """Play the last year month by month; what is wanted and not there waits."""
    start = len(demand) - N_YEAR
    on_hand = position = level(demand[:start])
    coming = [0] * (N_YEAR + LEAD + 1)
    served = ordered = waited = 0
    held = 0.0
    for month in range(N_YEAR):
        on_hand += coming[month]
        order = max(level(demand[: start + month]) - position, 0)
        coming[month + LEAD] += order
        wanted = demand[start + month]
        at_once = min(max(on_hand, 0), wanted)
        position += order - wanted
        on_hand -= wanted
        served += at_once
        waited += wanted - at_once
        ordered += order
        held += max(on_hand, 0)
    return served, held / N_YEAR, ordered, waited


def shelf() -> list[Shelf]:
    """Order for a year by each rule, for one part in six of the file."""
    parts = series()
    n_wanted = sum(sum(one[-N_YEAR:]) for one in parts)
    found = []
    for name, level in RULES.items():
        rows = [year_of(one, level) for one in parts]
        served, held, ordered, waited = (
            sum(column) for column in zip(*rows, strict=True)
        )
        cost = HOLDING * held * N_YEAR + WAITING * waited
        found.append(Shelf(name, served / n_wanted, held, ordered, cost))
    return found


def told(name: str) -> list[str]:
    """Write one example as the lines it prints."""
    if name == "shelf":
        return [
            f"{one.name:<28} {one.served:6.1%} at once, {one.held:7.0f} held, "
            f"{one.ordered:6.0f} ordered, cost {one.cost:7.0f}"
            for one in shelf()
        ]
    return [
        f"{one.name:<32} printed {one.printed:9.2f}   "
        f"here {one.here:12.6f}   {one.proof}"
        for one in EXAMPLES[name]()
    ]


EXAMPLES: Mapping[str, Callable[[], list[Figure]]] = {
    "troubleshooting": troubleshooting,
    "sequencing": sequencing,
    "late-jobs": late_jobs,
}


def main(args: list[str]) -> int:
    if len(args) != 1 or args[0] not in {*EXAMPLES, "shelf"}:
        print(__doc__, file=sys.stderr)
        return 2
    print("\n".join(told(args[0])))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""
What is the advice worth against habits, on the example families?

For every family and sign, devices are drawn by the belief after the sign. The same
devices go through the advice and through four habits; minutes, money and access are
priced alike, outcomes are drawn with one stream of chance for each. Run::

    python benchmarks/worth.py [devices for each sign]
"""

import random
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import fmean

from turnscrew.core.diagnose.access import access_of
from turnscrew.core.diagnose.answer import Leaf, Policy
from turnscrew.core.diagnose.evidence import Evidence, belief_after
from turnscrew.core.diagnose.pose import pose, reaches_of
from turnscrew.core.diagnose.problem import DiagnosisProblem
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.faults_file import read_faults
from turnscrew.flows.diagnosis import diagnosed, layering

EXAMPLES = Path(__file__).parents[1] / "examples"
OK = ""


class Job:
    """One device on the bench, with what its habit knows and has spent."""

    def __init__(self, problem: DiagnosisProblem, fault: str, rng: random.Random):
        self.problem, self.fault, self.rng = problem, fault, rng
        self.access = access_of(problem.nodes)
        self.shut = self.access.shut(problem.verification.closed)
        self.open_set, self.cost, self.is_over = 0, 0.0, False
        self.belief = {**problem.faults, OK: problem.p_ok}
        self.used: set[str] = set()

    def _move(self, need, shut) -> None:
        move = self.access.move(
            self.open_set, self.access.opened(need), self.access.shut(shut)
        )
        self.open_set, self.cost = move.open_set, self.cost + move.cost

    def test(self, test) -> str:
        self._move(test.open, test.closed)
        self.cost += test.cost
        self.used.add(test.name)
        row = test.p_ok if self.fault == OK else test.p[self.fault]
        o = self.rng.choices(range(len(row)), row)[0]
        for name in self.belief:
            self.belief[name] *= (test.p_ok if name == OK else test.p[name])[o]
        return test.outcomes[o]

    def repair(self, repair) -> None:
        self._move(repair.open, repair.closed)
        self.cost += repair.cost
        self.used.add(repair.name)
        if self.fault != OK and self.rng.random() < repair.mends.get(self.fault, 0.0):
            self.fault = OK
            self.cost += repair.keep_cost
        for name, chance in repair.mends.items():
            self.belief[OK] += self.belief[name] * chance
            self.belief[name] *= 1 - chance

    def verify(self) -> bool:
        self._move((), self.problem.verification.closed)
        self.cost += self.problem.verification.cost
        if self.fault == OK:
            self.cost += self.access.closing(self.open_set)
            self.is_over = True
        self.belief[OK] = 0.0
        return self.is_over

    def give_up(self) -> None:
        self.cost += self.problem.write_off.cost
        self.is_over = True

    def left(self):
        mass = sum(self.belief.values()) or 1.0
        for repair in self.problem.repairs:
            if repair.name not in self.used:
                p = sum(self.belief[f] * c for f, c in repair.mends.items()) / mass
                move = self.access.move(
                    self.open_set, self.access.opened(repair.open), 0
                )
                yield p, move.cost + self.access.closing(move.open_set), repair

    def try_in_order(self, key: Callable[..., float], least: float = 0.0) -> None:
        while not self.is_over:
            ranked = [x for x in self.left() if x[0] > least]
            if not ranked:
                self.give_up()
                return
            self.repair(max(ranked, key=key)[2])
            self.verify()


def checklist(job: Job) -> None:
    """Every test outside in the order of the table, then the likeliest exchange."""
    for test in job.problem.tests:
        if not test.open:
            job.test(test)
    job.try_in_order(lambda x: x[0], 0.02)


def by_ratio(job: Job) -> None:
    """The exchange with most chance a minute, access included, without tests."""
    job.try_in_order(
        lambda x: x[0] / (x[1] + x[2].cost + job.problem.verification.cost), 0.02
    )


def swap_likeliest(job: Job) -> None:
    """The exchange that most likely mends, whatever it costs."""
    job.try_in_order(lambda x: x[0], 0.02)


def open_fully(job: Job) -> None:
    """Everything open, every test in the order of the table, then the likeliest."""
    job._move(tuple(node.name for node in job.problem.nodes), ())
    for test in job.problem.tests:
        if not test.closed:
            job.test(test)
    job.try_in_order(lambda x: x[0], 0.02)


def advice(policy: Policy) -> Callable[[Job], None]:
    def follow(job: Job) -> None:
        at = policy
        tests = {test.name: test for test in job.problem.tests}
        repairs = {repair.name: repair for repair in job.problem.repairs}
        while not isinstance(at, Leaf):
            if at.kind == "test":
                said = job.test(tests[at.action])
            elif at.kind == "repair":
                job.repair(repairs[at.action])
                said = at.branches[0][0]
            else:
                said = "works" if job.verify() else "still at fault"
            at = {name: rest for name, _, rest in at.branches}[said]
        if at.kind != "works":
            job.give_up()

    return follow


def half_a_second() -> Callable[[], bool]:
    end = time.monotonic() + 0.5
    return lambda: time.monotonic() > end


def main(n: int) -> None:
    for path in sorted(EXAMPLES.rglob("*.faults.yaml")):
        text = path.with_name(path.name.replace("faults", "device")).read_text("utf-8")
        devices = {r: (read_device(text, revision=r), 1.0) for r in revisions_in(text)}
        table = read_faults(path.read_text("utf-8"))
        layers = layering(devices, reaches_of(table), lambda: False)
        weights = table.weights
        spent: dict[str, list[float]] = {}
        for sign in table.signs:
            evidence = Evidence((sign,))
            belief = belief_after(table, weights, evidence)
            problem = pose(table, layers, belief, evidence).problem
            answer = diagnosed(
                problem, "block", half_a_second(), most_work=60_000, wants_policy=True
            )
            assert answer.policy is not None
            habits = {
                "advice": advice(answer.policy),
                "fixed checklist": checklist,
                "chance per minute": by_ratio,
                "always open fully": open_fully,
                "swap the likeliest": swap_likeliest,
            }
            names = [*problem.faults, OK]
            shares = [*problem.faults.values(), problem.p_ok]
            for i in range(n):
                fault = random.Random(i).choices(names, shares)[0]
                for name, habit in habits.items():
                    job = Job(problem, fault, random.Random(1000 + i))
                    habit(job)
                    spent.setdefault(name, []).append(job.cost)
        base = fmean(spent["advice"])
        print(f"{table.family}, {len(table.signs)} signs, {n} devices each")
        for name, costs in spent.items():
            print(f"  {name:20} {fmean(costs):6.1f} min  x{fmean(costs) / base:.2f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)

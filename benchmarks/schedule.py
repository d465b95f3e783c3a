"""
What does the best plan gain over the hand rule, and over a plain model of intervals?

Generated batches like a workshop's: 57 devices, a lead and a helper (pace 1.30), some
eighteen kinds of 26 to 86 min, one kind only the lead may do, parts there on days 1 to
7, due days 4, 7 and 10; two donors. In one run each batch is planned by the hand rule,
by the engine and by its peer, CP-SAT with one optional interval for each job and person
and the same order of aims, begun from the hand rule, with the same effort
and then for ten seconds on all cores. Every plan is replayed. Run::

    python benchmarks/schedule.py [effort]
"""

import random
import sys
import time
from decimal import Decimal

from ortools.sat.python import cp_model

from turnscrew.core.schedule.best import best_plan, figures_of
from turnscrew.core.schedule.check import faults_in
from turnscrew.core.schedule.plan import Plan, Slot
from turnscrew.core.schedule.problem import (
    TICKS,
    Bench,
    Job,
    ScheduleProblem,
    receiving,
)
from turnscrew.core.schedule.rule import planned_by_rule

DAY_MINUTES = 330
CHARGE = 60
PEER_S = 10


def batch(seed: int, n_jobs: int = 57, tight: float = 1.0) -> ScheduleProblem:
    """Draw a batch; tight multiplies the minutes of every job."""
    rng = random.Random(seed)
    kinds = [
        (f"kind {i}", round(rng.randint(26, 86) * tight), rng.choice((0, CHARGE)))
        for i in range(18)
    ]
    weights = [1 / (i + 1) for i in range(len(kinds))]
    jobs = [Job(n, "strip", 30, 10, release_day=1) for n in (1, 2)]
    for name in range(3, n_jobs + 1):
        kind, minutes, charge = rng.choices(kinds, weights)[0]
        due = rng.choice((4, 7, 7, 10))
        release = rng.choice((1, 1, 1, rng.randint(1, max(1, due - 2))))
        jobs.append(
            Job(
                name=name,
                kind=kind,
                minutes=minutes,
                rank_day=due,
                due_day=due,
                release_day=release,
                after=(rng.choice((1, 2)),) if rng.random() < 0.1 else (),
                skills=frozenset({"board"} if kind == "kind 3" else ()),
                charge_minutes=charge,
            )
        )
    benches = (
        Bench("lead", DAY_MINUTES, skills=frozenset({"board"})),
        Bench("helper", DAY_MINUTES, Decimal("1.30")),
    )
    return ScheduleProblem(tuple(jobs), benches, receiving(benches, 4 * n_jobs))


class Peer:
    """One optional interval for each job and person, one circuit for each person."""

    def __init__(self, problem: ScheduleProblem, start: Plan):
        self.problem, self.model = problem, cp_model.CpModel()
        self.home = problem.closing_ticks(1)
        self.last_day = start.last_day + 1
        self.by = {(j.name, b.person): None for j in problem.jobs for b in self.able(j)}
        self.day, self.at, self.end = {}, {}, {}
        self.begin, self.finish = {}, {}
        self.lates, self.late_days, self.changes = [], [], []
        for job in problem.jobs:
            self._place(job)
        for job in problem.jobs:
            for name in job.after:
                self.model.add(self.begin[job.name] >= self.finish[name])
        for bench in problem.benches:
            self._sequence(bench)
        self._hint(start)

    def able(self, job: Job) -> list[Bench]:
        return [b for b in self.problem.benches if b.may_do(job)]

    def _place(self, job: Job) -> None:
        new, add, name = self.model.new_int_var, self.model.add, job.name
        self.day[name] = new(job.release_day, self.last_day, "")
        self.at[name], self.end[name] = (new(0, self.home, "") for _ in range(2))
        latest = (self.last_day + 1) * self.home
        for whole, part in ((self.begin, self.at), (self.finish, self.end)):
            whole[name] = new(0, latest, "")
            add(whole[name] == self.day[name] * self.home + part[name])
        for bench in self.able(job):
            does = self.by[name, bench.person] = self.model.new_bool_var("")
            lasts = bench.ticks_for(job)
            add(self.end[name] == self.at[name] + lasts).only_enforce_if(does)
            for (person, day), ticks in self.problem.taken.items():
                if person == bench.person:
                    open_at = day * self.home + ticks
                    add(self.begin[name] >= open_at).only_enforce_if(does)
        self.model.add_exactly_one(self.by[name, b.person] for b in self.able(job))
        if job.due_day is None:
            return
        waits = self.model.new_bool_var("")
        charged = self.end[name] + job.charge_minutes * TICKS
        if job.charge_minutes:
            add(charged <= self.home).only_enforce_if(~waits)
        days, late = new(0, self.last_day, ""), self.model.new_bool_var("")
        add(days >= self.day[name] + waits - job.due_day)
        add(days <= self.last_day * late)
        self.lates.append(late)
        self.late_days.append(days)

    def _sequence(self, bench: Bench) -> None:
        jobs = [j for j in self.problem.jobs if bench.may_do(j)]
        spans, arcs = [], [(0, 0, self.model.new_bool_var("idle"))]
        for i, job in enumerate(jobs, 1):
            does = self.by[job.name, bench.person]
            lasts = bench.ticks_for(job)
            begin, end = self.begin[job.name], self.finish[job.name]
            span = self.model.new_optional_interval_var(begin, lasts, end, does, "")
            spans.append(span)
            first = self.model.new_bool_var("")
            self.changes.append(first)
            arcs += [(i, i, ~does), (0, i, first), (i, 0, self.model.new_bool_var(""))]
            for k, other in enumerate(jobs, 1):
                if k != i:
                    follows = self.model.new_bool_var("")
                    arcs.append((i, k, follows))
                    later = self.begin[other.name] >= end
                    self.model.add(later).only_enforce_if(follows)
                    if other.kind != job.kind:
                        self.changes.append(follows)
        self.model.add_no_overlap(spans)
        self.model.add_circuit(arcs)

    def _hint(self, start: Plan) -> None:
        for slot in start.slots:
            self.model.add_hint(self.day[slot.job], slot.day)
            self.model.add_hint(self.at[slot.job], slot.start_ticks)
            self.model.add_hint(self.end[slot.job], slot.end_ticks)
            for (name, person), does in self.by.items():
                if name == slot.job:
                    self.model.add_hint(does, person == slot.person)

    def planned(self, effort: float | None) -> Plan | None:
        most = len(self.changes)
        weight = most * (1 + self.last_day * len(self.late_days))
        self.model.minimize(
            weight * sum(self.lates) + most * sum(self.late_days) + sum(self.changes)
        )
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 8
        if effort is None:
            solver.parameters.max_time_in_seconds = PEER_S
        else:
            solver.parameters.interleave_search = True
            solver.parameters.interleave_batch_size = 8
            solver.parameters.random_seed = 1
            solver.parameters.max_deterministic_time = effort
        if solver.solve(self.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        slots = []
        for job in self.problem.jobs:
            day, end = (
                solver.value(self.day[job.name]),
                solver.value(self.end[job.name]),
            )
            who = next(
                b for b in self.able(job) if solver.value(self.by[job.name, b.person])
            )
            done = self.problem.done_day(job, day, end)
            at = end - who.ticks_for(job)
            slots.append(Slot(who.person, job.name, day, at, end, done))
        slots.sort(key=lambda s: (s.day, s.start_ticks, s.person))
        return Plan(tuple(slots))


def told(name: str, problem: ScheduleProblem, plan: Plan | None, spent: float) -> None:
    if plan is None:
        print(f"  {name:28} no plan                                  {spent:6.2f} s")
        return
    assert not faults_in(problem, plan), (name, faults_in(problem, plan)[:3])
    found = figures_of(problem, plan)
    print(
        f"  {name:28} {found.n_late:3} late {found.late_days:4} days late "
        f"{found.n_set_ups:3} set-ups  {spent:6.2f} s"
    )


def main(effort: float) -> None:
    cases = (("usual", 1, 1.0), ("tight", 2, 1.4), ("tight", 3, 1.6), ("tight", 4, 1.8))
    for name, seed, tight in cases:
        problem = batch(seed, tight=tight)
        n_kinds = len({job.kind for job in problem.jobs})
        print(f"{name}, seed {seed}, {len(problem.jobs)} jobs of {n_kinds} kinds")
        began = time.perf_counter()
        rule = planned_by_rule(problem)
        told("hand rule", problem, rule, time.perf_counter() - began)
        began = time.perf_counter()
        best = best_plan(problem, rule, effort)
        mine = time.perf_counter() - began
        told(f"best plan, {best.status}", problem, best.plan, mine)
        bound = best.bound
        print(
            f"  {'  bound':28} {bound.n_late:3} late {bound.late_days:4} days late "
            f"{bound.n_set_ups:3} set-ups"
        )
        for label, most in (("same effort", effort), (f"{PEER_S} s", None)):
            began = time.perf_counter()
            peer = Peer(problem, rule).planned(most)
            spent = time.perf_counter() - began
            told(f"CP-SAT intervals, {label}", problem, peer, spent)
            print(f"  {'  time of the peer':28} x{spent / mine:.1f}")


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 0.3)

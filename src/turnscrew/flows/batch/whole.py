"""
What comes out when a whole batch goes in?

List and bodies are compared, every device decided and quoted, parts allotted, donors
chosen, the order written, the work planned three ways, the money added up. Every plan
is replayed by the referee before it is given.
"""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from turnscrew.core.batch.answer import BatchAnswer, Planned, Supply, apart_from
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.price.account import (
    PartUse,
    account_of,
    billed,
    pay_minor,
)
from turnscrew.core.schedule.best import BestPlan, best_plan
from turnscrew.core.schedule.check import faults_in
from turnscrew.core.schedule.plan import Plan
from turnscrew.core.schedule.problem import TICKS, ScheduleProblem
from turnscrew.core.schedule.promise import Promise, promised
from turnscrew.core.schedule.rule import planned_by_rule
from turnscrew.core.schedule.spread import spread_of
from turnscrew.flows.batch.closing import told_before_opening
from turnscrew.flows.batch.decisions import OpeningMinutes, UsesOf, decided_devices
from turnscrew.flows.batch.listed import compared, holds_from_list
from turnscrew.flows.batch.planning import (
    answer_days,
    problem_at_best,
    problem_by_rule,
)
from turnscrew.flows.batch.supply import supplied
from turnscrew.flows.batch.what_if import asked, copied

USUAL_EFFORT = 0.15
"""Work at the best plan, in the solver's own unit, that fits into a second. [1]"""

USUAL_SEED = 20270201
"""Plays start from the same chance each time, so that equal batches give equal days."""

_PLAYS = 500
"""Plays of a usual batch. [1]"""

_LEAST_PLAYS = 10
"""Plays of the largest one. [1]"""

_PLAYED_JOBS = 60_000
"""Jobs played in all at most, if nothing is said. [1]"""


def usual_plays(n_devices: int) -> int:
    """
    Say how often a batch is played if nothing is said.

    Parameters
    ----------
    n_devices
        Its devices. [1]

    Returns
    -------
    int
        Plays. [1]
    """
    return min(_PLAYS, max(_LEAST_PLAYS, _PLAYED_JOBS // max(n_devices, 1)))


@dataclass(frozen=True)
class Effort:
    """
    How hard to work at the plan.

    Parameters
    ----------
    best
        Work of the search for the best plan, in the solver's own unit; 0 for none.
    n_plays
        Plays of the simulation; 0 for none. [1]
    draw
        Gives the next standard normal number for the plays.
    """

    best: float
    n_plays: int
    draw: Callable[[], float]


def batch_reckoned(
    handed_in: BatchInput,
    what_if: WhatIf,
    opening_minutes: OpeningMinutes,
    effort: Effort,
    opening_uses: UsesOf | None = None,
) -> BatchAnswer:
    """
    Reckon a whole batch.

    Parameters
    ----------
    handed_in
        All that is known of it.
    what_if
        What is asked beside how it stands.
    opening_minutes
        Asked where the terms have no standard minutes for opening.
    effort
        How hard to work at the plan.
    opening_uses
        Asked what opening uses up; by the terms if it is not given.

    Returns
    -------
    BatchAnswer
        Everything.

    Raises
    ------
    BadArgumentError
        If the question names a person, part, device or sign-off that is not known.
    RuntimeError
        If the referee rejects a plan: our bug.
    """
    batch = asked(handed_in, what_if)
    reconciliation = compared(batch)
    held = holds_from_list(reconciliation)
    decided = decided_devices(batch, held, opening_minutes, opening_uses, what_if)
    devices = copied(decided, what_if.copies)
    supply = supplied(batch, devices, what_if)
    devices = told_before_opening(devices, supply.uses, batch.parts)
    planned = _planned(batch, devices, supply, what_if, effort)
    pieces = [
        PartUse(use.demand.device, use.demand.part, use.donor) for use in supply.uses
    ]
    kept = [
        device
        for device in devices
        if device.name not in what_if.as_it_came
        and (
            what_if.answers.get(device.name, True) or device.decision.code == "comeback"
        )
    ]
    items = billed(kept, pieces, batch.terms, batch.parts)
    answer_by = answer_days(batch, devices, supply, what_if, planned.problem)
    apart = apart_from(planned.rule, answer_by, what_if)
    summed = [item for item in items if item.device.name not in apart]
    used = [piece for piece in pieces if piece.device not in apart]
    worked = {
        role: Fraction(ticks, TICKS)
        for role, ticks in planned.rule.clock_ticks(planned.problem).items()
    }
    pay = pay_minor(worked, batch.people)
    return BatchAnswer(
        batch=batch,
        what_if=what_if,
        reconciliation=reconciliation,
        devices=devices,
        supply=supply,
        planned=planned,
        items=items,
        account=account_of(summed, used, batch.parts, pay),
        answer_by=answer_by,
    )


def _planned(
    batch: BatchInput,
    devices: tuple[DecidedDevice, ...],
    supply: Supply,
    what_if: WhatIf,
    effort: Effort,
) -> Planned:
    problem = problem_by_rule(batch, devices, supply, what_if)
    rule = planned_by_rule(problem)
    _refuse_faulty(problem, rule)
    apart = problem_at_best(problem, supply)
    best: BestPlan | None = None
    if effort.best:
        # With donors apart a job may be possible that waits in vain for all of them.
        start = planned_by_rule(apart) if faults_in(apart, rule) else rule
        best = best_plan(apart, start, effort.best)
        _refuse_faulty(apart, best.plan)
    promise: Promise | None = None
    spread = spread_of(batch.own_min, batch.terms.spread)
    if effort.n_plays and problem.jobs:
        terms = batch.terms
        promise = promised(
            problem,
            terms.promise_probability,
            spread.sd,
            effort.draw,
            effort.n_plays,
        )
    return Planned(problem, rule, apart, best, promise, spread)


def _refuse_faulty(problem: ScheduleProblem, plan: Plan) -> None:
    faults = faults_in(problem, plan)
    if faults:
        raise RuntimeError("the referee rejects the plan: " + "; ".join(faults))

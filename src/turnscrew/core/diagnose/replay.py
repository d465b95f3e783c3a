"""
Would the advice have beaten what was done?

Method: what was done is priced action by action with the same access and prices as the
advice; the advice is priced by its expected cost given the confirmed fault.
"""

from dataclasses import dataclass

from turnscrew.core.diagnose.access import access_of
from turnscrew.core.diagnose.answer import Leaf, Policy
from turnscrew.core.diagnose.evidence import NOT_APPLICABLE, NOT_TRIED
from turnscrew.core.diagnose.problem import DiagnosisProblem, Repair, Test
from turnscrew.core.diagnose.walk import Walk, Weights
from turnscrew.core.model.past_job import PastJob


@dataclass(frozen=True)
class Replayed:
    """
    One closed job beside the advice for it.

    Parameters
    ----------
    job
        The job.
    done_min
        What was done cost. [min]
    advised_min
        What the advice is expected to cost, given the confirmed fault. [min]
    """

    job: PastJob
    done_min: float
    advised_min: float


def cost_given(problem: DiagnosisProblem, policy: Policy, fault: str) -> float:
    """
    Reckon what a strategy costs if the fault is known to be a certain one.

    Parameters
    ----------
    problem
        The problem.
    policy
        The strategy.
    fault
        The fault.

    Returns
    -------
    float
        The expected cost. [cost]
    """
    walk = Walk(problem)

    def given(at: Policy, weights: Weights) -> float:
        if isinstance(at, Leaf):
            return at.cost * sum(weights.values())
        rests = sum(given(rest, there) for rest, there in walk.after(at, weights))
        return walk.cost(at, weights) + rests

    return given(policy, {**dict.fromkeys(walk.start(), 0.0), fault: 1.0})


def tells_what_was_done(problem: DiagnosisProblem, job: PastJob) -> bool:
    """
    Say whether a job tells enough of what was done on it to be priced.

    Parameters
    ----------
    problem
        The problem that stood at the start.
    job
        The job.

    Returns
    -------
    bool
        True if it names a test or repair of the problem that was made and, where the
        device was mended, the repair that mended it.
    """
    known = _known(problem)
    if job.end == "mended":
        return any(
            outcome == "mended" and isinstance(known.get(name), Repair)
            for name, outcome in job.findings
        )
    return any(name in known for name, _ in _made(job))


def cost_of_doing(problem: DiagnosisProblem, job: PastJob) -> float:
    """
    Price what was done on a job.

    What was not tried or not applicable cost nothing. Each repair is followed by a
    power test, and the end by closing; a job written off pays for giving up, and for
    closing where that comes first.

    Parameters
    ----------
    problem
        The problem that stood at the start.
    job
        The job.

    Returns
    -------
    float
        What it cost. [cost]
    """
    access = access_of(problem.nodes)
    shut = access.shut(problem.verification.closed)
    known = _known(problem)
    open_set, cost = access.opened(problem.open_now), 0.0
    for name, outcome in _made(job):
        action = known.get(name)
        if action is None:
            continue
        move = access.move(
            open_set, access.opened(action.open), access.shut(action.closed)
        )
        open_set, cost = move.open_set, cost + move.cost + action.cost
        if isinstance(action, Repair):
            cost += action.keep_cost if outcome == "mended" else 0.0
            move = access.move(open_set, 0, shut)
            open_set = move.open_set
            cost += move.cost + problem.verification.cost
    if job.end == "no fault found":
        cost += problem.verification.cost
    if job.end == "written off":
        cost += problem.write_off.cost
        if not problem.write_off.is_closed_first:
            return cost
    return cost + access.closing(open_set)


def _made(job: PastJob) -> tuple[tuple[str, str], ...]:
    not_made = (NOT_TRIED, NOT_APPLICABLE)
    return tuple(one for one in job.findings if one[1] not in not_made)


def _known(problem: DiagnosisProblem) -> dict[str, Test | Repair]:
    known: dict[str, Test | Repair] = {test.name: test for test in problem.tests}
    return known | {repair.name: repair for repair in problem.repairs}

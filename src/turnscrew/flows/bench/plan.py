"""Which lines lead from a device as it lies to a device given back?"""

from collections.abc import Callable
from dataclasses import replace

from turnscrew.core.bench.photo_wish import MOST_PHOTOS, with_photo_wishes
from turnscrew.core.bench.run import Run
from turnscrew.core.model.device import Device
from turnscrew.core.opening.compile import Posed, pose
from turnscrew.core.opening.path import in_bench_words
from turnscrew.flows.bench.goal import Goal, Lying
from turnscrew.flows.bench.scribe import Scribe
from turnscrew.flows.opening import refuse_bad_names, solved

WAY_UNKNOWN = "the way in is not known: {}"
"""Why there is no path to what a description names no place for."""


def run_for(
    device: Device, goal: Goal, lying: Lying, is_time_up: Callable[[], bool]
) -> Run:
    """
    Write the run of a device from how it lies now.

    Parameters
    ----------
    device
        The device, in one revision.
    goal
        What is wanted.
    lying
        How it lies.
    is_time_up
        Asked now and then.

    Returns
    -------
    Run
        Its lines; without a path a run that says why.

    Raises
    ------
    BadArgumentError
        If a name is unknown, or what never comes off is wanted off.
    """
    posed = _posed(device, goal, lying)
    answer = in_bench_words(
        device,
        goal.reach,
        posed,
        solved(posed.problem, is_time_up),
        letters=lying.letters,
    )
    if goal.unreached:
        answer = replace(
            answer, status="impossible", reason=WAY_UNKNOWN.format(goal.unreached)
        )
    run = Scribe(device, goal, lying, posed.waits).written(answer)
    n_left = MOST_PHOTOS - lying.n_photos
    return replace(run, lines=with_photo_wishes(run.lines, device, n_left))


def _posed(device: Device, goal: Goal, lying: Lying) -> Posed:
    off = tuple(name for name in (*device.joints, *device.parts) if name in lying.off)
    aside = tuple(name for name in device.moves if name in lying.aside)
    refuse_bad_names(device, (*goal.reach, *goal.stays), off)
    already = (*off, *(f"{name} aside" for name in aside))
    posed = pose(device, goal.reach, already_off=already, stays=goal.stays)
    problem = posed.problem
    gone = set(problem.already_off)
    acts = tuple(
        replace(act, modes=())
        if posed.removals[act.name].name in goal.stays and act.name not in gone
        else act
        for act in problem.actions
    )
    return replace(
        posed,
        problem=replace(
            problem,
            actions=acts,
            start_posture=lying.posture or problem.start_posture,
            start_tool=(
                lying.tool if lying.tool in problem.tools else problem.start_tool
            ),
        ),
    )

"""How do I reach this part, and how does everything go back?"""

from collections.abc import Callable
from dataclasses import replace

from turnscrew.core.model.device import Device
from turnscrew.core.model.lying_open import off_with
from turnscrew.core.model.nearest import nearest
from turnscrew.core.model.times import Who
from turnscrew.core.opening.answer import NumericAnswer, OpeningAnswer
from turnscrew.core.opening.around import off_sentence
from turnscrew.core.opening.check import faults_in
from turnscrew.core.opening.compile import pose, removal_wanted
from turnscrew.core.opening.path import in_bench_words
from turnscrew.core.opening.problem import OpeningProblem
from turnscrew.core.opening.solve import solve
from turnscrew.core.opening.solve.refitting import refit_knot
from turnscrew.errors import BadArgumentError

Asked = Callable[[], bool]


def solved(
    problem: OpeningProblem, is_time_up: Asked, *, one_way: bool = False
) -> NumericAnswer:
    """
    Solve a numeric opening problem and have the answer replayed.

    Parameters
    ----------
    problem
        The problem.
    is_time_up
        Asked now and then.
    one_way
        True for the way in alone.

    Returns
    -------
    NumericAnswer
        The answer, replayed by the checker.

    Raises
    ------
    RuntimeError
        If the checker rejects the answer: our bug.
    """
    answer = solve(problem, one_way=one_way, is_time_up=is_time_up)
    faults = faults_in(problem, answer, one_way=one_way)
    if faults:
        raise RuntimeError("the checker rejects the plan: " + "; ".join(faults))
    return answer


def opening_path(
    device: Device,
    reach: tuple[str, ...],
    is_time_up: Asked,
    *,
    already_off: tuple[str, ...] = (),
    pace: Who = "typical",
) -> OpeningAnswer:
    """
    Find the cheapest way to parts of a device and the way back.

    Parameters
    ----------
    device
        The device, in one revision.
    reach
        Parts and joints wanted off.
    is_time_up
        Asked now and then.
    already_off
        Parts and joints off before the work begins; what tied the parts is too.
    pace
        Whose times are taken.

    Returns
    -------
    OpeningAnswer
        Opening path, refit list and all that belongs to them.

    Raises
    ------
    BadArgumentError
        If nothing is wanted, a name is unknown, or what never comes off is said to
        be off already.
    """
    if not reach:
        raise BadArgumentError("nothing to reach: name at least one part or joint")
    refuse_bad_names(device, reach, already_off)
    for name in reach:
        if _is_fixed(device, name):
            return OpeningAnswer(
                device=device.name,
                revision=device.revision,
                reach=reach,
                status="impossible",
                cost_s=None,
                bound_s=None,
                reason=f"{name} is what everything else is held to; it never comes off",
                stuck=(name,),
            )
    with_them = off_with(device, already_off)
    off = (*already_off, *with_them)
    posed = pose(device, reach, already_off=off, pace=pace)
    answer = in_bench_words(device, reach, posed, solved(posed.problem, is_time_up))
    told = off_sentence(already_off, with_them)
    before = (told, *answer.before_opening) if told else answer.before_opening
    return replace(answer, pace=pace, before_opening=before)


def opening_compared(
    device: Device,
    reach: tuple[str, ...],
    is_time_up: Asked,
    *,
    already_off: tuple[str, ...] = (),
    pace: Who = "typical",
) -> OpeningAnswer:
    """
    Find the cheapest way to parts, and hold it against one opening for each of them.

    Parameters
    ----------
    device
        The device, in one revision.
    reach
        Parts and joints wanted off.
    is_time_up
        Asked now and then.
    already_off
        Parts and joints off before the work begins.
    pace
        Whose times are taken.

    Returns
    -------
    OpeningAnswer
        The opening with the time it saves. If these parts cannot be off together, but
        can apart, it says in which openings.

    Raises
    ------
    BadArgumentError
        If nothing is wanted, a name is unknown, or what never comes off is said to
        be off already.
    """

    def opened(names: tuple[str, ...]) -> OpeningAnswer:
        return opening_path(
            device, names, is_time_up, already_off=already_off, pace=pace
        )

    answer = opened(reach)
    wanted = tuple(dict.fromkeys(reach))
    if len(wanted) < 2:
        return answer
    if answer.status == "impossible":
        return replace(answer, apart=_apart(wanted, opened))
    alone = [opened((name,)) for name in wanted]
    if any(one.status != "optimal" for one in alone):
        # What was not searched to the end would make the saving look larger.
        return answer
    apart_s = sum(one.hands_on_s for one in alone)
    return replace(answer, saved_s=round(apart_s - answer.hands_on_s, 1))


def _apart(
    reach: tuple[str, ...], opened: Callable[[tuple[str, ...]], OpeningAnswer]
) -> tuple[tuple[str, ...], ...]:
    """Put what cannot be off together into openings one after another."""
    groups: list[tuple[str, ...]] = []
    for name in reach:
        for i, group in enumerate((*groups, ())):
            if opened((*group, name)).status != "impossible":
                groups[i : i + 1] = [(*group, name)]
                break
        else:
            # It cannot be reached at all, so no order of openings helps.
            return ()
    return tuple(groups)


def _is_fixed(device: Device, name: str) -> bool:
    wanted = removal_wanted(device, name)
    return wanted.kind == "part" and device.parts[wanted.name].fixed


def refuse_bad_names(
    device: Device, reach: tuple[str, ...], already_off: tuple[str, ...]
) -> None:
    """
    Refuse names that mean nothing in a description.

    Parameters
    ----------
    device
        The device.
    reach
        Parts and joints wanted off.
    already_off
        Parts and joints said to be off.

    Raises
    ------
    BadArgumentError
        If a name is unknown, or what never comes off is said to be off already.
    """
    known = (*device.parts, *device.joints)
    wrong = [
        f"no part or joint named {name}, wanted "
        + (nearest(name, known) or "a name of the description")
        for name in (*reach, *already_off)
        if name not in known
    ]
    if not wrong:
        wrong = [
            f"{name} never comes off, so it cannot be off already"
            for name in already_off
            if _is_fixed(device, name)
        ]
    if wrong:
        raise BadArgumentError("; ".join(wrong))


def what_cannot_go_back(device: Device) -> tuple[str, ...]:
    """
    Name what waits for itself on the way back, if all of a device comes apart.

    Parameters
    ----------
    device
        The device, in one revision.

    Returns
    -------
    tuple
        Joints, parts and tests in a knot; empty if all can go back.
    """
    return refit_knot(pose(device, ()).problem)

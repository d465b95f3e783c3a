"""What does the workshop ask for? Each function is one question, engines introduced."""

from collections.abc import Callable, Mapping

from turnscrew.core.diagnose import check as diagnosis_check
from turnscrew.core.diagnose.advice import Advice, action_words, advice_on
from turnscrew.core.diagnose.answer import DiagnosisAnswer
from turnscrew.core.diagnose.evidence import Evidence, belief_after
from turnscrew.core.diagnose.layers import layers_of
from turnscrew.core.diagnose.learning import evidence_of, learned
from turnscrew.core.diagnose.pose import Layering, PricedLayer, opening_name
from turnscrew.core.diagnose.pose import pose as posed_as
from turnscrew.core.diagnose.problem import DiagnosisProblem
from turnscrew.core.diagnose.problem import Mode as DiagnosisMode
from turnscrew.core.diagnose.replay import Replayed, cost_given, cost_of_doing
from turnscrew.core.diagnose.solve import MOST_WORK, first_look
from turnscrew.core.diagnose.solve import solve as best_strategy
from turnscrew.core.model.device import Device
from turnscrew.core.model.faults import FaultTable
from turnscrew.core.model.nearest import nearest
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.opening.answer import NumericAnswer, OpeningAnswer
from turnscrew.core.opening.check import faults_in
from turnscrew.core.opening.compile import pose, removal_wanted
from turnscrew.core.opening.path import in_bench_words
from turnscrew.core.opening.problem import OpeningProblem
from turnscrew.core.opening.solve import solve
from turnscrew.core.opening.solve.refitting import refit_knot
from turnscrew.errors import BadArgumentError

Asked = Callable[[], bool]

_QUICK_WORK = 5_000
_FACTORS = ((3.0, "three times as likely"), (1 / 3, "a third as likely"))


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
        Parts and joints off before the work begins.

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
    _refuse_bad_names(device, reach, already_off)
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
    posed = pose(device, reach, already_off=already_off)
    return in_bench_words(device, reach, posed, solved(posed.problem, is_time_up))


def _is_fixed(device: Device, name: str) -> bool:
    wanted = removal_wanted(device, name)
    return wanted.kind == "part" and device.parts[wanted.name].fixed


def _refuse_bad_names(
    device: Device, reach: tuple[str, ...], already_off: tuple[str, ...]
) -> None:
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


def layering(
    devices: Mapping[str, tuple[Device, float]],
    reaches: tuple[tuple[str, ...], ...],
    is_time_up: Asked,
) -> Layering:
    """
    Price every layer that some tests and repairs ask for.

    The layers are those of the first device; the minutes are means over all of them, as
    long as the revision is not known.

    Parameters
    ----------
    devices
        For each revision that the device may be, the device and how likely it is. [1]
    reaches
        What tests and repairs want off.
    is_time_up
        Asked now and then.

    Returns
    -------
    Layering
        The layers with their minutes.

    Raises
    ------
    BadArgumentError
        If a name is unknown.
    """
    first = next(iter(devices.values()))[0]
    openings: dict[str, tuple[str, ...]] = {}
    out_of_reach: dict[str, str] = {}
    for reach in reaches:
        name = opening_name(reach)
        path = opening_path(first, reach, is_time_up)
        if path.cost_s is None:
            out_of_reach[name] = path.reason
        else:
            openings[name] = _taken_off(first, path)
    layers = layers_of(openings)
    by_off = {layer.off: layer.name for layer in layers}
    total = sum(weight for _, weight in devices.values())
    priced: list[PricedLayer] = []
    for layer in layers:
        under: frozenset[str] = frozenset()
        for other in layers:
            under |= other.off if other.name in layer.needs else frozenset()
        opening_s = closing_s = 0.0
        for device, weight in devices.values():
            into, back = _layer_s(device, layer.off, under, is_time_up)
            opening_s += into * weight / total
            closing_s += back * weight / total
        priced.append(PricedLayer(layer, opening_s / 60, closing_s / 60))
    where = {name: by_off.get(frozenset(off), "") for name, off in openings.items()}
    return Layering(tuple(priced), where, out_of_reach)


def _taken_off(device: Device, path: OpeningAnswer) -> tuple[str, ...]:
    names = {*device.parts, *device.joints}
    return tuple(dict.fromkeys(a.name for a in path.opening if a.name in names))


def _layer_s(
    device: Device, off: frozenset[str], under: frozenset[str], is_time_up: Asked
) -> tuple[float, float]:
    """Time the way into one layer from those under it, and back out to them."""
    names = {*device.parts, *device.joints}
    wanted = tuple(sorted((off - under) & names))
    below = tuple(sorted(under & names))
    if not wanted:
        return 0.0, 0.0
    path = opening_path(device, wanted, is_time_up, already_off=below)
    into = sum(action.seconds for action in path.opening)
    back = sum(action.seconds for action in path.refit)
    if below:
        closed = opening_path(device, below, is_time_up)
        back -= sum(action.seconds for action in closed.refit)
    return into, max(0.0, back)


def diagnosed(
    problem: DiagnosisProblem,
    mode: DiagnosisMode,
    is_time_up: Asked,
    *,
    most_work: int = MOST_WORK,
    wants_policy: bool = False,
) -> DiagnosisAnswer:
    """
    Find the strategy of least expected cost and have it replayed.

    Parameters
    ----------
    problem
        The problem.
    mode
        When a power test is due.
    is_time_up
        Asked now and then.
    most_work
        Most values to reckon for the bounds. [1]
    wants_policy
        True to have the whole strategy as a tree, replayed by the checker.

    Returns
    -------
    DiagnosisAnswer
        The answer.

    Raises
    ------
    BadArgumentError
        If the problem cannot be turned into numbers.
    RuntimeError
        If the checker rejects the strategy: our bug.
    """
    answer = best_strategy(
        problem, mode, is_time_up, most_work=most_work, wants_policy=wants_policy
    )
    if answer.policy is not None:
        faults = diagnosis_check.faults_in(problem, answer.policy, mode, answer.cost)
        if faults:
            raise RuntimeError("the checker rejects the strategy: " + "; ".join(faults))
    return answer


def next_step(
    table: FaultTable,
    layers: Layering,
    evidence: Evidence,
    mode: DiagnosisMode,
    is_time_up: Asked,
    *,
    is_learned: bool = False,
    open_now: tuple[str, ...] = (),
    most_work: int = 60_000,
    asks_change: bool = False,
) -> Advice:
    """
    Say what to test or exchange next, and why.

    Parameters
    ----------
    table
        The fault table.
    layers
        Layers of access with their minutes.
    evidence
        Signs and findings so far; nothing else is remembered between calls.
    mode
        When a power test is due.
    is_time_up
        Asked now and then.
    is_learned
        True if closed jobs have taught the table.
    open_now
        Layers open, by name.
    most_work
        Most values to reckon for the bounds. [1]
    asks_change
        True to look also for what would change the advice, which takes longer.

    Returns
    -------
    Advice
        The next action with its reasons.

    Raises
    ------
    BadArgumentError
        If a layer is unknown.
    RuntimeError
        If the checker rejects the strategy: our bug.
    """
    names = [priced.layer.name for priced in layers.layers]
    for name in open_now:
        if name not in names:
            wanted = nearest(name, names) or "one of " + ", ".join(names)
            raise BadArgumentError(f"open layer: found {name}, wanted {wanted}")
    own = {name: fault.weight for name, fault in table.faults.items()}
    belief = belief_after(table, own, evidence)
    posed = posed_as(table, layers, belief, evidence, open_now=open_now)
    answer = diagnosed(
        posed.problem, mode, is_time_up, most_work=most_work, wants_policy=True
    )
    changes: tuple[str, ...] = ()
    if asks_change:
        changes = _what_would_change(table, layers, evidence, mode, open_now=open_now)
    return advice_on(
        table,
        evidence,
        belief,
        posed,
        answer,
        is_learned=is_learned,
        would_change=changes,
    )


def _what_would_change(
    table: FaultTable,
    layers: Layering,
    evidence: Evidence,
    mode: DiagnosisMode,
    *,
    open_now: tuple[str, ...],
) -> tuple[str, ...]:
    """Look whether another first action wins if a likely fault is more or less so."""
    own = {name: fault.weight for name, fault in table.faults.items()}

    def first(weights: Mapping[str, float]) -> str:
        belief = belief_after(table, weights, evidence)
        posed = posed_as(table, layers, belief, evidence, open_now=open_now)
        return first_look(posed.problem, mode, _QUICK_WORK)

    now = first(own)
    belief = belief_after(table, own, evidence).after
    likely = sorted(own, key=lambda name: belief[name], reverse=True)[:3]
    said: list[str] = []
    for fault in likely:
        for factor, words in (
            (3.0, "three times as likely"),
            (1 / 3, "a third as likely"),
        ):
            other = first({**own, fault: factor * own[fault]})
            if other != now:
                said.append(f"If {fault} were {words}: {action_words(other)}.")
    likeliest = " or ".join(likely)
    return tuple(said) or (
        f"Three times or a third of the chance of {likeliest} would not change it.",
    )


def replayed(
    table: FaultTable,
    layers: Layering,
    jobs: tuple[PastJob, ...],
    mode: DiagnosisMode,
    time_for_one: Callable[[], Asked],
) -> tuple[Replayed, ...]:
    """
    Set each closed job beside the advice there would have been.

    Each job is advised from the table as the jobs before it had taught it.

    Parameters
    ----------
    table
        The fault table as written.
    layers
        Layers of access with their minutes.
    jobs
        Closed jobs, in order; those without a confirmed fault teach but are not
        compared.
    mode
        When a power test is due.
    time_for_one
        Starts the clock for one job.

    Returns
    -------
    tuple
        The jobs with a confirmed fault, each with what was done and what was advised.

    Raises
    ------
    RuntimeError
        If the checker rejects a strategy: our bug.
    """
    found: list[Replayed] = []
    for n, job in enumerate(jobs):
        if job.family != table.family or job.confirmed not in table.faults:
            continue
        taught = learned(table, jobs[:n], revision=job.revision, site=job.site).table
        weights = {name: fault.weight for name, fault in taught.faults.items()}
        at_first = Evidence(evidence_of(table, job).signs)
        posed = posed_as(
            taught, layers, belief_after(taught, weights, at_first), at_first
        )
        answer = diagnosed(
            posed.problem, mode, time_for_one(), most_work=60_000, wants_policy=True
        )
        assert answer.policy is not None
        found.append(
            Replayed(
                job,
                cost_of_doing(posed.problem, job),
                cost_given(posed.problem, answer.policy, job.confirmed),
            )
        )
    return tuple(found)

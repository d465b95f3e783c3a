"""What do I test or exchange next? The opening engine prices the way in."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from turnscrew.core.diagnose import check as diagnosis_check
from turnscrew.core.diagnose.advice import (
    NEAR_TIE,
    Advice,
    action_of,
    action_words,
    advice_on,
    advised_in,
    look_at,
)
from turnscrew.core.diagnose.answer import DiagnosisAnswer, Policy
from turnscrew.core.diagnose.at_the_action import access_moves, until_power
from turnscrew.core.diagnose.evidence import Belief, Evidence, Finding, belief_after
from turnscrew.core.diagnose.hazards import (
    POSSIBLE,
    look_first,
    p_no_power,
)
from turnscrew.core.diagnose.layers import layers_of
from turnscrew.core.diagnose.learning import evidence_of, learned
from turnscrew.core.diagnose.pose import Layering, PricedLayer, opening_name
from turnscrew.core.diagnose.pose import pose as posed_as
from turnscrew.core.diagnose.problem import WRITE_OFF, DiagnosisProblem
from turnscrew.core.diagnose.problem import Mode as DiagnosisMode
from turnscrew.core.diagnose.replay import (
    Replayed,
    cost_given,
    cost_of_doing,
    tells_what_was_done,
)
from turnscrew.core.diagnose.solve import (
    LEAST_SHARE,
    MOST_WORK,
    cost_of_tree,
    first_look,
)
from turnscrew.core.diagnose.solve import solve as best_strategy
from turnscrew.core.model.device import Device
from turnscrew.core.model.faults import NOTHING_WRONG, FaultTable
from turnscrew.core.model.nearest import wanted_name
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.opening.answer import OpeningAnswer
from turnscrew.errors import BadArgumentError
from turnscrew.flows.opening import opening_path

Asked = Callable[[], bool]

_QUICK_WORK = 5_000
_ASKS = 4
_AFTER_A_LOOK = 0.08
_FACTORS = ((3.0, "three times as likely"), (1 / 3, "a third as likely"))


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
    least_share: float = LEAST_SHARE,
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
    least_share
        States rarer than this go on without tests, if the strategy is not proven. [1]

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
        problem,
        mode,
        is_time_up,
        most_work=most_work,
        wants_policy=wants_policy,
        least_share=least_share,
    )
    if answer.policy is not None:
        _refuse_wrong(problem, answer)
    return answer


def _refuse_wrong(problem: DiagnosisProblem, answer: DiagnosisAnswer) -> None:
    assert answer.policy is not None
    faults = diagnosis_check.faults_in(problem, answer.policy, answer.mode, answer.cost)
    if faults:
        raise RuntimeError("the checker rejects the strategy: " + "; ".join(faults))


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
    base_said: tuple[str, ...] = (),
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
    base_said
        Where the base priors come from and what they weigh, in sentences.

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
            wanted = wanted_name(name, names)
            raise BadArgumentError(f"open layer: found {name}, wanted {wanted}")
    belief = belief_after(table, table.weights, evidence)
    posed = posed_as(table, layers, belief, evidence, open_now=open_now)
    answer = diagnosed(
        posed.problem, mode, is_time_up, most_work=most_work, wants_policy=True
    )
    if _wants_a_look(table, belief.after, evidence, answer.policy):
        open_tests = tuple(test.name for test in posed.problem.tests)
        look = look_first(table, belief.after, evidence, open_tests)
        if look:
            step = _looked_first(
                table,
                layers,
                evidence,
                mode,
                look=look,
                belief=belief,
                problem=posed.problem,
                most_work=most_work,
            )
            cost = cost_of_tree(step)
            # Nothing is given up unseen for what a look may exclude at little cost.
            is_end = action_of(answer.policy) == WRITE_OFF
            if not is_end or cost <= (1 + NEAR_TIE) * answer.cost:
                answer = replace(
                    answer,
                    status="bounded",
                    cost=cost,
                    first=(look,),
                    values={look: cost},
                    policy=step,
                    looked={},
                )
                _refuse_wrong(posed.problem, answer)
    changes: tuple[str, ...] = ()
    if asks_change:
        changes = _what_would_change(
            table,
            layers,
            evidence,
            mode,
            open_now=open_now,
            advised=advised_in(answer.policy, table, belief, posed.problem),
        )
    return advice_on(
        table,
        evidence,
        belief,
        posed,
        answer,
        is_learned=is_learned,
        would_change=changes,
        base_said=base_said,
    )


def _wants_a_look(
    table: FaultTable,
    belief: Mapping[str, float],
    evidence: Evidence,
    policy: Policy | None,
) -> bool:
    """Tell whether a look comes before what powers the device, or before giving up."""
    if policy is None or action_of(policy) == WRITE_OFF:
        return POSSIBLE <= p_no_power(table, belief, evidence)
    at_power = until_power(table, evidence, policy)
    return at_power is not None and POSSIBLE <= p_no_power(table, belief, at_power)


def _looked_first(
    table: FaultTable,
    layers: Layering,
    evidence: Evidence,
    mode: DiagnosisMode,
    *,
    look: str,
    belief: Belief,
    problem: DiagnosisProblem,
    most_work: int,
) -> Policy:
    """Put a look without power first, and the best after each of its outcomes."""
    test = next(test for test in problem.tests if test.name == look)
    opens, closes = access_moves(problem, look)
    open_then = {*problem.open_now, *opens} - {*closes}
    branches: list[tuple[str, float, Policy]] = []
    for o, outcome in enumerate(test.outcomes):
        # By the belief that stands, not anew: what was floored once stays so.
        shown = {name: problem.faults[name] * row[o] for name, row in test.p.items()}
        shown[NOTHING_WRONG] = problem.p_ok * test.p_ok[o]
        p = sum(shown.values())
        if p <= 0:
            continue
        after = replace(evidence, findings=(*evidence.findings, Finding(look, outcome)))
        posed = posed_as(
            table,
            layers,
            replace(belief, after={name: share / p for name, share in shown.items()}),
            after,
            open_now=tuple(sorted(open_then)),
        )
        rest = diagnosed(
            posed.problem,
            mode,
            _after_asks(_ASKS),
            most_work=most_work,
            wants_policy=True,
            least_share=_AFTER_A_LOOK,
        )
        assert rest.policy is not None
        branches.append((outcome, p, rest.policy))
    return look_at(problem, look, tuple(branches))


def _after_asks(n: int) -> Asked:
    """Let the time be up after so many questions, so that a part takes its part."""
    left = iter(range(n))
    return lambda: next(left, None) is None


def _what_would_change(
    table: FaultTable,
    layers: Layering,
    evidence: Evidence,
    mode: DiagnosisMode,
    *,
    open_now: tuple[str, ...],
    advised: tuple[str, ...],
) -> tuple[str, ...]:
    """Look whether another first action wins if a likely fault is more or less so."""
    own = table.weights

    def first(weights: Mapping[str, float]) -> str:
        belief = belief_after(table, weights, evidence)
        posed = posed_as(table, layers, belief, evidence, open_now=open_now)
        return first_look(posed.problem, mode, _QUICK_WORK)

    now = {first(own), *advised}
    belief = belief_after(table, own, evidence).after
    likely = sorted(own, key=lambda name: belief[name], reverse=True)[:3]
    said: list[str] = []
    for fault in likely:
        for factor, words in _FACTORS:
            other = first({**own, fault: factor * own[fault]})
            if other not in now:
                said.append(f"If {fault} were {words}: {action_words(other)}.")
    likeliest = " or ".join(likely)
    return tuple(said) or (
        f"Three times or a third of the chance of {likeliest} would not change it.",
    )


def has_fault_of(table: FaultTable, job: PastJob) -> bool:
    """
    Say whether a fault of a table was confirmed on a job.

    Parameters
    ----------
    table
        The fault table.
    job
        The job.

    Returns
    -------
    bool
        True if so.
    """
    return job.family == table.family and job.confirmed in table.faults


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
        Closed jobs, in order; those without a confirmed fault, and those that do not
        tell what was done, teach but are not compared.
    mode
        When a power test is due.
    time_for_one
        Starts the clock for one job.

    Returns
    -------
    tuple
        The jobs compared, each with what was done and what was advised.

    Raises
    ------
    RuntimeError
        If the checker rejects a strategy: our bug.
    """
    found: list[Replayed] = []
    for n, job in enumerate(jobs):
        if not has_fault_of(table, job):
            continue
        taught = learned(table, jobs[:n], revision=job.revision, site=job.site).table
        at_first = Evidence(evidence_of(table, job).signs)
        posed = posed_as(
            taught, layers, belief_after(taught, taught.weights, at_first), at_first
        )
        if not tells_what_was_done(posed.problem, job):
            continue
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

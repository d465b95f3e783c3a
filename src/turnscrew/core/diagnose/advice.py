"""What is said to the person at the bench, and why?"""

from dataclasses import dataclass, field

from turnscrew.core.diagnose.answer import DiagnosisAnswer, Leaf, Policy, Step
from turnscrew.core.diagnose.at_the_action import (
    access_moves,
    caution_words,
    cost_in_vain,
    is_inside,
    no_power_words,
)
from turnscrew.core.diagnose.evidence import FLOOR, Belief, Evidence
from turnscrew.core.diagnose.figures import Figures, figures_of
from turnscrew.core.diagnose.pose import Posed, minutes_of
from turnscrew.core.diagnose.problem import VERIFY, WRITE_OFF, DiagnosisProblem
from turnscrew.core.model.faults import FaultTable

NEAR_TIE = 0.01
"""Actions this close cannot be told apart by the model; common practice [1]."""

_WORTH_NAMING = 0.1

_EDGE = 1e-6


@dataclass(frozen=True)
class Rival:
    """
    Another action that could come next.

    Parameters
    ----------
    action
        The action.
    loses_min
        By how much it is dearer to the end, as far as is known. [min]
    keeps_shut
        True if nothing need be opened for it.
    may_help
        True if something may come of it; giving up ends all, and a test that loses as
        much as it costs has no answer after which anything else would be done.
    """

    action: str
    loses_min: float
    keeps_shut: bool
    may_help: bool = True


@dataclass(frozen=True)
class Advice:
    """
    What to do next, and what it rests on.

    Parameters
    ----------
    action
        Test, repair, power test or giving up.
    how
        How it is made, with the limits of a reading and where they come from.
    figure
        Name of the reckoning behind it, if any.
    opens
        Layers to open for it, in order.
    closes
        Layers to close for it, in order.
    block
        Further repairs before the same power test, the likeliest to mend first.
    cautions
        What may hurt somebody or harm the device, in words.
    known_good
        Known-good things it needs, with when they were verified.
    why
        Why, in sentences.
    belief
        Belief before and after.
    answer
        The strategy, with how far it is proven.
    figures
        What the strategy leads to.
    rivals
        The other actions, the best first.
    would_change
        What would change the advice, in words.
    is_guess
        True if only base priors speak.
    left_out
        Tests and repairs left out, with the reason.
    """

    action: str
    how: str
    figure: str
    opens: tuple[str, ...]
    closes: tuple[str, ...]
    block: tuple[str, ...]
    cautions: tuple[str, ...]
    known_good: tuple[str, ...]
    why: tuple[str, ...]
    belief: Belief
    answer: DiagnosisAnswer
    figures: Figures
    rivals: tuple[Rival, ...]
    would_change: tuple[str, ...]
    is_guess: bool
    left_out: dict[str, str] = field(default_factory=dict)


def rivals_of(
    posed: Posed, answer: DiagnosisAnswer, advised: tuple[str, ...]
) -> tuple[Rival, ...]:
    """
    Rank the other actions behind the advised one.

    Parameters
    ----------
    posed
        The problem.
    answer
        Its answer, with a policy.
    advised
        The action advised, and those of its block.

    Returns
    -------
    tuple
        The rivals, the best first.
    """
    problem = posed.problem
    opened = {t.name: t.open for t in problem.tests}
    opened |= {r.name: r.open for r in problem.repairs}
    now = set(problem.open_now)
    looked = answer.looked or answer.values
    best = min((looked[name] for name in advised if name in looked), default=None)
    if best is None:
        best = answer.cost
    ranked = sorted(looked.items(), key=lambda pair: pair[1])
    return tuple(
        Rival(
            name,
            max(0.0, value - best),
            now.issuperset(opened.get(name, ())),
            name != WRITE_OFF
            and value - best < cost_in_vain(problem, name, advised[0]) - _EDGE,
        )
        for name, value in ranked
        if name not in advised
    )


def action_of(policy: Policy | None) -> str:
    """
    Name the first action of a strategy.

    Parameters
    ----------
    policy
        The strategy.

    Returns
    -------
    str
        The action.
    """
    if policy is None or isinstance(policy, Leaf):
        return WRITE_OFF
    return policy.action


def advice_on(
    table: FaultTable,
    evidence: Evidence,
    belief: Belief,
    posed: Posed,
    answer: DiagnosisAnswer,
    *,
    is_learned: bool,
    would_change: tuple[str, ...] = (),
    base_said: tuple[str, ...] = (),
) -> Advice:
    """
    Put together what is said about an answer.

    Parameters
    ----------
    table
        The fault table.
    evidence
        Signs and findings.
    belief
        Belief before and after.
    posed
        The problem.
    answer
        Its answer, with a policy.
    is_learned
        True if own confirmed faults speak beside the base priors.
    would_change
        What would change the advice, in words.
    base_said
        Where the base priors come from and what they weigh, in sentences.

    Returns
    -------
    Advice
        The advice.
    """
    policy = answer.policy
    assert policy is not None
    action, *block = advised_in(policy, table, belief, posed.problem)
    figures = figures_of(policy, posed.prices, posed.problem)
    rivals = rivals_of(posed, answer, (action, *block))
    opens, closes = access_moves(posed.problem, action)
    inside = any(is_inside(posed, one) for one in (action, *block))
    return Advice(
        action=action,
        how=_how(table, action),
        figure=table.tests[action].figure if action in table.tests else "",
        opens=opens,
        closes=closes,
        block=tuple(block),
        cautions=(
            *no_power_words(table, belief, evidence, policy),
            *caution_words(table, (action, *block), inside=inside),
        ),
        known_good=_known_good(table, action),
        why=(
            _likeliest(belief),
            *base_said,
            *_what_follows(policy),
            _to_the_end(table, figures, is_open=bool(posed.problem.open_now)),
            *_against(answer, rivals, opens=bool(opens)),
            *(
                _on_giving_up(table, belief, answer, rivals)
                if action == WRITE_OFF
                else ()
            ),
            *_doubts(belief, answer),
        ),
        belief=belief,
        answer=answer,
        figures=figures,
        rivals=rivals,
        would_change=would_change,
        is_guess=evidence.is_none and not is_learned,
        left_out=posed.left_out,
    )


def look_at(
    problem: DiagnosisProblem,
    look: str,
    branches: tuple[tuple[str, float, Policy], ...],
) -> Step:
    """
    Make a step of a test, whatever must be closed or opened for it.

    Parameters
    ----------
    problem
        The problem.
    look
        The test, by name.
    branches
        For each outcome its chance and what follows.

    Returns
    -------
    Step
        The step.
    """
    test = next(test for test in problem.tests if test.name == look)
    opens, closes = access_moves(problem, look)
    nodes = {node.name: node for node in problem.nodes}
    cost = test.cost + sum(nodes[name].open_cost for name in opens)
    cost += sum(nodes[name].close_cost for name in closes)
    return Step(look, "test", cost, opens, closes, branches)


def action_words(action: str) -> str:
    """
    Say an action as the bench says it.

    Parameters
    ----------
    action
        The action's name.

    Returns
    -------
    str
        The words.
    """
    return {VERIFY: "function check-out", WRITE_OFF: "give up"}.get(action, action)


def advised_in(
    policy: Policy | None, table: FaultTable, belief: Belief, problem: DiagnosisProblem
) -> tuple[str, ...]:
    """
    Name what a strategy advises now: one action, or a block of repairs.

    Parameters
    ----------
    policy
        The strategy.
    table
        The fault table.
    belief
        Belief before and after.
    problem
        The problem with its prices.

    Returns
    -------
    tuple
        The actions, in the order in which they are advised.
    """
    block = block_of(policy, table, belief, problem) if policy is not None else ()
    return block or (action_of(policy),)


def block_of(
    policy: Policy, table: FaultTable, belief: Belief, problem: DiagnosisProblem
) -> tuple[str, ...]:
    """
    List the repairs that come before the next power test.

    Where their order does not change the cost, the likeliest to mend comes first.

    Parameters
    ----------
    policy
        The strategy.
    table
        The fault table.
    belief
        Belief before and after.
    problem
        The problem with its prices.

    Returns
    -------
    tuple
        The repairs; empty if something else comes next.
    """
    repairs: list[str] = []
    while isinstance(policy, Step) and policy.kind == "repair":
        repairs.append(policy.action)
        policy = policy.branches[0][2]
    own = [one for one in problem.repairs if one.name in repairs]
    if any(one.keep_cost or one.closed for one in own):
        return tuple(repairs)
    return tuple(
        sorted(repairs, key=lambda name: _chance(table, belief, name), reverse=True)
    )


def _chance(table: FaultTable, belief: Belief, repair: str) -> float:
    mends = table.repairs[repair].mends
    return sum(belief.after[fault] * p for fault, p in mends.items())


def _how(table: FaultTable, action: str) -> str:
    if action == VERIFY:
        return table.check_out.says
    if action == WRITE_OFF:
        return table.give_up.says
    if action in table.repairs:
        return table.repairs[action].says
    test = table.tests[action]
    if test.reading is None:
        return test.says
    reading, limits = test.reading, ""
    if reading.low is not None:
        limits += f" from {reading.low:g}"
    if reading.high is not None:
        limits += f" up to {reading.high:g}"
    return (
        f"{test.says}; within limits{limits} {reading.unit} ({reading.source});"
        f" meter to {reading.percent:g} % and {reading.plus:g} {reading.unit}"
    )


def _known_good(table: FaultTable, action: str) -> tuple[str, ...]:
    if action not in table.tests:
        return ()
    said: list[str] = []
    for name in table.tests[action].known_good:
        item = table.known_good[name]
        when = f"verified {item.verified}" if item.verified else "never verified"
        where = f" on {item.on}" if item.on else ""
        said.append(f"{name} ({item.what}; {when}{where})")
    return tuple(said)


def _likeliest(belief: Belief) -> str:
    top = sorted(belief.after.items(), key=lambda pair: -pair[1])[:3]
    shown = ", ".join(
        f"{name} {100 * p:.0f} % (before {100 * belief.before[name]:.0f})"
        for name, p in top
    )
    return f"Likeliest now: {shown}."


def _what_follows(policy: Policy) -> list[str]:
    if isinstance(policy, Leaf) or policy.kind == "repair":
        return []
    parts = [
        f"{outcome} ({100 * p:.0f} %) then {_next_words(after)}"
        for outcome, p, after in policy.branches
    ]
    return ["After it: " + "; ".join(parts) + "."]


def _next_words(after: Policy) -> str:
    if isinstance(after, Leaf) and after.kind == "works":
        return "hand back"
    return action_words(action_of(after))


def _to_the_end(table: FaultTable, figures: Figures, *, is_open: bool) -> str:
    hands = figures.cost - minutes_of(table, figures.money_minor)
    unopened = f", never opened in {100 * figures.p_unopened:.0f} of 100"
    return (
        f"To the end: {hands:.0f} min of hands and {figures.money_minor / 100:.2f} of"
        f" money, together worth {figures.cost:.0f} min (in eight jobs of ten"
        f" {figures.low:.0f} to {figures.high:.0f}); works then in"
        f" {100 * figures.p_works:.0f} of 100{'' if is_open else unopened}."
    )


def _against(
    answer: DiagnosisAnswer, rivals: tuple[Rival, ...], *, opens: bool
) -> list[str]:
    rivals = tuple(rival for rival in rivals if rival.may_help)
    if not rivals:
        return []
    best = rivals[0]
    how = "" if answer.status == "optimal" else ", as far as was looked"
    said = [
        f"Runner-up: {action_words(best.action)}, {best.loses_min:.1f} min dearer{how}."
    ]
    near = [r for r in rivals if r.loses_min <= NEAR_TIE * answer.cost and r.keeps_shut]
    if opens and near:
        said.append(
            f"{action_words(near[0].action)} is as good within what the figures can"
            " tell and keeps the case shut: it may well come first."
        )
    return said


def _on_giving_up(
    table: FaultTable,
    belief: Belief,
    answer: DiagnosisAnswer,
    rivals: tuple[Rival, ...],
) -> list[str]:
    price = f"Giving up counts {table.give_up.price / 100:.2f} of money"
    tries = [
        rival
        for rival in rivals
        if rival.action in table.repairs
        and _chance(table, belief, rival.action) >= _WORTH_NAMING
    ]
    if not tries:
        return [f"{price}."]
    best = max(tries, key=lambda rival: _chance(table, belief, rival.action))
    if best.loses_min <= NEAR_TIE * answer.cost:
        return [
            f"{price}, and {best.action} is as good within what the figures can tell:"
            " let the worth of this very device decide."
        ]
    return [
        f"{price}; {best.action} would be {best.loses_min:.1f} min dearer, so a higher"
        " worth-mending limit would be needed."
    ]


def _doubts(belief: Belief, answer: DiagnosisAnswer) -> list[str]:
    said = belief.clash_words
    if belief.is_floored:
        which = "the two" if belief.clashes else "them"
        said.append(
            f"Together they exclude every fault. Each chance of 0 was taken as {FLOOR}:"
            f" look at {which} again first."
        )
    if answer.status == "bounded":
        said.append(
            f"Not proven best: no strategy takes less than {answer.bound:.0f} min."
        )
    return said

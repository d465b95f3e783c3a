"""What is opened for an action, and what may hurt there?"""

from collections.abc import Sequence
from dataclasses import replace

from turnscrew.core.diagnose.access import access_of
from turnscrew.core.diagnose.answer import Policy, Step
from turnscrew.core.diagnose.evidence import CANNOT_TELL, Belief, Evidence, Finding
from turnscrew.core.diagnose.hazards import (
    POSSIBLE,
    faults_without_power,
    looks_without_word,
    p_no_power,
    powers,
)
from turnscrew.core.diagnose.pose import Posed
from turnscrew.core.diagnose.problem import VERIFY, DiagnosisProblem
from turnscrew.core.model.faults import FaultTable

CAUTION_WORDS = {
    "mains": "Mains adapter: look at lead and case first; follow local codes and leave"
    " mains parts to licensed people.",
    "pack": "Lithium pack: do not press, lever, puncture or cut; if it is swollen, warm"
    " or smells, stop and set it apart.",
    "static": "Static: strap on, board on the mat, hold it by the edges.",
    "hot": "Hot parts: let them cool, or keep skin and leads away.",
    "glass": "Glass: eyes and hands covered; tape what is cracked.",
    "fumes": "Fumes: extraction on; gloves against residue.",
    "data": "Data: start the test image only; nothing of the owner's is opened.",
}
"""What is said of each kind of danger at an action."""


def access_moves(
    problem: DiagnosisProblem, action: str
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """
    Give what is opened and closed for an action.

    Parameters
    ----------
    problem
        The problem.
    action
        The action, by name.

    Returns
    -------
    tuple[tuple[str, ...], tuple[str, ...]]
        What is opened, and what is closed, in that order.
    """
    access, needs = access_of(problem.nodes), _needs(problem)
    wanted, shut = needs.get(action, ((), ()))
    move = access.move(
        access.opened(problem.open_now), access.opened(wanted), access.shut(shut)
    )
    names = [node.name for node in access.nodes]
    return tuple(names[i] for i in move.opens), tuple(names[i] for i in move.closes)


def cost_in_vain(problem: DiagnosisProblem, action: str, then: str) -> float:
    """
    Reckon what an action costs beyond another that comes next all the same.

    Parameters
    ----------
    problem
        The problem.
    action
        The action, by name.
    then
        What comes after it, by name.

    Returns
    -------
    float
        Its own cost and the way over it. [cost]
    """
    access, needs = access_of(problem.nodes), _needs(problem)

    def way(*names: str) -> float:
        at, cost = access.opened(problem.open_now), 0.0
        for name in names:
            wanted, shut = needs.get(name, ((), ()))
            move = access.move(at, access.opened(wanted), access.shut(shut))
            at, cost = move.open_set, cost + move.cost
        return cost + access.closing(at)

    own = {test.name: test.cost for test in problem.tests}
    own |= {repair.name: repair.cost for repair in problem.repairs}
    own[VERIFY] = problem.verification.cost
    return own.get(action, 0.0) + way(action, then) - way(then)


def _needs(
    problem: DiagnosisProblem,
) -> dict[str, tuple[tuple[str, ...], tuple[str, ...]]]:
    """Give what each action wants open, and what closed."""
    needs = {t.name: (t.open, t.closed) for t in problem.tests}
    needs |= {r.name: (r.open, r.closed) for r in problem.repairs}
    return needs | {VERIFY: ((), problem.verification.closed)}


def no_power_words(
    table: FaultTable, belief: Belief, evidence: Evidence, policy: Policy
) -> tuple[str, ...]:
    """
    Say what must be excluded before anything is switched on.

    Parameters
    ----------
    table
        The fault table.
    belief
        Belief before and after.
    evidence
        Signs and findings.
    policy
        The strategy, whose next action may power the device all the same.

    Returns
    -------
    tuple[str, ...]
        A sentence; empty if no such fault is likely enough.
    """
    if p_no_power(table, belief.after, evidence) < POSSIBLE:
        return ()
    at_power = until_power(table, evidence, policy)
    if at_power is None or p_no_power(table, belief.after, at_power) < POSSIBLE:
        named = _named(belief, faults_without_power(table, evidence))
        told = f"Do not switch on, charge or plug in before it is excluded: {named}."
        if without := looks_without_word(table, belief.after, evidence):
            told += (
                f" Nothing was told by: {', '.join(without)}. Have it looked at again "
                "by somebody signed off for packs, the pack unplugged where it can be."
            )
        return (told,)
    named = _named(belief, faults_without_power(table, at_power))
    return (
        f"No look from outside is left that could exclude it: {named}. Power only by "
        "somebody signed off, not alone, on a bare surface that does not burn, fire "
        "box open beside it; stay with it. At the first smell, smoke, warmth or "
        "swelling unplug it at the wall, do not touch it, warn everybody, call the "
        "fire service. Look after it for an hour afterwards. Follow local codes.",
    )


def _named(belief: Belief, faults: tuple[str, ...]) -> str:
    faults = tuple(sorted(faults, key=lambda name: -belief.after[name]))
    likely = [name for name in faults if belief.after[name] >= POSSIBLE / 2]
    return ", ".join(
        f"{name} {100 * belief.after[name]:.0f} %" for name in likely or faults[:1]
    )


def until_power(
    table: FaultTable, evidence: Evidence, policy: Policy
) -> Evidence | None:
    """
    Give what is known once the next action of a strategy powers the device.

    Repairs that wait for one power test come before it without a question.

    Parameters
    ----------
    table
        The fault table.
    evidence
        Signs and findings now.
    policy
        The strategy.

    Returns
    -------
    Evidence or None
        The same, with the repairs made; none if the next action powers nothing.
    """
    while isinstance(policy, Step) and policy.kind == "repair":
        made = Finding(policy.action, CANNOT_TELL)
        evidence = replace(evidence, findings=(*evidence.findings, made))
        policy = policy.branches[0][2]
    if isinstance(policy, Step) and powers(table, policy.action):
        return evidence
    return None


def is_inside(posed: Posed, action: str) -> bool:
    """
    Say whether an action lies inside the case, or opens or closes it.

    Parameters
    ----------
    posed
        The problem.
    action
        The action, by name.

    Returns
    -------
    bool
        True if so.
    """
    inside = {one.name: one.open for one in posed.problem.tests}
    inside |= {one.name: one.open for one in posed.problem.repairs}
    return any(map(bool, (inside.get(action), *access_moves(posed.problem, action))))


def caution_words(
    table: FaultTable, actions: Sequence[str], *, inside: bool
) -> tuple[str, ...]:
    """
    Say what may hurt at some actions.

    Parameters
    ----------
    table
        The fault table.
    actions
        The actions that follow one another, by name.
    inside
        One of them lies inside the case, or opens or closes it.

    Returns
    -------
    tuple[str, ...]
        A sentence for each kind.
    """
    kinds: tuple[str, ...] = ("static", "pack") if inside else ()
    for action in actions:
        if action in table.tests:
            kinds += table.tests[action].cautions
        if action in table.repairs:
            kinds += table.repairs[action].cautions
        if powers(table, action):
            kinds += ("pack",)
    return tuple(CAUTION_WORDS[kind] for kind in dict.fromkeys(kinds))

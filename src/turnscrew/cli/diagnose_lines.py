"""How do advice and a whole strategy read in a shell?"""

from collections.abc import Iterable, Mapping, Sequence

from turnscrew.core.diagnose.advice import Advice, action_words
from turnscrew.core.diagnose.answer import Leaf, Policy
from turnscrew.core.electrics.equations import equation_of
from turnscrew.core.model.hold import Hold
from turnscrew.papers.set_aside import written

_DANGERS: Mapping[str, str] = {
    "pack": (
        "Caution: by these words its pack may be bad. Isolate it: no power, no "
        "charging, no pressure; if it hisses, smokes or gets hot, leave it, warn "
        "everybody, call the fire service. Follow local codes."
    ),
    "wet": (
        "Caution: by these words liquid may be inside. No power, no charging; gloves; "
        "whoever may handle packs takes the pack out first."
    ),
}
_SEE_TO_IT = "No test before that is seen to; then ask again without those words."


def barred_lines(dangers: Sequence[Hold]) -> list[str]:
    """
    Say what comes before any test, by what the customer's words tell.

    Parameters
    ----------
    dangers
        What they tell of.

    Returns
    -------
    list[str]
        Lines.
    """
    return [*(_DANGERS[one.kind] for one in dangers), _SEE_TO_IT]


def advice_lines(advice: Advice) -> list[str]:
    """
    Write advice as readable text.

    Parameters
    ----------
    advice
        The advice.

    Returns
    -------
    list[str]
        Lines.
    """
    guess = " (a guess: only base priors speak)" if advice.is_guess else ""
    lines = [f"Next: {action_words(advice.action)}{guess}"]
    if advice.how:
        lines.append(advice.how)
    if advice.figure:
        equation = equation_of(advice.figure)
        lines.append(f"reckoned as {equation.text} ({equation.source})")
    if advice.closes:
        lines.append("close first: " + _names(advice.closes))
    if advice.opens:
        lines.append("open first: " + _names(advice.opens))
    if advice.block:
        lines.append("then, before the same check-out: " + ", ".join(advice.block))
    lines += [f"! {caution}" for caution in advice.cautions]
    lines += [f"uses {item}" for item in advice.known_good]
    lines += [f"- {reason}" for reason in advice.why]
    lines += [f"- {change}" for change in advice.would_change]
    return lines


def tree_lines(policy: Policy, depth: int = 0) -> list[str]:
    """
    Write a strategy as indented text.

    Parameters
    ----------
    policy
        The strategy.
    depth
        How far it is indented. [1]

    Returns
    -------
    list[str]
        Lines.
    """
    space = "  " * depth
    if isinstance(policy, Leaf):
        words = "hand back" if policy.kind == "works" else "give up"
        return [f"{space}{words}"]
    opened = f" [open {', '.join(map(written, policy.opens))}]" if policy.opens else ""
    closed = (
        f" [close {', '.join(map(written, policy.closes))}]" if policy.closes else ""
    )
    head = f"{space}{action_words(policy.action)}{closed}{opened}"
    lines = [f"{head}  {policy.cost:.1f} min"]
    if policy.kind == "repair":
        return lines + tree_lines(policy.branches[0][2], depth)
    for outcome, p, after in policy.branches:
        lines.append(f"{space}  {outcome} {100 * p:.0f} %:")
        lines += tree_lines(after, depth + 2)
    return lines


def _names(parts: Iterable[str]) -> str:
    """Join what a description calls its parts."""
    return ", ".join(map(written, parts))

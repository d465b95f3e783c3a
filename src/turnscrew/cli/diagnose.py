"""The command ``turnscrew diagnose``."""

import json
import sys
from dataclasses import asdict, dataclass
from pathlib import Path

from turnscrew.cli.opening import time_limit
from turnscrew.cli.reading import (
    case_from,
    devices_by_revision,
    fault_table_from,
)
from turnscrew.core.diagnose.advice import Advice, action_words
from turnscrew.core.diagnose.answer import Leaf, Policy
from turnscrew.core.diagnose.entry import evidence_from
from turnscrew.core.diagnose.pose import reaches_of
from turnscrew.core.diagnose.problem import MODES, Mode
from turnscrew.errors import BadArgumentError
from turnscrew.files.case_file import diagnosis_json
from turnscrew.flows import diagnosed, layering, next_step


@dataclass(frozen=True)
class Wish:
    """
    What the user asked for.

    Parameters
    ----------
    faults
        File of the fault table.
    device
        File of the device description.
    revision
        Revision, or none said: then all are possible.
    signs
        Signs, by name or in the customer's words.
    findings
        Findings, as typed.
    open_now
        Layers open already.
    mode
        When a power test is due.
    seconds
        Time to search. [s]
    tree
        True to print the whole strategy.
    as_json
        True for JSON.
    """

    faults: Path | None
    device: Path | None
    revision: str | None
    signs: tuple[str, ...]
    findings: tuple[str, ...]
    open_now: tuple[str, ...]
    mode: str
    seconds: float
    tree: bool
    as_json: bool


def mode_named(word: str) -> Mode:
    """
    Read the name of a mode.

    Parameters
    ----------
    word
        The name.

    Returns
    -------
    Mode
        The mode.

    Raises
    ------
    BadArgumentError
        If there is none of that name.
    """
    for mode in MODES:
        if mode == word:
            return mode
    raise BadArgumentError(f"mode {word}, wanted one of {', '.join(MODES)}")


def solve_case(
    path: Path, *, mode: str, seconds: float, tree: bool, as_json: bool
) -> None:
    """
    Solve a bare model and print the answer.

    Parameters
    ----------
    path
        The model's file.
    mode
        When a power test is due.
    seconds
        Time to search. [s]
    tree
        True to print the whole strategy.
    as_json
        True for JSON.
    """
    is_time_up = time_limit(seconds)
    answer = diagnosed(case_from(path), mode_named(mode), is_time_up, wants_policy=tree)
    if as_json:
        document = diagnosis_json(answer)
        if tree:
            document["tree"] = asdict(answer.policy) if answer.policy else None
        print(json.dumps(document, ensure_ascii=False))
        return
    print(f"{answer.status}: cost {answer.cost:.6g}, bound {answer.bound:.6g}")
    print("first: " + ", ".join(answer.first))
    for name, value in answer.values.items():
        print(f"{value:>12.6g}  {name}{'' if name in answer.proven else ' at most'}")
    if answer.policy is not None:
        print("\n".join(tree_lines(answer.policy)))


def advise(wish: Wish) -> None:
    """
    Say what to do next with a device, and why.

    Parameters
    ----------
    wish
        What the user asked for.

    Raises
    ------
    BadArgumentError
        If a file is not named or something typed is unknown.
    """
    if wish.faults is None or wish.device is None:
        raise BadArgumentError(
            "name a fault table and --device with a device description, or --case"
        )
    mode = mode_named(wish.mode)
    devices = devices_by_revision(wish.device, wish.revision)
    table = fault_table_from(wish.faults, next(iter(devices.values()))[0])
    evidence = evidence_from(table, wish.signs, wish.findings)
    layers = layering(devices, reaches_of(table), lambda: False)
    advice = next_step(
        table,
        layers,
        evidence,
        mode,
        time_limit(wish.seconds),
        open_now=wish.open_now,
    )
    if wish.as_json:
        print(json.dumps(advice_json(advice), ensure_ascii=False, default=sorted))
        return
    print("\n".join(advice_lines(advice)))
    if wish.tree and advice.answer.policy is not None:
        print("\nWhole strategy:")
        print("\n".join(tree_lines(advice.answer.policy)))
    for name, why in advice.left_out.items():
        print(f"left out: {name}: {why}", file=sys.stderr)


def advice_json(advice: Advice) -> dict[str, object]:
    """
    Give advice as plain JSON values.

    Parameters
    ----------
    advice
        The advice.

    Returns
    -------
    dict
        The document.
    """
    document = asdict(advice)
    answer = document.pop("answer")
    tree = answer.pop("policy")
    return {"status": answer["status"], **document, "answer": answer, "tree": tree}


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
    if advice.closes:
        lines.append("close first: " + ", ".join(advice.closes))
    if advice.opens:
        lines.append("open first: " + ", ".join(advice.opens))
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
    opened = f" [open {', '.join(policy.opens)}]" if policy.opens else ""
    closed = f" [close {', '.join(policy.closes)}]" if policy.closes else ""
    head = f"{space}{action_words(policy.action)}{closed}{opened}"
    lines = [f"{head}  {policy.cost:.1f} min"]
    if policy.kind == "repair":
        return lines + tree_lines(policy.branches[0][2], depth)
    for outcome, p, after in policy.branches:
        lines.append(f"{space}  {outcome} {100 * p:.0f} %:")
        lines += tree_lines(after, depth + 2)
    return lines

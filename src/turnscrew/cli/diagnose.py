"""The command ``turnscrew diagnose``."""

import json
import sys
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from turnscrew.cli.opening import paper_in, time_limit
from turnscrew.cli.reading import (
    case_from,
    devices_by_revision,
    fault_table_from,
    open_base_from,
    told_from,
)
from turnscrew.core.diagnose.advice import Advice, action_words
from turnscrew.core.diagnose.answer import Leaf, Policy
from turnscrew.core.diagnose.entry import evidence_from
from turnscrew.core.diagnose.evidence import Evidence
from turnscrew.core.diagnose.learning import MENDED, Rebased, learned
from turnscrew.core.diagnose.pose import Layering, reaches_of
from turnscrew.core.diagnose.problem import MODES, Mode
from turnscrew.core.diagnose.tree import Choice, rolled_back
from turnscrew.core.diagnose.words import OpenTexts, Told
from turnscrew.core.electrics.equations import equation_of
from turnscrew.core.model.faults import FaultTable
from turnscrew.errors import BadArgumentError
from turnscrew.files.case_file import diagnosis_json
from turnscrew.flows.diagnosis import diagnosed, layering, next_step, replayed
from turnscrew.flows.open_repairs import PSEUDO_CASES
from turnscrew.flows.words import (
    WordsRead,
    on_open_counts,
    read_words,
    said_of,
    texts_for,
)

if TYPE_CHECKING:
    from turnscrew.papers.page import Page


OpenPriors: TypeAlias = tuple[OpenTexts, Rebased] | None
"""Open counts of a table's category with the base priors made of them, if wished."""


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
    history
        File of closed jobs, or none.
    site
        Where the device is used.
    out
        Folder for the policy sheet, or none.
    paper
        Paper size.
    as_json
        True for JSON.
    words
        The customer's own words; empty if there are none.
    open_counts
        File of open counts for the base priors, or none.
    open_cases
        Own cases that they weigh; the usual ones if not said. [1]
    language
        Language of the policy sheet; empty for English.
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
    history: Path | None
    site: str
    out: Path | None
    paper: str
    as_json: bool
    words: str = ""
    open_counts: Path | None = None
    open_cases: float | None = None
    language: str = ""


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
    case = case_from(path)
    if isinstance(case, Choice):
        _show_rolled_back(case, as_json=as_json)
        return
    answer = diagnosed(case, mode_named(mode), is_time_up, wants_policy=tree)
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
    mode = mode_named(wish.mode)
    page = paper_in(wish.paper, wish.language)
    table, layers, told, priors = _bench(wish)
    if any(finding.rpartition("=")[2].strip() == MENDED for finding in wish.findings):
        _say_done(as_json=wish.as_json)
        return
    evidence = evidence_from(table, wish.signs, wish.findings)
    jobs = [one.job for one in told]
    taught = learned(table, jobs, revision=wish.revision or "", site=wish.site)
    read = _read(wish, taught.table, told, priors)
    if read is not None:
        if not read.sign:
            _say_read(read, as_json=wish.as_json)
            return
        signs = dict.fromkeys((*evidence.signs, read.sign))
        evidence = replace(evidence, signs=tuple(signs))
    advice = next_step(
        taught.table,
        layers,
        evidence,
        mode,
        time_limit(wish.seconds),
        is_learned=taught.n_jobs > 0,
        open_now=wish.open_now,
        asks_change=True,
        base_said=_base_said(priors, taught.n_jobs),
    )
    if wish.out is not None:
        path = write_sheet(taught.table, advice, evidence, wish.out, page)
        print(f"written: {path}", file=sys.stderr)
    if wish.as_json:
        document = {**advice_json(advice), **_more_json(read, priors)}
        print(json.dumps(document, ensure_ascii=False, default=sorted))
        return
    print("\n".join((*(said_of(read) if read else ()), *advice_lines(advice))))
    if wish.tree and advice.answer.policy is not None:
        print("\nWhole strategy:")
        print("\n".join(tree_lines(advice.answer.policy)))
    for name, why in advice.left_out.items():
        print(f"left out: {name}: {why}", file=sys.stderr)


def _say_done(*, as_json: bool) -> None:
    words = "Works: hand it back, and write the job down with its confirmed fault."
    print(json.dumps({"status": "works", "words": words}) if as_json else words)


def _bench(
    wish: Wish,
) -> tuple[FaultTable, Layering, tuple[Told, ...], OpenPriors]:
    if wish.faults is None or wish.device is None:
        raise BadArgumentError(
            "name a fault table and --device with a device description, or --case"
        )
    devices = devices_by_revision(wish.device, wish.revision)
    table = fault_table_from(wish.faults, next(iter(devices.values()))[0])
    told = told_from(wish.history) if wish.history else ()
    priors: OpenPriors = None
    if wish.open_counts is not None:
        texts = texts_for(table, open_base_from(wish.open_counts))
        base = on_open_counts(table, texts, pseudo_cases=_open_cases(wish))
        table, priors = base.table, (texts, base)
    return table, layering(devices, reaches_of(table), lambda: False), told, priors


def _open_cases(wish: Wish) -> float:
    return PSEUDO_CASES if wish.open_cases is None else wish.open_cases


def _base_said(priors: OpenPriors, n_jobs: int) -> tuple[str, ...]:
    if priors is None:
        return ()
    return (*priors[1].said, f"Own jobs counted over them: {n_jobs}.")


def _read(
    wish: Wish, taught: FaultTable, told: tuple[Told, ...], priors: OpenPriors
) -> WordsRead | None:
    if not wish.words:
        return None
    texts = priors[0] if priors else None
    return read_words(taught, wish.words, told, texts, open_cases=_open_cases(wish))


def _say_read(read: WordsRead, *, as_json: bool) -> None:
    if as_json:
        document = {"status": "ask", "words": asdict(read)}
        print(json.dumps(document, ensure_ascii=False))
        return
    print("\n".join(said_of(read)))


def _more_json(read: WordsRead | None, priors: OpenPriors) -> dict[str, object]:
    more: dict[str, object] = {} if read is None else {"words": asdict(read)}
    if priors is not None:
        base = priors[1]
        more["base"] = {
            "source": base.table.prior.source,
            "cases": base.table.prior.cases,
            "pseudo_cases": base.pseudo_cases,
            "kept": list(base.kept),
        }
    return more


def replay(wish: Wish) -> None:
    """
    Print closed jobs beside the advice there would have been.

    Parameters
    ----------
    wish
        What the user asked for.

    Raises
    ------
    BadArgumentError
        If there is no history, or none of its jobs can be compared.
    """
    mode = mode_named(wish.mode)
    table, layers, told, _ = _bench(wish)
    jobs = tuple(one.job for one in told)
    found = replayed(table, layers, jobs, mode, lambda: time_limit(wish.seconds))
    if not found:
        raise BadArgumentError(
            f"history: found no job of {table.family} with a confirmed fault of the"
            " table, wanted at least one (--history)"
        )
    done = sum(one.done_min for one in found)
    advised = sum(one.advised_min for one in found)
    if wish.as_json:
        rows = [
            {
                "asset": one.job.asset,
                "confirmed": one.job.confirmed,
                "done_min": one.done_min,
                "advised_min": one.advised_min,
            }
            for one in found
        ]
        total = {"jobs": rows, "done_min": done, "advised_min": advised}
        print(json.dumps(total, ensure_ascii=False))
        return
    for one in found:
        print(
            f"{one.done_min:6.0f} done {one.advised_min:6.0f} advised  "
            f"{one.job.asset or '-'}  {one.job.confirmed}"
        )
    more = "more" if advised >= done else "less"
    print(
        f"{len(found)} jobs: {done:.0f} min as done, {advised:.0f} min expected by the"
        f" advice, {100 * abs(advised / done - 1):.0f} % {more}"
    )
    left = len(jobs) - len(found)
    if left:
        print(f"{left} left out: no fault of this table was confirmed")


def write_sheet(
    table: FaultTable, advice: Advice, evidence: Evidence, out: Path, page: "Page"
) -> Path:
    """
    Write the policy sheet.

    Parameters
    ----------
    table
        The fault table.
    advice
        The advice.
    evidence
        Signs and findings.
    out
        Folder.
    page
        Paper size.

    Returns
    -------
    Path
        The file.
    """
    from turnscrew.papers.policy_sheet import policy_sheet  # noqa: PLC0415 - slow

    out.mkdir(parents=True, exist_ok=True)
    path = out / "policy-sheet.pdf"
    path.write_bytes(policy_sheet(table, advice, evidence, page))
    return path


def _show_rolled_back(choice: Choice, *, as_json: bool) -> None:
    values = rolled_back(choice)
    least = min(values.values())
    first = [name for name, value in values.items() if value <= least + 1e-9]
    if as_json:
        document = {
            "status": "optimal",
            "mode": None,
            "cost": least,
            "bound": least,
            "first": first,
            "values": values,
        }
        print(json.dumps(document, ensure_ascii=False))
        return
    print(f"optimal: cost {least:.6g}; first: {', '.join(first)}")


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
    equation = asdict(equation_of(advice.figure)) if advice.figure else None
    return {
        "status": answer["status"],
        **document,
        "equation": equation,
        "answer": answer,
        "tree": tree,
    }


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
        lines.append("close first: " + ", ".join(advice.closes))
    if advice.opens:
        lines.append("open first: " + ", ".join(advice.opens))
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

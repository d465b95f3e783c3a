"""The command ``turnscrew diagnose``."""

import json
import sys
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, TextIO, TypeAlias

from turnscrew.cli.diagnose_lines import advice_lines, barred_lines, tree_lines
from turnscrew.cli.opening import paper_in, time_limit
from turnscrew.cli.reading import (
    case_from,
    devices_by_revision,
    fault_table_from,
    open_base_from,
    told_from,
)
from turnscrew.cli.said import Wording, said, says_in
from turnscrew.cli.writing import write_whole
from turnscrew.core.diagnose.advice import Advice
from turnscrew.core.diagnose.entry import evidence_from, says_mended
from turnscrew.core.diagnose.evidence import Evidence
from turnscrew.core.diagnose.learning import Rebased, learned
from turnscrew.core.diagnose.pose import Layering, reaches_of
from turnscrew.core.diagnose.problem import MODES, Mode
from turnscrew.core.diagnose.tree import Choice, rolled_back
from turnscrew.core.diagnose.words import OpenTexts, Told
from turnscrew.core.electrics.equations import equation_of
from turnscrew.core.model.amounts import counted
from turnscrew.core.model.device import Device
from turnscrew.core.model.faults import FaultTable
from turnscrew.core.model.hold import Hold
from turnscrew.core.reconcile.remarks import told_holds
from turnscrew.errors import BadArgumentError
from turnscrew.files.case_file import diagnosis_json
from turnscrew.flows.diagnosis import (
    diagnosed,
    has_fault_of,
    layering,
    next_step,
    replayed,
)
from turnscrew.flows.open_repairs import PSEUDO_CASES
from turnscrew.flows.words import (
    WordsRead,
    on_open_counts,
    read_words,
    said_of,
    texts_for,
)
from turnscrew.papers.telling import texts_in

if TYPE_CHECKING:
    from turnscrew.papers.page import Page


_LAYERS_S = 20.0
"""Time for the ways into all layers; then the best found is priced. [s]"""

_LEFT_OUT = {
    "no_fault_confirmed": "no fault of this table was confirmed",
    "not_told_what_was_done": "what was done is not told in names of this table",
}
"""Why closed jobs are not compared with the advice."""

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
    wording
        How what is printed and the policy sheet are read.
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
    wording: Wording = Wording()


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
    page = paper_in(wish.paper, wish.wording)
    table, layers, told, priors = _bench(wish)
    left = tuple(one for one in wish.findings if not says_mended(table, one))
    evidence = evidence_from(table, wish.signs, left)
    if _is_ended(wish, works=left != wish.findings):
        return
    jobs = [one.job for one in told]
    taught = learned(table, jobs, revision=wish.revision or "", site=wish.site)
    read = _read(wish, taught.table, told, priors)
    if read is not None:
        if not read.sign:
            _say_read(wish, read, taught.table)
            return
        signs = dict.fromkeys((*evidence.signs, read.sign))
        evidence = replace(evidence, signs=tuple(signs))
    advice = next_step(
        taught.table, layers, evidence, mode, time_limit(wish.seconds),
        is_learned=taught.n_jobs > 0, open_now=wish.open_now, asks_change=True,
        base_said=_base_said(priors, taught.n_jobs),
    )  # fmt: skip
    if wish.out is not None:
        path = write_sheet(taught.table, advice, evidence, wish.out, page)
        _say((f"written: {path}",), wish, taught.table, to=sys.stderr)
    if wish.as_json:
        document = {**advice_json(advice), **_more_json(read, priors)}
        print(json.dumps(document, ensure_ascii=False, default=sorted))
        return
    lines = [*(said_of(read) if read else ()), *advice_lines(advice)]
    if wish.tree and advice.answer.policy is not None:
        lines += ["", "Whole strategy:", *tree_lines(advice.answer.policy)]
    _say(lines, wish, taught.table)
    left_out = [f"left out: {name}: {why}" for name, why in advice.left_out.items()]
    _say(left_out, wish, taught.table, to=sys.stderr)


def _say(
    lines: Iterable[str], wish: Wish, table: FaultTable | None = None, *,
    to: TextIO | None = None,
) -> None:  # fmt: skip
    """Print lines in the language wished; what the table says stays as it is."""
    own = texts_in(table) if wish.wording.language and table is not None else ()
    for line in said(lines, says_in(wish.wording, "diagnose", own)):
        print(line, file=to)


def _is_ended(wish: Wish, *, works: bool) -> bool:
    """Say why nothing is searched for, if so: what was told forbids it, or it works."""
    dangers = told_holds(wish.words)
    if dangers:
        _say_barred(wish, dangers)
    elif works:
        _say_done(wish)
    return bool(dangers) or works


def _say_done(wish: Wish) -> None:
    words = "Works: hand it back, and write the job down with its confirmed fault."
    if wish.as_json:
        print(json.dumps({"status": "works", "words": words}))
        return
    _say([words], wish)


def _say_barred(wish: Wish, dangers: Sequence[Hold]) -> None:
    """Say in place of a test what the customer's words forbid."""
    if wish.as_json:
        because = [{"kind": one.kind, "says": one.says} for one in dangers]
        document = {"status": "no power", "because": because, "words": wish.words}
        print(json.dumps(document, ensure_ascii=False))
        return
    _say(barred_lines(dangers), wish)


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
    return table, _layers(devices, table), told, priors


def _layers(devices: Mapping[str, tuple[Device, float]], table: FaultTable) -> Layering:
    return layering(devices, reaches_of(table), time_limit(_LAYERS_S))


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


def _say_read(wish: Wish, read: WordsRead, table: FaultTable) -> None:
    if wish.as_json:
        document = {"status": "ask", "words": asdict(read)}
        print(json.dumps(document, ensure_ascii=False))
        return
    _say(said_of(read), wish, table)


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
            " table that tells what was done, wanted at least one (--history)"
        )
    done = sum(one.done_min for one in found)
    advised = sum(one.advised_min for one in found)
    confirmed = sum(has_fault_of(table, job) for job in jobs)
    left_out = {
        "no_fault_confirmed": len(jobs) - confirmed,
        "not_told_what_was_done": confirmed - len(found),
    }
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
        total = {
            "jobs": rows,
            "done_min": done,
            "advised_min": advised,
            "left_out": left_out,
        }
        print(json.dumps(total, ensure_ascii=False))
        return
    lines = [
        f"{one.done_min:6.0f} done {one.advised_min:6.0f} advised  "
        f"{one.job.asset or '-'}  {one.job.confirmed}"
        for one in found
    ]
    lines.append(
        f"{counted(len(found), 'job')}: {done:.0f} min as done, {advised:.0f} min "
        f"expected by the advice{_compared(done, advised)}"
    )
    lines += [f"{n} left out: {_LEFT_OUT[why]}" for why, n in left_out.items() if n]
    _say(lines, wish, table)


def _compared(done_min: float, advised_min: float) -> str:
    if not done_min:
        return ""
    more = "more" if advised_min >= done_min else "less"
    return f", {100 * abs(advised_min / done_min - 1):.0f} % {more}"


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
    write_whole(path, policy_sheet(table, advice, evidence, page))
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

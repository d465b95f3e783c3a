"""The work of the commands ``turnscrew batches`` and ``fleets``: many workshops."""

import json
import sys
import traceback
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any, cast

from turnscrew.cli.batch import Wish, answered, write_papers
from turnscrew.cli.batch_folder import folder_from
from turnscrew.cli.fleet_history import Options, document, reported
from turnscrew.cli.opening import page_named
from turnscrew.cli.progress import progress
from turnscrew.cli.workers import spread_over
from turnscrew.cli.writing import write_whole
from turnscrew.core.model.amounts import counted, money
from turnscrew.errors import BadArgumentError, BadFileError, TurnscrewError
from turnscrew.files.batch_json import batch_json
from turnscrew.flows.fleet.spread import Spread
from turnscrew.papers.fleet_report import fleet_report_pdf
from turnscrew.papers.page import Page

OUR_BUG = 70
"""Exit code where a fault is ours."""

_OUR_BUG = "our bug, please report it with the lines below"


@dataclass(frozen=True)
class Told:
    """
    What came of one workshop.

    Parameters
    ----------
    name
        Its name, of the folder or file.
    line
        The answer in one line; empty if there is none.
    document
        The answer for programs; ``None`` if there is none.
    problems
        Why there is none.
    fault
        Where in the program it failed, if the fault is ours.
    """

    name: str
    line: str = ""
    document: dict[str, Any] | None = None
    problems: tuple[str, ...] = ()
    fault: str = ""


def batches(folders: Sequence[Path], wish: Wish, *, engine: str, n_workers: int) -> int:
    """
    Reckon the batches of many folders; print a line for each, write their papers.

    Parameters
    ----------
    folders
        The folders, their names all different.
    wish
        What is asked of each; its folder does not count, ``out`` is that of all.
    engine
        Where it is reckoned.
    n_workers
        Processes, where there are several. [1]

    Returns
    -------
    int
        Exit code: 1 if a folder could not be reckoned, the others were; 70 if the
        fault is ours.
    """
    page_named(wish.paper)
    named = _named(folders)
    items = [
        (name, replace(wish, folder=path, out=wish.out and wish.out / name))
        for name, path in named.items()
    ]
    with spread_over(engine, n_workers) as spread:
        return _shown(_each(spread, _one_batch, items), as_json=wish.as_json)


def fleets(paths: Sequence[Path], options: Options, out: Path | None) -> int:
    """
    Report on the fleet of each history by itself.

    Parameters
    ----------
    paths
        The files, their names all different.
    options
        What is asked of each.
    out
        Folder for a report (PDF) of each, or none.

    Returns
    -------
    int
        Exit code: 1 if a file could not be read, the others were; 70 if the fault is
        ours.
    """
    page_named(options.paper)
    items = [(name, path, options, out) for name, path in _named(paths).items()]
    with spread_over(options.engine, options.n_workers) as spread:
        return _shown(_each(spread, _one_fleet, items), as_json=options.as_json)


def _named(paths: Sequence[Path]) -> dict[str, Path]:
    named: dict[str, Path] = {}
    for path in paths:
        name = path.absolute().name.removesuffix(".csv")
        if name in named:
            raise BadArgumentError(
                f"found two of the name {name} ({named[name]} and {path}), "
                "wanted names that differ"
            )
        named[name] = path
    return named


def _each(
    spread: Spread, do: Callable[[Any], Told], items: Sequence[Any]
) -> Iterator[Told]:
    """Give the answers in order, as they come."""
    with progress(f"{len(items):,} workshops") as tell:
        tell(0, len(items), "begun")
        for n, told in enumerate(spread.in_turn(partial(_told, do), items), 1):
            tell(n, len(items), told.name)
            yield told


def _told(do: Callable[[Any], Told], item: tuple[Any, ...]) -> Told:
    """Give the answer, or why there is none: one workshop never ends the others."""
    try:
        return do(item)
    except (TurnscrewError, OSError) as error:
        return Told(item[0], problems=_problems(error))
    except Exception:  # noqa: BLE001 - our bug, told as such once the others are done
        return Told(item[0], problems=(_OUR_BUG,), fault=traceback.format_exc())


def _shown(found: Iterator[Told], *, as_json: bool) -> int:
    code = 0
    documents: dict[str, Any] = {}
    for told in found:
        code = max(code, OUR_BUG if told.fault else int(told.document is None))
        documents[told.name] = told.document or {"problems": told.problems}
        if not as_json:
            print(f"{told.name}: {told.line or 'not reckoned'}")
            for problem in told.problems:
                print(f"  {problem}")
        if told.fault:
            print(f"{told.name}: {_OUR_BUG}", told.fault, sep="\n", file=sys.stderr)
    if as_json:
        print(json.dumps(documents, ensure_ascii=False))
    return code


def _one_batch(item: tuple[str, Wish]) -> Told:
    name, wish = item
    batch = folder_from(wish.folder)
    answer, openings = answered(wish, batch)
    if wish.out is not None:
        page = page_named(wish.paper)
        write_papers(answer, wish.out, page, openings(), _silent)
    kinds = [one.decision.code for one in answer.devices]
    late = answer.planned.rule.late(answer.planned.problem)
    line = (
        f"{counted(len(kinds), 'device')}, {kinds.count('ask')} to ask, "
        f"{kinds.count('strip')} donors, "
        f"invoice before tax {money(answer.account.invoice_minor)} "
        f"{answer.batch.terms.currency} if all are approved, "
        f"parts to buy {money(answer.supply.cost_minor)}, "
        f"{len(late)} late by the hand rule"
    )
    if unplanned := len(answer.planned.rule.impossible):
        line += f", {unplanned} cannot be planned"
    return Told(name, line, batch_json(answer))


def _one_fleet(item: tuple[str, Path, Options, Path | None]) -> Told:
    name, path, options, out = item
    alone = replace(options, engine="here")
    report, without = reported([path], alone)
    if out is not None:
        out.mkdir(parents=True, exist_ok=True)
        write_whole(
            out / f"{name}.pdf",
            fleet_report_pdf(
                report, title=name, n_without_cause=len(without),
                page=cast(Page, options.paper),
            )
        )  # fmt: skip
    line = (
        f"{counted(report.n_failures, 'failure')} in {report.device_years:,.1f} "
        f"device-years, {len(report.advice)} advice"
    )
    return Told(name, line, document(report, without))


def _problems(error: TurnscrewError | OSError) -> tuple[str, ...]:
    if isinstance(error, OSError):
        return (f"{error.filename or 'file'}: {error.strerror}",)
    if isinstance(error, BadFileError):
        return tuple(map(str, error.problems))
    return (str(error),)


def _silent(_done: int, _all: int, _words: str) -> None:
    pass

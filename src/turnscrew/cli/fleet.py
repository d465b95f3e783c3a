"""The commands ``turnscrew fleet`` and ``turnscrew selfcheck``."""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from typing import Any

from turnscrew.cli.fleet_history import Options
from turnscrew.cli.fleet_history import show as show_histories
from turnscrew.cli.reading import is_history, open_repairs_from
from turnscrew.cli.said import Wording, said, says_in
from turnscrew.core.model.amounts import percent
from turnscrew.core.reliability.shares import ShareLimits
from turnscrew.errors import BadArgumentError
from turnscrew.files.open_repairs_file import RecordsRead
from turnscrew.flows import selfcheck
from turnscrew.flows.open_repairs import (
    AGE_QUANTILES,
    Faults,
    OpenRecordAnswer,
    Outcomes,
    told_by_open_record,
)
from turnscrew.flows.selfcheck.case import Case, misses
from turnscrew.papers.set_aside import written

_MOST_ODD = 20
"""Odd fields shown; the rest are counted. [1]"""


def run(paths: Sequence[Path], options: Options) -> None:
    """
    Report on a fleet, or count an open record of repairs.

    Parameters
    ----------
    paths
        The files; a heading with ``unit`` makes a history.
    options
        The options.

    Raises
    ------
    BadFileError
        If a file is neither, with every problem and its line.
    BadArgumentError
        If an option is wrong, or several files are no histories.
    """
    if len(paths) == 1 and not is_history(paths[0]):
        if options.pdf is not None or options.replace:
            raise BadArgumentError(
                f"{paths[0].name}: found no column unit, wanted the history of a fleet "
                "for a report"
            )
        show(
            paths[0], confidence=options.confidence, as_json=options.as_json,
            wording=options.wording,
        )  # fmt: skip
        return
    show_histories(paths, options)


def show(path: Path, *, confidence: float, as_json: bool, wording: Wording) -> None:
    """
    Count an open record of repairs and print its tables.

    Parameters
    ----------
    path
        The file.
    confidence
        How sure limits of shares are. [1]
    as_json
        True for JSON.
    wording
        How what is printed is read.

    Raises
    ------
    BadFileError
        If it is no such record, with every problem and its line.
    """
    says = says_in(wording, "fleet")
    read = open_repairs_from(path)
    answer = told_by_open_record(read.records, confidence=confidence)
    if as_json:
        odd = [asdict(problem) for problem in read.odd]
        print(json.dumps({**asdict(answer), "odd": odd}, ensure_ascii=False))
        return
    told = _lines(answer, read, confidence)
    print("\n".join(said(told, says)))


def _lines(
    answer: OpenRecordAnswer, read: RecordsRead, confidence: float
) -> Iterator[str]:
    yield f"{answer.n:,} repairs, read as {read.mapped}; {len(read.odd)} odd fields"
    yield from (f"  {problem}" for problem in read.odd[:_MOST_ODD])
    yield f"shares with limits of {percent(confidence)}, exact"
    for title, tables in (
        ("what came of them", answer.outcomes),
        ("what came of them, by age", answer.outcomes_by_age),
    ):
        yield ""
        yield f"{title}:"
        yield from map(_outcome_line, tables)
    yield ""
    yield f"age in years, mean and {', '.join(f'{percent(q)}' for q in AGE_QUANTILES)}:"
    for ages in answer.ages:
        if ages.mean_years is None:
            yield f"  {ages.what}: no age told in {ages.n_without:,} rows"
            continue
        quantiles = ", ".join(f"{age:g}" for age in ages.quantiles_years)
        yield (
            f"  {ages.what}: {ages.mean_years:.2f}; {quantiles}"
            f" ({ages.n:,} told, {ages.n_without:,} not)"
        )
    for faults in answer.faults:
        yield ""
        yield from _fault_lines(faults)
    for what, barriers in answer.barriers.items():
        if barriers:
            told = "; ".join(f"{name} {n}" for name, n in sorted(barriers.items()))
            yield f"why {what} came to its end: {told}"
    yield ""
    yield from answer.limits


def _outcome_line(one: Outcomes) -> str:
    told = "; ".join(
        f"{status} {share.count:,} {_share(share)}"
        for status, share in one.shares.items()
    )
    category, comma, age = one.what.partition(", ")
    what = f"{written(category)}{comma}{age}"
    return f"  {what}: {told}; not known {one.counts['Unknown']:,}"


def _fault_lines(one: Faults) -> Iterator[str]:
    yield (
        f"faults of {one.what}: {one.n:,} known, {one.n_unknown:,} read and not told, "
        f"{one.n_unread:,} not read; prior of {one.pseudo_cases:g} cases:"
    )
    for name, share in one.shares.items():
        yield f"  {name}: {share.count:,} {_share(share)}, prior {one.prior[name]:.2f}"


def _share(share: ShareLimits) -> str:
    if share.share is None:
        return "(of none)"
    return f"({share.share:.3f}, {share.low:.3f} to {share.high:.3f})"


def cases() -> tuple[Case, ...]:
    """
    Give every published figure that is laid beside ours.

    Returns
    -------
    tuple
        The cases, by name.
    """
    found: list[Case] = []
    for module in iter_modules(selfcheck.__path__, f"{selfcheck.__name__}."):
        found += vars(import_module(module.name)).get("CASES", ())
    return tuple(
        sorted(found, key=lambda case: (case.name[:1], len(case.name), case.name))
    )


def check_self(*, as_json: bool) -> int:
    """
    Reckon every published figure and say whether ours agrees.

    Parameters
    ----------
    as_json
        True for JSON.

    Returns
    -------
    int
        0 if all agree, else 1.
    """
    told = [(case, misses(case)) for case in cases()]
    n_off = sum(bool(off) for _, off in told)
    if as_json:
        print(json.dumps([_document(case, off) for case, off in told]))
        return 1 if n_off else 0
    for case, off in told:
        print(f"{case.name} {case.title}: {'NOT as' if off else 'as'} printed")
        print(f"    {case.source}")
        for miss in off:
            print(f"    {miss}")
    print(f"{len(told) - n_off} of {len(told)} as printed")
    return 1 if n_off else 0


def _document(case: Case, off: tuple[Any, ...]) -> Mapping[str, Any]:
    return {
        "name": case.name, "title": case.title, "source": case.source,
        "agrees": not off, "off": [str(miss) for miss in off],
    }  # fmt: skip

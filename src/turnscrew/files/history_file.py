"""
How are closed jobs read from a table of commas?

One row a job: ``family, revision, site, day, asset, signs, findings, confirmed, end``.
Columns are found by their names, in any order. Signs and findings are parted by
semicolons; a finding is ``name=outcome``, in the order made. No row is dropped.
"""

import csv
from collections.abc import Mapping, Sequence
from datetime import date
from io import StringIO
from typing import get_args

from turnscrew.core.model.nearest import nearest
from turnscrew.core.model.past_job import End, PastJob
from turnscrew.errors import BadFileError, Problem

REQUIRED = ("family", "findings", "end")
COLUMNS = (*REQUIRED, "confirmed", "signs", "revision", "site", "day", "asset")


def read_history(text: str) -> tuple[PastJob, ...]:
    """
    Read closed jobs.

    Parameters
    ----------
    text
        The table with its heading.

    Returns
    -------
    tuple
        The jobs, in the order of the text.

    Raises
    ------
    BadFileError
        If anything does not fit, with every problem and its line.
    """
    rows = csv.DictReader(StringIO(text.removeprefix("\ufeff")), strict=True)
    problems = _heading(rows.fieldnames or ())
    jobs: list[PastJob] = []
    if not problems:
        try:
            for row in rows:
                found = _problems_in(row, rows.line_num)
                problems += found
                if not found:
                    jobs.append(_job(row))
        except csv.Error as error:
            problems.append(Problem("row", str(error), "a table", rows.line_num, 1))
    if problems:
        raise BadFileError(tuple(problems))
    return tuple(jobs)


def _heading(names: Sequence[str]) -> list[Problem]:
    problems = [
        Problem("heading", f"no column {name}", name, 1, 1)
        for name in REQUIRED
        if name not in names
    ]
    for name in names:
        if name not in COLUMNS:
            wanted = nearest(name, COLUMNS) or "one of " + ", ".join(COLUMNS)
            problems.append(Problem("heading", f"unknown column {name}", wanted, 1, 1))
    return problems


def _problems_in(row: Mapping[str | None, object], line: int) -> list[Problem]:
    if None in row or any(value is None for value in row.values()):
        return [Problem("row", "cells out of number", "one for each column", line, 1)]
    problems: list[Problem] = []
    end = str(row["end"]).strip()
    if end not in get_args(End):
        wanted = nearest(end, get_args(End)) or "one of " + ", ".join(get_args(End))
        problems.append(Problem("end", end or "nothing", wanted, line, 1))
    if end == "mended" and not str(row.get("confirmed") or "").strip():
        problems.append(
            Problem("confirmed", "nothing", "the fault that was mended", line, 1)
        )
    for finding in _parts(row["findings"]):
        if not all(part.strip() for part in finding.partition("=")):
            problems.append(Problem("findings", finding, "name=outcome", line, 1))
    day = str(row.get("day") or "").strip()
    if day and _day(day) is None:
        problems.append(Problem("day", day, "a day such as 2027-02-01", line, 1))
    return problems


def _parts(cell: object) -> list[str]:
    return [part.strip() for part in str(cell or "").split(";") if part.strip()]


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _job(row: Mapping[str | None, object]) -> PastJob:
    def cell(name: str) -> str:
        return str(row.get(name) or "").strip()

    pairs = [finding.partition("=") for finding in _parts(row["findings"])]
    end: End = next(end for end in get_args(End) if end == cell("end"))
    return PastJob(
        family=cell("family"),
        end=end,
        confirmed=cell("confirmed"),
        signs=tuple(_parts(row.get("signs"))),
        findings=tuple((name.strip(), said.strip()) for name, _, said in pairs),
        revision=cell("revision"),
        site=cell("site"),
        day=_day(cell("day")),
        asset=cell("asset"),
    )

"""The command ``turnscrew check``."""

import json
import sys
from dataclasses import asdict
from pathlib import Path

from turnscrew.cli.reading import device_from, named, problem_from, revisions_from
from turnscrew.core.model.debts import debts
from turnscrew.errors import BadFileError, Problem
from turnscrew.flows import what_cannot_go_back

DEBTS_SHOWN = 10
"""Debts told per file; the rest is counted. [1]"""


def check_files(paths: list[Path], *, as_json: bool) -> int:
    """
    Check files and print every problem.

    Parameters
    ----------
    paths
        The files.
    as_json
        True for one JSON document.

    Returns
    -------
    int
        0 if all are clean, 2 otherwise.
    """
    problems: list[Problem] = []
    for path in paths:
        found = _problems_in(path)
        problems += found
        if not found and not as_json:
            print(f"{path}: clean")
            _tell_debts(path)
    if as_json:
        print(json.dumps([asdict(p) for p in problems], ensure_ascii=False, indent=1))
    for problem in problems:
        print(problem, file=sys.stderr)
    return 2 if problems else 0


def _problems_in(path: Path) -> list[Problem]:
    try:
        if path.suffix == ".json":
            problem_from(path)
            return []
        if path.name.endswith((".device.yaml", ".device.yml")):
            return [
                knot
                for revision in revisions_from(path) or (None,)
                for knot in _knots(path, revision)
            ]
    except BadFileError as error:
        return list(named(error, path))
    except OSError as error:
        return [
            Problem(
                "file",
                error.strerror or "error",
                "a file that can be read",
                file=str(path),
            )
        ]
    wanted = "a name that ends in .device.yaml or .json"
    return [Problem("file name", path.name, wanted, file=str(path))]


def _knots(path: Path, revision: str | None) -> list[Problem]:
    """Find what could come off but never go back."""
    knot = what_cannot_go_back(device_from(path, revision))
    if not knot:
        return []
    where = f"way back{f', revision {revision}' if revision else ''}"
    found = f"these wait for one another: {', '.join(knot)}"
    return [Problem(where, found, "an order in which all go back", file=str(path))]


def _tell_debts(path: Path) -> None:
    if path.suffix == ".json":
        return
    lacking = debts(device_from(path, None))
    for debt in lacking[:DEBTS_SHOWN]:
        print(f"  lacks: {debt.where}: {debt.lacks}")
    if len(lacking) > DEBTS_SHOWN:
        print(f"  and {len(lacking) - DEBTS_SHOWN} more facts")

"""The command ``turnscrew check``."""

import json
import sys
from collections.abc import Callable
from dataclasses import asdict, replace
from pathlib import Path

from turnscrew.cli.batch import descriptions_in
from turnscrew.cli.batch_folder import folder_from, one_from
from turnscrew.cli.reading import (
    bare_from,
    devices_from,
    fault_table_from,
    history_from,
)
from turnscrew.core.model.debts import Debt, debts
from turnscrew.core.model.device import Device
from turnscrew.errors import BadFileError, Problem
from turnscrew.files.batch_folder import is_of_batch
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.yaml_text import decode, placed, read_tree
from turnscrew.flows.batch.harvest import listed_in_vain, with_never_harvested
from turnscrew.flows.opening import what_cannot_go_back

DEVICE_ENDS = (".device.yaml", ".device.yml")
FAULTS_ENDS = (".faults.yaml", ".faults.yml")

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
        found, lacking = _judged(path)
        problems += found
        if not found and not as_json:
            print(f"{path}: clean")
            _tell(lacking)
    if as_json:
        print(json.dumps([asdict(p) for p in problems], ensure_ascii=False, indent=1))
    for problem in problems:
        print(problem, file=sys.stderr)
    return 2 if problems else 0


def _judged(path: Path) -> tuple[list[Problem], tuple[Debt, ...]]:
    """Read a file once: its problems, and what a description still lacks."""
    try:
        if path.name.endswith(DEVICE_ENDS):
            devices = devices_from(path)
            knots = [knot for device in devices for knot in _knots(path, device)]
            return knots, debts(devices[0])
        read = _reader_of(path)
        if read is not None:
            read(path)
            return _beside(path), ()
    except BadFileError as error:
        return [*error.problems, *_beside(path)], ()
    except OSError as error:
        found = error.strerror or "an error"
        return [Problem("file", found, "a file that can be read", file=str(path))], ()
    wanted = (
        "a name that ends in .device.yaml, .faults.yaml, history.csv or .json, or the "
        "folder of a batch or a file of one"
    )
    return [Problem("file name", path.name, wanted, file=str(path))], ()


def _beside(path: Path) -> list[Problem]:
    """Find what is wrong with the descriptions and fault tables in a folder."""
    if not path.is_dir():
        return []
    ends = (*DEVICE_ENDS, *FAULTS_ENDS)
    known = sorted(one for one in path.iterdir() if one.name.endswith(ends))
    return [problem for one in known for problem in _judged(one)[0]]


def _reader_of(path: Path) -> Callable[[Path], object] | None:
    """Find who reads a file, by its name."""
    readers: tuple[tuple[bool, Callable[[Path], object]], ...] = (
        (path.is_dir(), _read_folder),
        (path.suffix == ".json", bare_from),
        (path.name.endswith(FAULTS_ENDS), _read_faults),
        (is_of_batch(path.name), one_from),
        (path.name.endswith("history.csv"), history_from),
    )
    return next((read for is_it, read in readers if is_it), None)


def _read_folder(path: Path) -> None:
    """Read the folder of a batch, and what its terms may not list for harvest."""
    batch = folder_from(path)
    known = with_never_harvested(batch, descriptions_in(path, batch))
    tree, _ = read_tree(decode((path / "terms.yaml").read_bytes()))
    refuse_if_any(
        replace(
            placed(tree, ("models", model, key), f"{part}, never harvested", "no pack"),
            file="terms.yaml",
        )
        for model, key, part in listed_in_vain(known)
    )


def _read_faults(path: Path) -> None:
    """Read a fault table, against the device description beside it if there is one."""
    stem = path.name.removesuffix(path.suffix).removesuffix(".faults")
    beside = path.with_name(f"{stem}.device{path.suffix}")
    fault_table_from(path, devices_from(beside)[0] if beside.exists() else None)


def _knots(path: Path, device: Device) -> list[Problem]:
    """Find what could come off but never go back."""
    knot = what_cannot_go_back(device)
    if not knot:
        return []
    where = f"way back{f', revision {device.revision}' if device.revision else ''}"
    found = f"these wait for one another: {', '.join(knot)}"
    return [Problem(where, found, "an order in which all go back", file=str(path))]


def _tell(lacking: tuple[Debt, ...]) -> None:
    for debt in lacking[:DEBTS_SHOWN]:
        print(f"  lacks: {debt.where}: {debt.lacks}")
    if len(lacking) > DEBTS_SHOWN:
        print(f"  and {len(lacking) - DEBTS_SHOWN} more facts")

"""How are files read for the commands?"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from turnscrew.core.diagnose.problem import DiagnosisProblem
from turnscrew.core.diagnose.tree import Choice
from turnscrew.core.diagnose.words import Told
from turnscrew.core.model.device import Device
from turnscrew.core.model.faults import FaultTable
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.model.person import Person
from turnscrew.core.opening.problem import OpeningProblem
from turnscrew.errors import BadArgumentError, BadFileError, Problem
from turnscrew.files.case_file import is_case, read_case, read_tree
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.faults_file import read_faults
from turnscrew.files.fleet_file import FleetHistory, read_fleet
from turnscrew.files.fleet_heading import heading_of
from turnscrew.files.history_file import read_history, read_told
from turnscrew.files.open_repairs_file import RecordsRead, read_open_repairs
from turnscrew.files.problem_file import read_problem
from turnscrew.files.sheet_grid import ENDINGS, as_text
from turnscrew.files.spells_file import Spells, read_spells
from turnscrew.files.symptom_counts_file import (
    is_symptom_counts,
    read_symptom_counts,
)
from turnscrew.files.terms_file import read_people
from turnscrew.files.yaml_text import decode

if TYPE_CHECKING:
    from turnscrew.flows.words import OpenBase

_Value = TypeVar("_Value")


def device_from(path: Path, revision: str | None) -> Device:
    """
    Read a device description.

    Parameters
    ----------
    path
        The file.
    revision
        Revision wanted; the first one if not said.

    Returns
    -------
    Device
        The device.

    Raises
    ------
    BadFileError
        If the text breaks its format; every problem bears the file's name.
    BadArgumentError
        If the description has no such revision.
    """

    def reader(text: str) -> Device:
        known = revisions_in(text)
        if revision is not None and revision not in known:
            raise BadArgumentError(
                f"no revision {revision}, wanted one of {', '.join(known) or 'none'}"
            )
        return read_device(text, revision=revision or next(iter(known), None))

    return _read(path, reader)


def people_from(path: Path) -> dict[str, Person]:
    """
    Read the people of the workshop.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    dict
        People by role.

    Raises
    ------
    BadFileError
        If the text breaks its format; every problem bears the file's name.
    """
    return _read(path, read_people)


def devices_from(path: Path) -> tuple[Device, ...]:
    """
    Read a device description in every revision it knows.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    tuple
        One device a revision; the base as written if there are none.

    Raises
    ------
    BadFileError
        If the text breaks its format; every problem bears the file's name.
    """

    def reader(text: str) -> tuple[Device, ...]:
        known = tuple(revisions_in(text))
        return tuple(read_device(text, revision=name) for name in known or (None,))

    return _read(path, reader)


def problem_from(path: Path) -> OpeningProblem:
    """
    Read a numeric problem.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    OpeningProblem
        The problem.

    Raises
    ------
    BadFileError
        If the text breaks its format; every problem bears the file's name.
    """
    return _read(path, read_problem)


def case_from(path: Path) -> DiagnosisProblem | Choice:
    """
    Read a bare model of diagnosis, or an explicit decision tree.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    DiagnosisProblem | Choice
        The model or the tree.

    Raises
    ------
    BadFileError
        If the text breaks its format; every problem bears the file's name.
    """
    return _read(path, _case)


def bare_from(path: Path) -> DiagnosisProblem | Choice | OpeningProblem:
    """
    Read whichever bare problem a file holds.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    DiagnosisProblem | Choice | OpeningProblem
        A model of diagnosis, a decision tree or a problem of opening.

    Raises
    ------
    BadFileError
        If the text breaks its format; every problem bears the file's name.
    """

    def reader(text: str) -> DiagnosisProblem | Choice | OpeningProblem:
        return _case(text) if is_case(text) else read_problem(text)

    return _read(path, reader)


def _case(text: str) -> DiagnosisProblem | Choice:
    return read_tree(text) or read_case(text)


def history_from(path: Path) -> tuple[PastJob, ...]:
    """
    Read closed jobs.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    tuple
        The jobs.

    Raises
    ------
    BadFileError
        If the text breaks its format; every problem bears the file's name.
    """
    return _read_bytes(path, lambda content: read_history(content, path.name))


def told_from(path: Path) -> tuple[Told, ...]:
    """
    Read closed jobs with the customers' words.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    tuple
        The jobs with their words.

    Raises
    ------
    BadFileError
        If the text breaks its format; every problem bears the file's name.
    """
    return _read_bytes(path, lambda content: read_told(content, path.name))


def open_base_from(path: Path) -> "OpenBase":
    """
    Read open counts by sort of fault.

    Parameters
    ----------
    path
        Counts of signs, or an open record of repairs in which somebody sorted faults.

    Returns
    -------
    OpenBase
        Jobs and words.

    Raises
    ------
    BadFileError
        If it is neither; every problem bears the file's name.
    """
    from turnscrew.flows.words import (  # noqa: PLC0415 - slow libraries
        base_of_counts,
        base_of_records,
    )

    def reader(content: bytes) -> "OpenBase":
        if is_symptom_counts(content):
            return base_of_counts(read_symptom_counts(content, path.name))
        return base_of_records(read_open_repairs(content).records)

    return _read_bytes(path, reader)


def open_repairs_from(path: Path) -> RecordsRead:
    """
    Read an open record of repairs.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    RecordsRead
        Every row, and what did not fit.

    Raises
    ------
    BadFileError
        If it is no such record; every problem bears the file's name.
    """
    return _read_bytes(path, read_open_repairs)


def spells_from(path: Path) -> Spells:
    """
    Read which device had which accessory, place or person.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    Spells
        The spells.

    Raises
    ------
    BadFileError
        If it is no such table; every problem bears the file's name.
    """
    return _read_bytes(path, partial(read_spells, name=path.name))


def is_history(path: Path) -> bool:
    """
    Say whether a file looks like the history of a fleet.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    bool
        True if a column of its heading names units, and for a spreadsheet, as nothing
        else here is read from one; False too if it cannot be read.
    """
    if _is_spreadsheet(path):
        return True
    try:
        with path.open("rb") as file:
            head = file.read(10_000)
    except OSError:
        return False
    return heading_of(head.decode("utf-8-sig", "replace")) is not None


def fleet_from(path: Path) -> FleetHistory:
    """
    Read the history of a fleet.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    FleetHistory
        The fleet by model.

    Raises
    ------
    BadFileError
        If it is no such history; every problem bears the file's name.
    """
    if _is_spreadsheet(path):
        return _read_bytes(path, lambda sheet: read_fleet(as_text(sheet, path.name)))
    return _read_bytes(path, read_fleet)


def _is_spreadsheet(path: Path) -> bool:
    return path.name.lower().endswith(ENDINGS)


def fault_table_from(path: Path, device: Device | None) -> FaultTable:
    """
    Read a fault table.

    Parameters
    ----------
    path
        The file.
    device
        The device whose parts it may name; not checked without one.

    Returns
    -------
    FaultTable
        The table.

    Raises
    ------
    BadFileError
        If the text breaks its format; every problem bears the file's name.
    """
    return _read(path, lambda text: read_faults(text, device))


def devices_by_revision(
    path: Path, revision: str | None
) -> dict[str, tuple[Device, float]]:
    """
    Read a device in the revisions it may have, all equally likely.

    Parameters
    ----------
    path
        The file.
    revision
        Revision, if it is known.

    Returns
    -------
    dict
        For each revision the device and how likely it is. [1]
    """
    if revision is not None:
        return {revision: (device_from(path, revision), 1.0)}
    devices = devices_from(path)
    return {device.revision: (device, 1 / len(devices)) for device in devices}


def _read(path: Path, reader: Callable[[str], _Value]) -> _Value:
    return _read_bytes(path, lambda content: reader(decode(content)))


def _read_bytes(path: Path, reader: Callable[[bytes], _Value]) -> _Value:
    """Read a file with its reader; every problem bears the file's name."""
    try:
        return reader(path.read_bytes())
    except BadFileError as error:
        raise BadFileError(named(error, path)) from error


def named(error: BadFileError, path: Path) -> tuple[Problem, ...]:
    """
    Put the file's name to every problem.

    Parameters
    ----------
    error
        The error.
    path
        The file.

    Returns
    -------
    tuple
        The problems with the name.
    """
    return tuple(replace(problem, file=str(path)) for problem in error.problems)

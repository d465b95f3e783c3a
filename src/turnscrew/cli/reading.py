"""How are files read for the commands?"""

from dataclasses import replace
from pathlib import Path

from turnscrew.core.model.device import Device
from turnscrew.core.opening.problem import OpeningProblem
from turnscrew.errors import BadArgumentError, BadFileError, Problem
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.problem_file import read_problem
from turnscrew.files.yaml_text import decode


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
    try:
        text = decode(path.read_bytes())
        known = revisions_in(text)
        if revision is not None and revision not in known:
            raise BadArgumentError(
                f"no revision {revision}, wanted one of {', '.join(known) or 'none'}"
            )
        return read_device(text, revision=revision or next(iter(known), None))
    except BadFileError as error:
        raise BadFileError(named(error, path)) from error


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
    try:
        text = decode(path.read_bytes())
        known = tuple(revisions_in(text))
        return tuple(read_device(text, revision=name) for name in known or (None,))
    except BadFileError as error:
        raise BadFileError(named(error, path)) from error


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
    try:
        return read_problem(decode(path.read_bytes()))
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

"""How is the folder of a batch taken from the disk, and what is asked about it?"""

import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path

from turnscrew.cli.reading import named
from turnscrew.cli.writing import write_whole
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.errors import BadArgumentError, BadFileError
from turnscrew.files.batch_folder import check_one, is_of_batch, read_batch_folder
from turnscrew.files.columns_file import Columns, columns_text, read_columns
from turnscrew.files.customer_list_file import WANTED
from turnscrew.files.table_text import headings_in
from turnscrew.files.yaml_text import decode

COLUMNS = "columns.yaml"

_QUESTIONS = (
    ("asset", "the owner's number"),
    ("serial", "the serial number"),
    ("model", "the model"),
    ("rev", "the revision"),
    ("site", "the place it belongs to"),
)


def folder_from(folder: Path) -> BatchInput:
    """
    Read a batch; at a terminal, ask about a customer's list that cannot be understood.

    What is answered is kept in ``columns.yaml`` and not asked again.

    Parameters
    ----------
    folder
        Its folder.

    Returns
    -------
    BatchInput
        All that is known of it.

    Raises
    ------
    BadFileError
        If a file is missing or breaks its format; every problem bears the file's name.
    BadArgumentError
        If there is no such folder.
    """
    contents = _contents(folder)
    try:
        return read_batch_folder(contents)
    except BadFileError as error:
        asked = sorted(
            {
                problem.file
                for problem in error.problems
                if problem.file.startswith("customer-list")
                and problem.where in {"heading", "encoding"}
            }
        )
        if not asked or not (sys.stdin.isatty() and sys.stderr.isatty()):
            raise
    for name in asked:
        remember(folder, name, _ask)
    return read_batch_folder(_contents(folder))


def one_from(path: Path) -> None:
    """
    Read one file of a batch's folder by itself.

    Parameters
    ----------
    path
        The file.

    Raises
    ------
    BadFileError
        If it breaks its format; every problem bears the file's name.
    """
    try:
        check_one(path.name, path.read_bytes(), _remembered(path.parent))
    except BadFileError as error:
        raise BadFileError(named(error, path)) from error


def remember(folder: Path, name: str, ask: Callable[[str], str]) -> None:
    """
    Ask what the headings of a customer's list mean, and keep the answers.

    Parameters
    ----------
    folder
        Folder of the batch.
    name
        Name of the list.
    ask
        Puts a question and gives the answer; empty for none.

    Raises
    ------
    BadFileError
        If the list cannot be read with the encoding given either.
    """
    content = (folder / name).read_bytes()
    known = dict(_remembered(folder))
    columns = known.get(name, Columns())
    try:
        headings = headings_in(content, name, WANTED, columns)
    except BadFileError:
        encoding = ask(
            f"{name} is no UTF-8. In which encoding is it (such as cp1252)? "
        )
        columns = replace(columns, encoding=encoding.strip())
        headings = headings_in(content, name, WANTED, columns)
    numbered = ", ".join(f"{n} {heading}" for n, heading in enumerate(headings, 1))
    meant = dict(columns.headings)
    for ours, words in _QUESTIONS:
        if ours in meant.values():
            continue
        answer = ask(f"{name} has {numbered}. Which holds {words} (number or none)? ")
        if answer.strip().isdecimal() and 1 <= int(answer) <= len(headings):
            meant[headings[int(answer) - 1]] = ours
    known[name] = replace(columns, headings=meant)
    write_whole(folder / COLUMNS, columns_text(known).encode())


def _contents(folder: Path) -> dict[str, bytes]:
    if not folder.is_dir():
        raise BadArgumentError(f"folder: found no folder {folder}, wanted one")
    return {
        path.name: path.read_bytes()
        for path in sorted(folder.iterdir())
        if is_of_batch(path.name) and path.is_file()
    }


def _remembered(folder: Path) -> Mapping[str, Columns]:
    path = folder / COLUMNS
    return read_columns(decode(path.read_bytes())) if path.is_file() else {}


def _ask(question: str) -> str:
    print(question, end="", file=sys.stderr, flush=True)
    return sys.stdin.readline()

"""
How is the folder of a batch read as a whole, with every problem of every file at once?

The folder holds ``terms.yaml`` and ``people.yaml``, and as tables (``.csv``, ``.xlsx``,
``.xls`` or ``.ods``) ``batch``, ``parts``, and, if there are any, ``customer-list`` and
``history``. ``columns.yaml`` remembers what other people's headings mean.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import TypeVar

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.nearest import wanted_name
from turnscrew.core.model.terms import Terms
from turnscrew.errors import BadFileError, Problem
from turnscrew.files.batch_file import read_batch
from turnscrew.files.columns_file import Columns, read_columns
from turnscrew.files.customer_list_file import read_customer_list
from turnscrew.files.history_file import read_history
from turnscrew.files.parts_file import read_parts
from turnscrew.files.sheet_grid import ENDINGS
from turnscrew.files.terms_file import read_people, read_terms
from turnscrew.files.yaml_text import decode

_Value = TypeVar("_Value")

TABLE_ENDINGS = (".csv", *ENDINGS)
NEEDED = ("batch", "parts", "terms.yaml", "people.yaml")
TABLES = ("batch", "parts", "customer-list", "history")
TEXTS = ("terms.yaml", "people.yaml", "columns.yaml")


def read_batch_folder(contents: Mapping[str, bytes]) -> BatchInput:
    """
    Read the folder of a batch.

    Parameters
    ----------
    contents
        Bytes of each file, by name.

    Returns
    -------
    BatchInput
        All that is known of the batch.

    Raises
    ------
    BadFileError
        If a file is missing or anything in one does not fit, with all problems, each
        with its file.
    """
    reading = _Reading(contents)
    columns = reading.text("columns.yaml", read_columns) or {}
    parts = reading.table("parts", columns, read_parts) or ()
    known = {part.part: part for part in parts}
    terms = reading.text(
        "terms.yaml",
        lambda text: read_terms(text, tuple(known) if known else None, is_new=True),
    )
    skills = {fault.skill for fault in terms.faults.values()} if terms else None
    people = reading.text("people.yaml", lambda text: read_people(text, skills))
    lines = reading.table("batch", columns, read_batch) or ()
    listed = reading.table("customer-list", columns, read_customer_list)
    past = reading.table("history", columns, read_history) or ()
    if terms is not None:
        models = {name: part.model for name, part in known.items()}
        reading.note_all(reading.name_of("batch"), unknown_in(lines, terms, models))
    if reading.problems or terms is None or people is None:
        raise BadFileError(tuple(reading.problems))
    notes: tuple[str, ...] = ()
    if listed is None:
        notes = ("no customer's list in the folder: nothing could be compared",)
    return BatchInput(lines, listed or (), known, terms, people, past, notes)


def check_one(name: str, content: bytes, columns: Mapping[str, Columns]) -> None:
    """
    Read one file of a batch's folder by itself.

    Parameters
    ----------
    name
        Its name.
    content
        Its bytes.
    columns
        What is remembered of headings.

    Raises
    ------
    BadFileError
        If anything in it does not fit, with all problems.
    """
    reads: Mapping[str, Callable[[str], object]] = {
        "terms.yaml": read_terms,
        "people.yaml": read_people,
        "columns.yaml": read_columns,
    }
    if name in reads:
        reads[name](decode(content))
        return
    stem = name.rpartition(".")[0]
    tables: Mapping[str, Callable[[bytes, str, Columns | None], object]] = {
        "batch": read_batch,
        "parts": read_parts,
        "customer-list": read_customer_list,
        "history": read_history,
    }
    tables[stem](content, name, columns.get(name))


def is_of_batch(name: str) -> bool:
    """
    Say whether a file has its place in the folder of a batch.

    Parameters
    ----------
    name
        Its name.

    Returns
    -------
    bool
        True if so.
    """
    return name in TEXTS or any(
        name == f"{table}{end}" for table in TABLES for end in TABLE_ENDINGS
    )


def unknown_in(
    lines: Iterable[BatchLine], terms: Terms, part_models: Mapping[str, str]
) -> Iterator[Problem]:
    """
    Find models and faults that the terms do not know, and faults of other models.

    Parameters
    ----------
    lines
        Devices of a batch.
    terms
        Its terms.
    part_models
        Model of each spare part, by its number.

    Yields
    ------
    Problem
        One for each name that does not fit, with what is wanted.
    """
    for line in lines:
        if line.model not in terms.models:
            wanted = wanted_name(line.model, terms.models)
            yield Problem("model", line.model or "nothing", wanted, line.row, 1)
        for code in line.found:
            if code not in terms.faults:
                wanted = wanted_name(code, terms.faults)
                yield Problem("found", code, wanted, line.row, 1)
            elif wanted := code_wanted(code, line.model, terms, part_models):
                yield Problem("found", code, wanted, line.row, 1)


def code_wanted(
    code: str, model: str, terms: Terms, part_models: Mapping[str, str]
) -> str:
    """
    Say which code is wanted in place of one whose parts are for other models.

    A code that tells of a danger is taken as it comes: a slip in it hides none.

    Parameters
    ----------
    code
        A known code.
    model
        Model of the device.
    terms
        The terms of its batch.
    part_models
        Model of each spare part, by its number.

    Returns
    -------
    str
        What is wanted; nothing where the code may stand.
    """
    mended = terms.models_mended(code, part_models)
    if not mended or model in mended or terms.faults[code].hazard:
        return ""
    return f"one for {model}, as its parts are for {', '.join(mended)}"


class _Reading:
    """The files of a folder and the problems found in them so far."""

    def __init__(self, contents: Mapping[str, bytes]) -> None:
        self.contents = contents
        self.problems: list[Problem] = []
        for name in NEEDED:
            file = self.name_of(name)
            if file not in contents:
                self.note_all(file, [Problem("folder", f"no {file}", "that file")])
        for name in TABLES:
            there = self._files_of(name)
            if len(there) > 1:
                found = " and ".join(there)
                self.note_all(there[1], [Problem("folder", found, "one of them")])

    def name_of(self, name: str) -> str:
        """Give the file that holds a table or text, by its name."""
        if name in TEXTS:
            return name
        return next(iter(self._files_of(name)), f"{name}.csv")

    def _files_of(self, table: str) -> list[str]:
        names = (f"{table}{end}" for end in TABLE_ENDINGS)
        return [name for name in names if name in self.contents]

    def text(self, name: str, read: Callable[[str], _Value]) -> _Value | None:
        """Read a text; note its problems."""
        if name not in self.contents:
            return None
        return self._kept(name, lambda: read(decode(self.contents[name])))

    def table(
        self,
        name: str,
        columns: Mapping[str, Columns],
        read: Callable[[bytes, str, Columns | None], _Value],
    ) -> _Value | None:
        """Read a table; note its problems."""
        file = self.name_of(name)
        if file not in self.contents:
            return None
        content = self.contents[file]
        return self._kept(file, lambda: read(content, file, columns.get(file)))

    def _kept(self, name: str, read: Callable[[], _Value]) -> _Value | None:
        try:
            return read()
        except BadFileError as error:
            self.note_all(name, error.problems)
        return None

    def note_all(self, name: str, problems: Iterable[Problem]) -> None:
        """Note problems of a file."""
        self.problems += [replace(problem, file=name) for problem in problems]

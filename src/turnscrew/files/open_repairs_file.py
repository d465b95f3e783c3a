"""
How is an open record of repairs read?

The Open Repair Data Standard, version 0.3: one row a repair attempt, comma separated,
English heading. Its text and its files differ in two barriers and in the mark between
the letters and the number of an identifier: both are read. Tables with columns of their
own are read by a named mapping. No row is ever dropped: what does not fit is noted with
its line, and the field counts as not told.
"""

import csv
import io
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal, TypeVar

from turnscrew.core.model.calendar import A_DAY_MEANT, can_be_meant
from turnscrew.core.model.repair_record import (
    BARRIERS,
    STATUSES,
    AgeSource,
    Barrier,
    RepairRecord,
    RepairStatus,
)
from turnscrew.errors import BadFileError, Problem

Mapped = Literal["standard", "tagged extract"]

STANDARD = (
    "id", "data_provider", "country", "partner_product_category", "product_category",
    "product_category_id", "brand", "year_of_manufacture", "product_age",
    "repair_status", "repair_barrier_if_end_of_life", "group_identifier", "event_date",
    "problem", "record_date",
)  # fmt: skip
"""Columns of the standard, in its order."""

NEEDED = (
    "id", "data_provider", "country", "partner_product_category", "repair_status",
    "event_date", "problem",
)  # fmt: skip
"""Columns the standard cannot do without."""

TAGGED = (
    "rec", "event_month", "country", "product_category", "age_years", "age_source",
    "repair_status", "barrier", "fault_type", "battery_next_step", "symptom_tags",
    "generic_words",
)  # fmt: skip
"""Columns of an extract with a sort of fault and signs in place of the text."""

BARRIERS_IN_FILES: Mapping[Barrier, str] = {
    "No way to open the product": "No way to open product",
    "Product too worn out": "Item too worn out",
}
"""Barriers whose words differ between the text of the standard and its files."""

UNKNOWN = "Unknown"
MOST_AGE_YEARS = 100.0
"""An age above this is a slip of the pen. [years]"""

_NUMBER = re.compile(r"\d{1,4}(\.\d{1,6})?", re.ASCII)
_DAY = re.compile(r"\d{4}-\d\d(-\d\d)?", re.ASCII)
_YEAR = re.compile(r"\d{4}", re.ASCII)
_ID = re.compile(r"[a-z0-9]+[-_]\d+", re.ASCII)
_COUNTRY = re.compile(r"[A-Z]{3}", re.ASCII)
_MOST_CHARACTERS = 400_000_000

_T = TypeVar("_T")


@dataclass(frozen=True)
class RecordsRead:
    """
    An open record of repairs, whole.

    Parameters
    ----------
    records
        One for each row, in the order of the file.
    odd
        Fields that did not fit and count as not told, each with its line.
    mapped
        The mapping by which it was read.
    """

    records: tuple[RepairRecord, ...]
    odd: tuple[Problem, ...]
    mapped: Mapped


def read_open_repairs(content: bytes) -> RecordsRead:
    """
    Read an open record of repairs.

    Parameters
    ----------
    content
        Bytes of the file, in UTF-8 with its heading.

    Returns
    -------
    RecordsRead
        Every row, and what did not fit.

    Raises
    ------
    BadFileError
        If the heading is of no known mapping, a row has more or fewer fields than it,
        or an identifier stands twice: then no row can be trusted to be its own.
    """
    text = _text_of(content)
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    problems: list[Problem] = []
    odd: list[Problem] = []
    records: list[RepairRecord] = []
    seen: dict[str, int] = {}
    try:
        heading = tuple(cell.strip() for cell in next(reader, []))
        mapped, make = _mapping_of(heading)
        for cells in reader:
            line = reader.line_num
            if not cells:
                continue
            if len(cells) != len(heading):
                found, wanted = f"{len(cells)} fields", f"{len(heading)} as the heading"
                problems.append(Problem("row", found, wanted, line, 1))
                continue
            record = make(_Fields(heading, cells, line, odd))
            first = seen.setdefault(record.ref, line)
            if first != line:
                found = f"{record.ref} of line {first} once more"
                problems.append(Problem(heading[0], found, "each once", line, 1))
            records.append(record)
    except csv.Error as error:
        problems.append(Problem("text", str(error), "CSV", reader.line_num, 1))
    if problems:
        raise BadFileError(tuple(problems))
    return RecordsRead(tuple(records), tuple(odd), mapped)


class _Fields:
    """The fields of one row, and the list of what did not fit in any row."""

    def __init__(
        self,
        heading: tuple[str, ...],
        cells: list[str],
        line: int,
        odd: list[Problem],
    ) -> None:
        self.heading = heading
        self.cells = dict(zip(heading, cells, strict=True))
        self.line = line
        self.odd = odd

    def text(self, name: str) -> str:
        return self.cells.get(name, "").strip()

    def note(self, name: str, wanted: str) -> None:
        column = self.heading.index(name) + 1
        found = self.text(name)[:60] or "nothing"
        self.odd.append(Problem(name, found, wanted, self.line, column))

    def read(
        self, name: str, reads: Callable[[str], _T | None], wanted: str
    ) -> _T | None:
        """Read a field that may be empty; what does not fit is noted."""
        text = self.text(name)
        if not text:
            return None
        value = reads(text)
        if value is None:
            self.note(name, wanted)
        return value

    def matched(self, name: str, pattern: re.Pattern[str], wanted: str) -> str:
        text = self.text(name)
        if not pattern.fullmatch(text):
            self.note(name, wanted)
        return text


def _text_of(content: bytes) -> str:
    if len(content) > _MOST_CHARACTERS:
        found = f"{len(content):,} bytes"
        raise BadFileError((Problem("text", found, f"at most {_MOST_CHARACTERS:,}"),))
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        problem = Problem("text", "bytes that are no UTF-8", "UTF-8", line, 1)
        raise BadFileError((problem,)) from error


def _mapping_of(
    heading: tuple[str, ...],
) -> tuple[Mapped, Callable[[_Fields], RepairRecord]]:
    doubled = [name for name in dict.fromkeys(heading) if heading.count(name) > 1]
    if set(TAGGED) <= set(heading) and not doubled:
        return "tagged extract", _of_extract
    missing = [name for name in NEEDED if name not in heading]
    strange = [name for name in heading if name not in STANDARD]
    problems = [
        *(Problem("heading", "nothing", name, 1, 1) for name in missing),
        *(Problem("heading", name or "a blank", "a column of the standard", 1, 1)
          for name in strange),
        *(Problem("heading", f"{name} twice", "each once", 1, 1) for name in doubled),
    ]  # fmt: skip
    if problems:
        raise BadFileError(tuple(problems))
    return "standard", _of_standard


def _of_standard(row: _Fields) -> RepairRecord:
    year = row.text("year_of_manufacture")
    has_year = year not in {"", "????"}
    age = row.read("product_age", _age, "years, up to 100")
    return RepairRecord(
        ref=row.matched("id", _ID, "letters, - or _, and a number"),
        category=row.text("product_category"),
        status=_status(row),
        barrier=_barrier(row, "repair_barrier_if_end_of_life"),
        event=row.read("event_date", _day, f"YYYY-MM-DD, {A_DAY_MEANT}"),
        country=row.matched("country", _COUNTRY, "three capitals"),
        age_years=age,
        age_source="none" if age is None else "reported",
        year_made=(
            row.read("year_of_manufacture", _year, "a year") if has_year else None
        ),
        problem=row.text("problem"),
        brand=row.text("brand"),
        partner_category=row.text("partner_product_category"),
        category_id=row.read("product_category_id", _whole, "a number"),
        provider=row.text("data_provider"),
        group=row.text("group_identifier"),
        changed=row.read("record_date", _day, f"YYYY-MM-DD, {A_DAY_MEANT}"),
    )


def _of_extract(row: _Fields) -> RepairRecord:
    age = row.read("age_years", _age, "years, up to 100")
    return RepairRecord(
        ref=row.text("rec"),
        category=row.text("product_category"),
        status=_status(row),
        barrier=_barrier(row, "barrier"),
        event=row.read("event_month", _day, f"YYYY-MM, {A_DAY_MEANT}"),
        country=row.matched("country", _COUNTRY, "three capitals"),
        age_years=age,
        age_source=row.read("age_source", _age_source, "how the age is known")
        or "none",
        fault=row.text("fault_type"),
        signs=tuple(
            word.strip()
            for word in re.split(r"[;|\s]+", row.text("symptom_tags"))
            if word.strip()
        ),
        problem=row.text("generic_words"),
    )


def _status(row: _Fields) -> RepairStatus:
    found = row.read("repair_status", _status_word, ", ".join(STATUSES))
    return found or UNKNOWN  # type: ignore[return-value]


def _status_word(text: str) -> RepairStatus | None:
    return next((one for one in STATUSES if one.lower() == text.lower()), None)


def _barrier(row: _Fields, name: str) -> Barrier | None:
    return row.read(name, _barrier_word, "; ".join(BARRIERS))


def _barrier_word(text: str) -> Barrier | None:
    said = text.lower()
    for one in BARRIERS:
        if said in {one.lower(), BARRIERS_IN_FILES.get(one, one).lower()}:
            return one
    return None


def _age(text: str) -> float | None:
    if not _NUMBER.fullmatch(text) or float(text) > MOST_AGE_YEARS:
        return None
    return float(text)


def _age_source(text: str) -> AgeSource | None:
    known: tuple[AgeSource, ...] = ("reported", "derived", "implausible", "none")
    return next((one for one in known if one == text), None)


def _day(text: str) -> date | None:
    if not _DAY.fullmatch(text):
        return None
    try:
        day = date.fromisoformat(text if len(text) > len("2020-01") else f"{text}-01")
    except ValueError:
        return None
    return day if can_be_meant(day) else None


def _year(text: str) -> int | None:
    return int(text) if _YEAR.fullmatch(text) else None


def _whole(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() else None

"""How do records that left as an export come into an empty home?"""

import csv
import json
import re
import shutil
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from django.conf import settings

from turnscrew.errors import BadFileError, Problem
from turnscrew.web.keeping.cells import told
from turnscrew.web.keeping.export import ABOUT, FORM
from turnscrew.web.keeping.tables import Model, Row, fill

_NAME = "[A-Za-z0-9][A-Za-z0-9._-]{0,120}"
_MEMBER = re.compile(
    rf"about\.json|README\.txt|tables/[a-z0-9_]{{1,80}}\.(csv|json)"
    rf"|photos/{_NAME}(/{_NAME}){{0,3}}"
)
_MOST_GROWTH = 100
"""How many times larger an archive may become; text of tables grows some ten times."""

_CELL_LIMIT = 50_000_000


def import_from(source: Path) -> dict[str, int]:
    """Fill an empty database and the folder of photos from an export."""
    with _opened(source) as folder:
        steps, n_rows = _about(folder)

        def rows(name: str, model: Model) -> Iterator[Row]:
            return _counted(
                _rows(folder / "tables", name, model), name, n_rows.get(name, 0)
            )

        counts = fill(rows, steps, with_secrets=False)
        if (folder / "photos").is_dir():
            shutil.copytree(folder / "photos", settings.PHOTOS, symlinks=True)
    return counts


@contextmanager
def _opened(source: Path) -> Iterator[Path]:
    if source.is_dir():
        yield source
        return
    with TemporaryDirectory(prefix=".import-", dir=settings.HOME) as scratch:
        try:
            _unpack(source, Path(scratch))
        except zipfile.BadZipFile as error:
            raise _refusal(source.name, str(error), "a whole archive") from error
        yield Path(scratch)


def _unpack(source: Path, folder: Path) -> None:
    limit = min(
        _MOST_GROWTH * source.stat().st_size, shutil.disk_usage(folder).free // 2
    )
    with zipfile.ZipFile(source) as archive:
        entries = [one for one in archive.infolist() if not one.is_dir()]
        problems = [
            Problem(repr(one.filename[:80]), "a name out of place", "an export's")
            for one in entries
            if not _MEMBER.fullmatch(one.filename)
        ]
        n_bytes = sum(one.file_size for one in entries)
        if n_bytes > limit:
            problems.append(Problem("sizes", f"{n_bytes} bytes", f"at most {limit}"))
        if problems:
            raise BadFileError(
                tuple(Problem(p.where, p.found, p.wanted, file=source.name)
                      for p in problems)
            )  # fmt: skip
        for one in entries:
            target = folder / one.filename
            target.parent.mkdir(parents=True, exist_ok=True)
            # No more is read than the entry says of itself, and its checksum holds.
            with archive.open(one) as inside, target.open("xb") as out:
                shutil.copyfileobj(inside, out)


def _about(folder: Path) -> tuple[dict[str, str], dict[str, int]]:
    """Give the steps the tables stand at, and how many rows each of them has."""
    try:
        about: Any = json.loads((folder / ABOUT).read_text("utf-8"))
        if about["form"] == FORM:
            steps = {str(app): str(name) for app, name in about["steps"].items()}
            return steps, {str(name): int(n) for name, n in about["rows"].items()}
        found = str(about["form"])[:60]
    except FileNotFoundError:
        found = "none"
    except (ValueError, KeyError, TypeError, AttributeError):
        found = "another form"
    raise _refusal(ABOUT, found, FORM)


def _counted(rows: Iterable[Row], name: str, wanted: int) -> Iterator[Row]:
    """Give the rows of a table, and refuse it if they are more or fewer than left."""
    n = 0
    for row in rows:
        yield row
        n += 1
    if n != wanted:
        raise _refusal(f"tables/{name}", f"{n} rows", f"{wanted}, as {ABOUT} says")


def _rows(folder: Path, name: str, model: Model) -> Iterator[Row]:
    listed, sheet = folder / f"{name}.json", folder / f"{name}.csv"
    if listed.is_file():
        return _listed_rows(listed)
    if sheet.is_file():
        return _sheet_rows(sheet, model)
    raise _refusal(f"tables/{name}", "neither JSON nor CSV", "one of them")


def _listed_rows(path: Path) -> Iterator[Row]:
    """Read a row a line: a journal may be too long to be read at once."""
    number, last = 0, ""
    with path.open(encoding="utf-8") as lines:
        for number, line in enumerate(lines, 1):
            text = line.strip()
            if not text:
                continue
            if last == "]" or (text == "[") != (last == ""):
                raise _refusal(path.name, text[:40], "one list of rows", number)
            last = text
            if text in {"[", "]"}:
                continue
            yield _listed_row(path, text, number)
    if last != "]":
        raise _refusal(path.name, "no end of the list", "a whole one", number)


def _listed_row(path: Path, text: str, number: int) -> Row:
    try:
        row = json.loads(text.removesuffix(","))
    except ValueError as error:
        raise _refusal(path.name, text[:40], "one row", number) from error
    if not isinstance(row, dict):
        raise _refusal(path.name, text[:40], "an object", number)
    return row


def _sheet_rows(path: Path, model: Model) -> Iterator[Row]:
    csv.field_size_limit(_CELL_LIMIT)
    fields = {field.attname: field for field in model._meta.concrete_fields}
    with path.open(encoding="utf-8-sig", newline="") as lines:
        for number, row in enumerate(csv.DictReader(lines), 2):
            if None in row or None in row.values():
                raise _refusal(path.name, "another number of cells", "all", number)
            try:
                yield {
                    name: _plain(fields.get(name), text) for name, text in row.items()
                }
            except ValueError as error:
                found = f"a cell that does not read ({error})"
                raise _refusal(path.name, found, "one as exported", number) from error


def _plain(field: Any, text: str) -> Any:
    value = told(text)
    if field is None:
        return value
    if value == "" and field.null:
        return None
    if field.get_internal_type() in {"JSONField", "BooleanField"}:
        return json.loads(value)
    return value


def _refusal(where: str, found: str, wanted: str, line: int = 0) -> BadFileError:
    return BadFileError((Problem(where, found, wanted, line, file=where),))

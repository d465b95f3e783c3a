"""How do the records leave, so that a stranger can read them without this program?"""

import csv
import json
import os
import shutil
import zipfile
from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from tempfile import mkdtemp

from django.conf import settings

from turnscrew.web.keeping.cells import cell
from turnscrew.web.keeping.tables import Model, carried, rows_of
from turnscrew.web.keeping.upgrade import newest_steps, require_current
from turnscrew.web.records.queries.moment import one_moment
from turnscrew.web.records.services.refusal import RefusedError

ABOUT = "about.json"
FORM = "turnscrew export 1"

_README = """\
The records of a workshop, written by Turnscrew on {made_at}.

about.json     which version of the tables this is; the import reads it
tables/*.csv   one file a table: UTF-8, commas, the first line names the columns
tables/*.json  the same rows as a list of objects, with types
photos/        the photos; the table records_photo says by "ref" what each shows

An empty cell means nothing is known, or an empty text; the JSON tells them apart.
A text that a spreadsheet could take for a formula (it begins with = + - @ tab or
carriage return) has an apostrophe in front of it, which is not part of the value;
numbers stand as they are.
Columns that end in _id name the "id" of a row in another table. Times are in UTC,
money is in whole minor units (columns ending in _minor), "ref" is a random reference.

The journals are in records_entry. Every entry holds in "digest" the SHA-256 of
  [journal, sequence, at, author, verb, subject, facts, words_digest, corrects,
  previous]
as JSON in UTF-8 without spaces, where "previous" is the digest of the entry before it
in the same journal (64 zeros before the first); records_head remembers the last.
"words_digest" is the SHA-256 of salt, line feed and text in records_entrywords; where
these are missing the words were erased.

Left out: passwords, sign-in links, tokens, sessions, second factors.

{tables}
"""


def export(target: Path, now: datetime) -> dict[str, int]:
    """Write every table twice, the photos and a page that explains them."""
    if target.exists():
        raise RefusedError(f"{target}: found something there, wanted a new name")
    require_current()
    partial = Path(mkdtemp(prefix=".export-", dir=target.absolute().parent))
    try:
        counts = _write(partial, now)
        if target.suffix.lower() == ".zip":
            _write_zip(partial, target)
        else:
            partial.rename(target)
    finally:
        shutil.rmtree(partial, ignore_errors=True)
    return counts


def _write(folder: Path, now: datetime) -> dict[str, int]:
    (folder / "tables").mkdir()
    with one_moment():
        tables = carried(with_secrets=False)
        counts = {
            name: _write_table(folder / "tables", name, model)
            for name, model in tables.items()
        }
    if settings.PHOTOS.is_dir():
        for path in sorted(_files(settings.PHOTOS)):
            _copy(path, folder / "photos" / path.relative_to(settings.PHOTOS))
    about = {"form": FORM, "made_at": now.isoformat(), "steps": newest_steps(),
             "rows": counts}  # fmt: skip
    (folder / ABOUT).write_text(json.dumps(about, indent=1) + "\n", "utf-8")
    described = "\n".join(
        f"{name}: {n} rows. {_purpose(tables[name])}" for name, n in counts.items()
    )
    readme = _README.format(made_at=f"{now:%Y-%m-%d %H:%M} UTC", tables=described)
    (folder / "README.txt").write_text(readme, "utf-8")
    return counts


def _copy(path: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    # A copy may be drawn anew or taken away meanwhile, on purpose.
    with suppress(FileNotFoundError):
        shutil.copyfile(path, target)


def _purpose(model: Model) -> str:
    name = str(model._meta.verbose_name).capitalize()
    said = (model.__doc__ or "").strip().splitlines()
    # What the framework writes for want of words only repeats the columns.
    is_said = said and not said[0].startswith(model.__name__ + "(")
    return f"{name}: {said[0]}" if is_said else f"{name}."


def _write_table(folder: Path, name: str, model: Model) -> int:
    columns = [field.attname for field in model._meta.concrete_fields]
    n = 0
    with (
        (folder / f"{name}.csv").open("x", encoding="utf-8", newline="") as sheet,
        (folder / f"{name}.json").open("x", encoding="utf-8") as listed,
    ):
        writer = csv.writer(sheet)
        writer.writerow(columns)
        listed.write("[")
        for row in rows_of(model, with_secrets=False):
            writer.writerow([cell(row[column]) for column in columns])
            listed.write(",\n" if n else "\n")
            listed.write(json.dumps(row, ensure_ascii=False))
            n += 1
        listed.write("\n]\n")
    return n


def _write_zip(folder: Path, target: Path) -> None:
    draft = folder / "draft.zip"
    with draft.open("xb") as file:
        draft.chmod(0o600)
        with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
            for path in sorted(_files(folder)):
                if path != draft:
                    archive.write(path, path.relative_to(folder).as_posix())
        # Not every system lets a file be kept that was opened to be read.
        file.flush()
        os.fsync(file.fileno())
    draft.rename(target)


def _files(folder: Path) -> Iterator[Path]:
    paths = (path for path in folder.rglob("*") if path.is_file())
    return (path for path in paths if path.suffix != ".part" and not path.is_symlink())

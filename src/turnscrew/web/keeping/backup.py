"""How does everything come into one file while others write?"""

import os
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory, TemporaryFile
from typing import IO

from django.conf import settings
from django.db import DEFAULT_DB_ALIAS, connection, connections

from turnscrew.errors import TurnscrewError
from turnscrew.web.keeping.archive import DATABASE, Writer
from turnscrew.web.keeping.sealed_rows import sealed
from turnscrew.web.keeping.tables import carried, rows_of
from turnscrew.web.keeping.upgrade import newest_steps, require_current
from turnscrew.web.records.queries.moment import one_moment
from turnscrew.web.records.services.refusal import RefusedError

_NOT_KEPT = ("django_session", "axes_accessattempt", "axes_accesslog",
             "axes_accessfailurelog")  # fmt: skip
"""Who is signed in now or failed to: no record, and useful to a thief."""

_COPY = "copy"
"""By which name the copy of a SQLite file is read while a backup is made."""


class UnprovenError(TurnscrewError):
    """A backup was written that could not be restored."""


def back_up(target: Path, now: datetime) -> str:
    """Write a backup, restore it on trial, and only then give it its name."""
    if target.exists():
        raise RefusedError(f"{target}: found a file, wanted a new name")
    folder = target.absolute().parent
    if not folder.is_dir():
        raise RefusedError(f"{folder}: found no such folder, wanted one to write into")
    require_current()
    with TemporaryDirectory(prefix=".backup-", dir=folder) as scratch:
        draft = Path(scratch) / "draft"
        with draft.open("xb") as file:
            draft.chmod(0o600)
            _write(file, Path(scratch), now)
            file.flush()
            os.fsync(file.fileno())
        told = proven(draft)
        _name(draft, target)
    _keep_name(folder)
    return told


def proven(draft: Path) -> str:
    """Restore a backup on trial in a process of its own; give what the audit said."""
    apart = {k: v for k, v in os.environ.items() if not k.startswith("TURNSCREW_")}
    words = [sys.executable, "-m", "turnscrew", "restore", str(draft), "--check"]
    done = subprocess.run(
        words, env=apart, capture_output=True, encoding="utf-8", check=False
    )
    if done.returncode:
        raise UnprovenError(
            f"backup: found one that does not restore, wanted a whole one; none was"
            f" written\n{done.stderr.strip()}"
        )
    return done.stdout.strip()


def _write(file: IO[bytes], scratch: Path, now: datetime) -> None:
    with Writer(file, now) as archive:
        secret = settings.HOME / "secret"
        if secret.is_file():
            with secret.open("rb") as source:
                archive.add("secret", source)
        if connection.vendor == "sqlite":
            _add_copy(archive, scratch / DATABASE)
        else:
            with one_moment():
                _add_tables(archive, DEFAULT_DB_ALIAS)
        # After the tables: a photo is there before its row is, so none is missing.
        for path in sorted(settings.PHOTOS.rglob("*")):
            _add_photo(archive, path)
        archive.add_manifest(newest_steps())


def _add_copy(archive: Writer, copy: Path) -> None:
    _copy_sqlite(copy)
    with _read_as(_COPY, copy):
        # Twice: a byte that goes bad spoils the file of all tables, but one row alone.
        _add_tables(archive, _COPY)
    with copy.open("rb") as source:
        archive.add(DATABASE, source)
    copy.unlink()


def _add_photo(archive: Writer, path: Path) -> None:
    if not path.is_file() or path.is_symlink() or path.suffix == ".part":
        return
    try:
        source = path.open("rb")
    except FileNotFoundError:
        # Taken away meanwhile, on purpose.
        return
    with source:
        archive.add("photos/" + path.relative_to(settings.PHOTOS).as_posix(), source)


def _copy_sqlite(copy: Path) -> None:
    connection.ensure_connection()
    with closing(sqlite3.connect(copy)) as target:
        # In one step: in several it begins again whenever somebody writes.
        connection.connection.backup(target, pages=-1)
        target.execute("PRAGMA journal_mode=DELETE")
        target.execute("PRAGMA secure_delete=ON")
        for table in _NOT_KEPT:
            target.execute(f"DELETE FROM {table}")
        target.commit()


@contextmanager
def _read_as(alias: str, copy: Path) -> Iterator[None]:
    """Let the copy be read by the same tables as the database it was made of."""
    main = connections.databases[DEFAULT_DB_ALIAS]
    connections.databases[alias] = {**main, "NAME": copy, "OPTIONS": {}}
    try:
        yield
    finally:
        connections[alias].close()
        del connections[alias]
        del connections.databases[alias]


def _add_tables(archive: Writer, alias: str) -> None:
    tables = carried(with_secrets=True)
    counts = {
        name: model._default_manager.using(alias).count()
        for name, model in tables.items()
    }
    archive.add_start(newest_steps(), counts)
    for name, model in tables.items():
        with TemporaryFile() as lines:
            for row in rows_of(model, with_secrets=True, alias=alias):
                lines.write(sealed(row, name))
            lines.seek(0)
            archive.add(f"tables/{name}.jsonl", lines)


def _name(draft: Path, target: Path) -> None:
    try:
        os.link(draft, target)
    except FileExistsError as error:
        raise RefusedError(f"{target}: found a file, wanted a new name") from error
    except OSError:
        # A stick may know no second name for a file.
        draft.rename(target)


def _keep_name(folder: Path) -> None:
    if os.name == "nt":
        # There no folder can be opened, and none has to be: names are kept at once.
        return
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)

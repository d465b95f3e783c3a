"""How does a backup become the records of a clean machine?"""

import json
import sqlite3
import zipfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from shutil import rmtree
from tempfile import mkdtemp

from django.db import connections

from turnscrew.errors import BadFileError, Problem
from turnscrew.web.keeping.archive import DATABASE, START, Manifest, unpack
from turnscrew.web.keeping.sealed_rows import rows_in
from turnscrew.web.keeping.tables import fill
from turnscrew.web.records.services.refusal import RefusedError


def make_way(home: Path) -> None:
    """Refuse a folder in which there is something; take an empty one away."""
    if home.exists() and (not home.is_dir() or any(home.iterdir())):
        raise RefusedError(f"{home}: found something in it, wanted a new folder")
    if home.exists():
        # The settings would put a fresh secret into it.
        home.rmdir()


@contextmanager
def made_anew(home: Path) -> Iterator[None]:
    """Make a new folder; take it away again if what should fill it fails."""
    make_way(home)
    home.mkdir(mode=0o700, parents=True)
    try:
        yield
    except BaseException:
        rmtree(home, ignore_errors=True)
        raise


def require_fitting(manifest: Manifest, address: str) -> None:
    """Refuse a backup that holds another kind of database than is wanted."""
    if manifest.holds_sqlite and address:
        raise RefusedError(
            "backup: found a SQLite file, wanted tables for PostgreSQL; restore it"
            " without TURNSCREW_DATABASE, then use turnscrew export and import"
        )


def restore_files(
    path: Path, manifest: Manifest, home: Path, *, with_photos: bool = True
) -> None:
    """Write the files of a backup into a new folder; all of them or none."""
    home = home.absolute()
    home.parent.mkdir(parents=True, exist_ok=True)
    with folder_beside(home) as partial:
        unpack(path, manifest, partial, with_photos=with_photos)
        if manifest.holds_sqlite:
            require_whole(partial / DATABASE, path)
        put_in_place(partial, home)


def put_in_place(partial: Path, home: Path) -> None:
    """Give a filled folder its name, though an empty one bears it."""
    if home.is_dir():
        # Not every system lets a folder take the place of another.
        home.rmdir()
    partial.rename(home)


def fill_from(home: Path, manifest: Manifest) -> None:
    """Pour the tables of a backup into the database, or leave no folder behind."""

    def rows(name: str, _: object) -> Iterator[dict[str, object]]:
        path = home / "tables" / f"{name}.jsonl"
        if path.is_file():
            with path.open("rb") as lines:
                yield from rows_in(lines, name)

    try:
        fill(rows, manifest.steps, with_secrets=True)
    except BaseException:
        # An open database is not taken away everywhere.
        connections.close_all()
        rmtree(home, ignore_errors=True)
        raise
    rmtree(home / "tables")


def counts_told(path: Path) -> dict[str, int]:
    """Give how many rows of each table a whole backup says it holds, if it does."""
    with zipfile.ZipFile(path) as archive:
        if START not in archive.namelist():
            return {}
        told = json.loads(archive.read(START))
    return {str(name): int(n) for name, n in told["rows"].items()}


@contextmanager
def folder_beside(home: Path) -> Iterator[Path]:
    """Give a folder to fill beside the one that is meant; what is left of it goes."""
    partial = Path(mkdtemp(prefix=".restoring-", dir=home.parent))
    try:
        yield partial
    finally:
        rmtree(partial, ignore_errors=True)


def require_whole(database: Path, path: Path) -> None:
    """Refuse a SQLite file that is damaged in itself."""
    try:
        with closing(sqlite3.connect(database)) as opened:
            told = [str(row[0]) for row in opened.execute("PRAGMA integrity_check")]
            lost = len(opened.execute("PRAGMA foreign_key_check").fetchall())
    except sqlite3.DatabaseError as error:
        told, lost = [str(error)], 0
    if told != ["ok"] or lost:
        found = "; ".join(told[:3]) if told != ["ok"] else f"{lost} lost references"
        problem = Problem(DATABASE, found, "a whole database", file=path.name)
        raise BadFileError((problem,))

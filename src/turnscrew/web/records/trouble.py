"""What is said when the place where the records are kept fails?"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from django.db import Error as DatabaseTroubleError
from django.db import IntegrityError

from turnscrew.errors import TurnscrewError

_KEPT = "nothing of this was written, what was there before is kept"
_SAYINGS = (
    (
        ("disk is full", "disk i/o error", "no space left", "could not extend file"),
        f"found no room left or a failing disk, wanted room; {_KEPT}",
    ),
    (
        (
            "readonly database",
            "read-only transaction",
            "read-only file system",
            "permission denied",
        ),
        f"found read-only, wanted a folder that may be written; {_KEPT}",
    ),
    (
        ("unable to open database", "connection refused", "could not connect"),
        "found out of reach, wanted a database that can be opened",
    ),
    (
        ("connection failed", "does not exist", "could not translate"),
        "found no database that answers, wanted the one named by TURNSCREW_DATABASE",
    ),
    (
        ("database is locked", "lock timeout"),
        f"found busy for 20 s, wanted a moment alone; {_KEPT}",
    ),
    (
        ("malformed", "not a database"),
        "found a damaged database, wanted a whole one: restore the last backup",
    ),
)


class StorageError(TurnscrewError):
    """The place where the records are kept does not do its part."""


def storage_words(error: BaseException) -> str | None:
    """Say in plain words what a database's error means; none if it is our bug."""
    told = str(error).lower()
    for signs, words in _SAYINGS:
        if any(sign in told for sign in signs):
            return f"records: {words}"
    return None


@contextmanager
def told_plainly() -> Iterator[None]:
    """Turn what a full, locked, read-only or lost database says into plain words."""
    try:
        yield
    except IntegrityError:
        # It repeats what was entered, and speaks of that alone.
        raise
    except (DatabaseTroubleError, sqlite3.Error) as error:
        words = storage_words(error)
        if words is None:
            raise
        raise StorageError(words) from error

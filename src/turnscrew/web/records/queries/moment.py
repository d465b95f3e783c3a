"""How is everything read as it stood at one moment, while others write?"""

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction


@contextmanager
def one_moment() -> Iterator[None]:
    """Show the tables as they stand now until the end; writers are not held up."""
    if connection.in_atomic_block or _is_in_sqlite_moment():
        yield
    elif connection.vendor == "sqlite":
        with _sqlite_moment():
            yield
    else:
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            yield


def _is_in_sqlite_moment() -> bool:
    opened = connection.connection
    return (
        connection.vendor == "sqlite" and opened is not None and opened.in_transaction
    )


@contextmanager
def _sqlite_moment() -> Iterator[None]:
    # The framework's own transactions take the lock of the one writer at once.
    with connection.cursor() as cursor:
        cursor.execute("BEGIN DEFERRED")
        try:
            yield
        finally:
            cursor.execute("ROLLBACK")

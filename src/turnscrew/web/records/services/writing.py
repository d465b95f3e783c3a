"""How do writers keep out of one another's way?"""

from collections.abc import Callable
from functools import wraps
from typing import ParamSpec, TypeVar

from django.db import connection, transaction

from turnscrew.web.records.trouble import told_plainly

_Given = ParamSpec("_Given")
_Answer = TypeVar("_Answer")

_QUEUE = 20270201
"""Names the queue of writers in a PostgreSQL database; any fixed number would do."""


def writing(service: Callable[_Given, _Answer]) -> Callable[_Given, _Answer]:
    """
    Let a service write in one transaction, after whoever writes now.

    SQLite lets one writer in at a time. PostgreSQL would let several in, and two that
    want the same rows in another order would wait for each other for ever; so they
    queue up there too. Readers wait for nobody. That the database is full, locked or
    read-only is said in plain words, as any other refusal.
    """

    @wraps(service)
    def in_turn(*args: _Given.args, **kwargs: _Given.kwargs) -> _Answer:
        with told_plainly(), transaction.atomic():
            if connection.vendor == "postgresql":
                with connection.cursor() as cursor:
                    cursor.execute("SELECT pg_advisory_xact_lock(%s)", [_QUEUE])
            return service(*args, **kwargs)

    return in_turn

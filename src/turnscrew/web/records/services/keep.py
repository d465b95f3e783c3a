"""How is a row saved so that its earlier form stays readable under the right time?"""

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Any

from turnscrew.web.records.models.kept import lacks_room
from turnscrew.web.records.services.refusal import RefusedError


def read_anew(row: Any) -> None:
    """
    Read a row once more, in the queue of writers.

    Whoever asks has read it before; what others wrote meanwhile must not be undone.
    """
    row.refresh_from_db()


def keep(row: Any, now: datetime) -> None:
    """Save a row; its history takes the time from here."""
    row._history_date = now
    row.save()


def keep_all(
    rows: Iterable[Any],
    where: Callable[[Any], str] = lambda row: "",
    *,
    is_again: bool = False,
) -> None:
    """
    Save rows without a history at once, or refuse them with every reason.

    ``is_again`` leaves out those that are there already.
    """
    rows = list(rows)
    require_room(rows, where)
    if rows:
        type(rows[0]).objects.bulk_create(rows, ignore_conflicts=is_again)


def require_room(
    rows: Iterable[Any], where: Callable[[Any], str] = lambda row: ""
) -> None:
    """Refuse rows that their table has no room for, each reason once."""
    wrong = [reason for row in rows for reason in lacks_room(row, where=where(row))]
    if wrong:
        raise RefusedError(*dict.fromkeys(wrong))

"""How is asked for rows of many things, when a database takes but so many names?"""

from collections.abc import Iterable, Iterator
from typing import Any

from django.db.models import QuerySet

MOST = 500
"""Names asked for at once; SQLite takes some 32,000, older builds of it 999."""


def among(rows: QuerySet[Any], column: str, wanted: Iterable[Any]) -> Iterator[Any]:
    """
    Give the rows whose column is one of some values, however many these are.

    What is asked for at once comes in the order of the rows, so what belongs to one
    value does too.
    """
    listed = list(dict.fromkeys(wanted))
    for start in range(0, len(listed), MOST):
        yield from rows.filter(**{f"{column}__in": listed[start : start + MOST]})

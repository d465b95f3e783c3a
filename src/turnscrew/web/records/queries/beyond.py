"""How much of a long list is left out where only the first of it is shown?"""

from typing import Any

from django.db.models import QuerySet


def first_of(rows: QuerySet[Any], most: int) -> tuple[list[Any], int]:
    """Give the first rows, and how many more there are."""
    shown = list(rows[:most])
    return shown, rows.count() - most if len(shown) == most else 0

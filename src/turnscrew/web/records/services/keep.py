"""How is a row saved so that its earlier form stays readable under the right time?"""

from datetime import datetime
from typing import Any


def keep(row: Any, now: datetime) -> None:
    """Save a row; its history takes the time from here."""
    row._history_date = now
    row.save()

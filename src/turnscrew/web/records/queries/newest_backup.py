"""Which backup is the newest that was made of these records on this machine?"""

import json
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from django.conf import settings

NAME = "newest-backup.json"
"""Beside the tables, not in them: a backup does not know of itself."""


@dataclass(frozen=True)
class Backup:
    """A backup that was written and proven."""

    file: str
    made_at: datetime


def newest_backup() -> Backup | None:
    """Give the newest backup; none if none was made here yet."""
    try:
        told = json.loads((Path(settings.HOME) / NAME).read_text("utf-8"))
        return Backup(str(told["file"]), datetime.fromisoformat(told["made_at"]))
    except (FileNotFoundError, ValueError, KeyError, TypeError):
        return None

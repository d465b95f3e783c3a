"""How does the page of today know of a backup that was made by a command?"""

import json
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from django.conf import settings

from turnscrew.web.records.queries.newest_backup import NAME


def remember(file: Path, now: datetime) -> None:
    """Note which backup is the newest, beside the tables."""
    told = {"file": str(file.absolute()), "made_at": now.isoformat()}
    # The backup is written and proven; that no note can be made takes nothing from it.
    with suppress(OSError):
        path = Path(settings.HOME) / NAME
        partial = path.with_suffix(".part")
        partial.write_text(json.dumps(told) + "\n", "utf-8")
        partial.replace(path)

"""Does a backup come back? Tried in a throw-away place, and written down."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from turnscrew.web.keeping.archive import steps_told
from turnscrew.web.keeping.backup import UnprovenError, proven
from turnscrew.web.keeping.restore import counts_told
from turnscrew.web.keeping.tables import carried
from turnscrew.web.keeping.upgrade import require_known
from turnscrew.web.records.models import Person
from turnscrew.web.records.services.restoring import tell_tried

_COMPARED = {
    "records_batch": "batches", "records_job": "jobs", "records_part": "parts",
    "records_photo": "photos", "records_entry": "entries of journals",
}  # fmt: skip


@dataclass(frozen=True)
class Tried:
    """What came of a trial."""

    is_whole: bool
    words: str


def try_restore(file: Path, *, by: Person, now: datetime) -> Tried:
    """Restore a backup in a throw-away place, compare it with what is here, tell it."""
    # A wrong name is no trial; whoever mistyped it is told by the system's own words.
    file.open("rb").close()
    if steps := steps_told(file):
        # Of a newer program it may be whole: that it cannot be tried here is no trial.
        require_known(steps)
    try:
        told = proven(file)
    except UnprovenError as error:
        reason = str(error).partition("\n")[2].splitlines()
        tried = Tried(
            is_whole=False, words="does not restore: " + "; ".join(reason[-3:])
        )
    else:
        words = [told.splitlines()[-1], *_beside_now(file)]
        tried = Tried(is_whole=True, words="restores; " + "; ".join(words))
    tell_tried(file.name, is_whole=tried.is_whole, words=tried.words, by=by, now=now)
    return tried


def _beside_now(file: Path) -> list[str]:
    """Compare how many there are in the backup and here now."""
    told = counts_told(file)
    tables = carried(with_secrets=True)
    return [
        f"{word}: {told[name]} in the backup, {tables[name]._default_manager.count()}"
        " here now"
        for name, word in _COMPARED.items()
        if name in told
    ]

"""Since when does a device stand as it does?"""

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import takewhile

from turnscrew.core.model.job_state import CLOSED, WAITING
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import Entry, Job


def moves_of(job: Job) -> list[Entry]:
    """Give every move of a device, the first one first."""
    moves = Entry.objects.filter(subject=job.ref, journal="custody", verb="moved")
    return list(moves.order_by("sequence"))


def since(moves: Sequence[Entry], alike: frozenset[str]) -> datetime:
    """
    Say since when a device is in one of the states, the last of its moves among them.

    It may have been moved since, or its data decided, without leaving them.
    """
    return min(row.at for row in _last_in(moves, alike))


def closed_since(job: Job) -> datetime | None:
    """
    Say since when the work on a device is done; ``None`` if it is not.

    It may have waited for something since, or lain apart.
    """
    if job.state not in CLOSED | WAITING or job.main_state not in CLOSED:
        return None
    moves = moves_of(job)
    done = [row for row in _last_in(moves, CLOSED | WAITING) if _state(row) in CLOSED]
    return min((row.at for row in done), default=None)


def _last_in(moves: Sequence[Entry], alike: frozenset[str]) -> Iterator[Entry]:
    """Give the last moves that are all into one of some states, the newest first."""
    return takewhile(lambda row: _state(row) in alike, reversed(moves))


def _state(row: Entry) -> str:
    return ledger_entry(row).text("state")

"""May somebody still tell of a device, or has it passed on?"""

from collections.abc import Sequence
from datetime import datetime
from itertools import takewhile

from turnscrew.core.model.job_state import ENDED, OPEN
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import Entry, Job, Person

_SHUT_AWAY = {
    "parked open": "state: found it parked, covered, wanted it taken up again first",
    "isolated": "state: found it isolated, wanted it left alone and moved out first",
}


def passed_on(job: Job, by: Person, at: datetime) -> str:
    """
    Say why what somebody told of a device at a time does not count any more.

    What was told before it was parked, isolated or taken over still does, however
    late it comes in; so does what was told beside its holder at another bench.
    """
    is_away = job.state in _SHUT_AWAY or job.state in ENDED
    if not is_away and (job.state not in OPEN or job.holder == by.ref):
        return ""
    moves = Entry.objects.filter(subject=job.ref, journal="custody", verb="moved")
    rows = list(moves.order_by("sequence"))
    if not rows:
        return ""
    if is_away and _away_since(rows) <= at:
        return _SHUT_AWAY.get(job.state, ended_words(job))
    # Whoever brought it to the bench, but never had it open, has nothing to hand over.
    opened = [
        (row, entry.text("holder"))
        for row, entry in zip(rows, map(ledger_entry, rows), strict=True)
        if entry.text("state") in OPEN
    ]
    had = [index for index, (_, holder) in enumerate(opened) if holder == by.ref]
    if not had or had[-1] == len(opened) - 1 or opened[had[-1] + 1][0].at > at:
        return ""
    return (
        "holder: found somebody else since, wanted you: take it over on the page "
        "Handover, where its tray is counted"
    )


def ended_words(job: Job) -> str:
    """Say of a device that has left why nothing is done to it any more."""
    return f"state: found it {job.state}, wanted one that is here"


def _away_since(moves: Sequence[Entry]) -> datetime:
    """Say since when a device is parked, isolated, or has left by whatever move."""
    state = ledger_entry(moves[-1]).text("state")
    alike = ENDED if state in ENDED else {state}
    # It may have been moved since, or its data decided, without leaving that state.
    since = takewhile(
        lambda row: ledger_entry(row).text("state") in alike, reversed(moves)
    )
    return min(row.at for row in since)

"""May somebody still tell of a device, or has it passed on?"""

from datetime import datetime

from turnscrew.core.model.job_state import ENDED, OPEN
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import Job, Person
from turnscrew.web.records.queries.standing_since import moves_of, since

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
    rows = moves_of(job)
    if not rows:
        return ""
    alike = ENDED if job.state in ENDED else frozenset({job.state})
    if is_away and since(rows, alike) <= at:
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

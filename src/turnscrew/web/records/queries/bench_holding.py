"""May somebody still tell of a device, or has it passed on?"""

from collections.abc import Iterable, Iterator
from datetime import datetime

from turnscrew.core.model.job_state import ENDED, MAIN_STATES, lies_open
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import Entry, Job, Person
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
    if not is_away and job.holder == by.ref:
        return ""
    if not is_away and not lies_open(job.state, job.main_state):
        return ""
    rows = moves_of(job)
    if not rows:
        return ""
    alike = ENDED if job.state in ENDED else frozenset({job.state})
    if is_away and since(rows, alike) <= at:
        return _SHUT_AWAY.get(job.state, ended_words(job))
    # Whoever brought it to the bench, but never had it open, has nothing to hand over.
    opened = list(_opened(rows))
    had = [index for index, (_, holder) in enumerate(opened) if holder == by.ref]
    if not had or had[-1] == len(opened) - 1 or opened[had[-1] + 1][0].at > at:
        return ""
    return (
        "holder: found somebody else since, wanted you: take it over on the page "
        "Handover, where its tray is counted"
    )


def _opened(rows: Iterable[Entry]) -> Iterator[tuple[Entry, str]]:
    """Give the moves after which the device lay open, each with who held it then."""
    main = ""
    for row in rows:
        entry = ledger_entry(row)
        state = entry.text("state")
        main = state if state in MAIN_STATES else main
        if lies_open(state, main):
            yield row, entry.text("holder")


def ended_words(job: Job) -> str:
    """Say of a device that has left why nothing is done to it any more."""
    return f"state: found it {job.state}, wanted one that is here"

"""May somebody still tell of a device, or has it passed on?"""

from datetime import datetime

from turnscrew.core.model.job_state import OPEN
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
    is_away = job.state in _SHUT_AWAY
    if not is_away and (job.state not in OPEN or job.holder == by.ref):
        return ""
    moves = Entry.objects.filter(subject=job.ref, journal="custody", verb="moved")
    rows = list(moves.order_by("sequence"))
    if not rows:
        return ""
    if is_away and rows[-1].at <= at:
        return _SHUT_AWAY[job.state]
    holders = [ledger_entry(row).text("holder") for row in rows]
    if by.ref not in holders or holders[-1] == by.ref:
        return ""
    lost = max(index for index, holder in enumerate(holders) if holder == by.ref) + 1
    if rows[lost].at > at:
        return ""
    return (
        "holder: found somebody else since, wanted you: take it over on the page "
        "Handover, where its tray is counted"
    )

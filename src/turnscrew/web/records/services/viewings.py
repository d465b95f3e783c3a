"""How is it kept who looked at which record, without growing large?"""

from collections.abc import Iterable
from datetime import datetime

from turnscrew.web.records.models import Viewing
from turnscrew.web.records.services.keep import keep_all
from turnscrew.web.records.services.writing import writing

DEVICE, PHOTO, CUSTOMER, ANSWER = "device", "photo", "customer", "answer"
"""What can be looked at: records, photos, contacts, and a contact's own page."""


def note_viewings(who: str, what: str, refs: Iterable[str], *, now: datetime) -> None:
    """Write that somebody looked at records, once an hour for each."""
    hour = now.replace(minute=0, second=0, microsecond=0)
    wanted = list(dict.fromkeys(refs))
    if not wanted:
        return
    about = {"who": who, "what": what, "hour": hour}
    rows = Viewing.objects.filter(about__in=wanted, **about)
    known = set(rows.values_list("about", flat=True))
    fresh = [ref for ref in wanted if ref not in known]
    # Most looks are known already, and then nobody waits for the queue of writers.
    if fresh:
        _keep([Viewing(about=ref, **about) for ref in fresh])


@writing
def _keep(rows: list[Viewing]) -> None:
    keep_all(rows, is_again=True)

"""A donor whose fan went into another device, its pack kept in the fire box."""

from datetime import datetime

from turnscrew.web.records.models import Batch, DonorPart, Job, Part, Person
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import kitting, quoting, stock
from turnscrew.web.records.services.safety import log_pack

DONOR, USER = 14, 42
"""A laptop to be stripped, and one that its fan went into."""


def fan_given(batch: Batch, lead: Person, now: datetime) -> tuple[Part, Job, Job]:
    """Strip the one and fit its fan into the other; give fan, donor and user."""
    by = {"by": lead, "now": now}
    quoting.keep_quotes(batch, reckoned(batch, now), **by)
    fan = Part.objects.get(number="C-FN")
    stock.count(fan, 0, words="an empty box", **by)
    donor, user = (batch.jobs.get(line=line) for line in (DONOR, USER))
    kitting.declare_donor(donor, reckoned(batch, now), **by)
    log_pack("its pack", "taken out", place="fire box 1", job=donor, **by)
    stock.want(fan, user, **by)
    piece = DonorPart.objects.get(donor__job=donor, part=fan)
    kitting.test_donor_part(piece, is_good=True, how="spins", **by)
    kitting.fit(user, **by)
    return fan, donor, user

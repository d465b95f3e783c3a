"""How is it written what hands did to a device, as a program tells it?"""

from collections.abc import Mapping
from datetime import datetime

from turnscrew.core.ledger.entry import Fact
from turnscrew.core.ledger.verbs import FASTENER_SIGNS
from turnscrew.web.records.models import Entry, Job, Person
from turnscrew.web.records.queries.tray import tray_of
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


def tell(
    job: Job,
    verb: str,
    facts: Mapping[str, Fact],
    *,
    by: Person,
    now: datetime,
    words: str = "",
) -> Entry:
    """Write it; nothing comes out of a tray that does not lie in it."""
    if FASTENER_SIGNS.get(verb, 0) < 0:
        return _out_of_tray(job, verb, facts, by=by, now=now, words=words)
    return append("bench", verb, job.ref, by=by, now=now, facts=facts, words=words)


@writing
def _out_of_tray(
    job: Job, verb: str, facts: Mapping[str, Fact], *,
    by: Person, now: datetime, words: str,
) -> Entry:  # fmt: skip
    kind, n = str(facts["kind"]), int(facts["n"] or 0)
    n_there = tray_of(job).get(kind, 0)
    if n > n_there:
        raise RefusedError(
            f"tray: found {n_there} of kind {kind}, wanted {n} or more for this"
        )
    return append("bench", verb, job.ref, by=by, now=now, facts=facts, words=words)

"""How is it kept why a time lay far from the usual?"""

from datetime import datetime

from turnscrew.web.records.models import Job, Person
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@writing
def explain_time(
    job: Job, stroke: int, words: str, *, by: Person, now: datetime
) -> None:
    """Keep a lead's word on a time far out; a later word stands before this one."""
    if not words.strip():
        raise RefusedError("why: found nothing, wanted what made it take so long")
    append(
        "bench", "time explained", job.ref, by=by, now=now, facts={"stroke": stroke},
        words=words.strip(),
    )  # fmt: skip

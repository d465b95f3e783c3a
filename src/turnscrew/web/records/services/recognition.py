"""How is it written what a device showed from outside, and what it was taken for?"""

from collections.abc import Mapping
from datetime import datetime

from turnscrew.web.records.models import Job, Person, Sighting
from turnscrew.web.records.queries.recognition import (
    SEEN_OPEN,
    UNSEEN,
    answers_here,
    revisions_here,
)
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, read_anew
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@writing
def note_sightings(
    job: Job, seen: Mapping[str, str], *, by: Person, now: datetime
) -> None:
    """
    Write what looks at a device showed; nothing where it could not be seen.

    What a look showed before stays on record.
    """
    answers = answers_here() if seen else {}
    wrong = []
    for look, shows in seen.items():
        if look not in answers:
            wrong.append(f"look: found {look}, wanted one that a description names")
        elif shows not in {*answers[look], UNSEEN}:
            wanted = ", ".join(answers[look])
            wrong.append(f"{look}: found {shows}, wanted one of {wanted}")
    if wrong:
        raise RefusedError(*wrong)
    for look, shows in seen.items():
        Sighting.objects.create(job=job, look=look, shows=shows, by=by, at=now)
        append(
            "bench", "arrival", job.ref, by=by, now=now,
            facts={"look": look, "shows": shows or "could not be seen"},
        )  # fmt: skip


@writing
def take_for(
    job: Job, revision: str, *, by: Person, now: datetime, is_open: bool = False
) -> None:
    """
    Take a device for a revision of its model, as its body shows.

    Its parts are chosen by it from now on; what the owner's list says stays there.
    Seen on the open device it is sure, and what waits for that may be ordered.
    """
    revisions = revisions_here(job.model)
    if revision not in revisions:
        wanted = ", ".join(revisions) or "a model with a description"
        raise RefusedError(f"revision: found {revision or 'none'}, wanted {wanted}")
    read_anew(job)
    before, job.revision = job.revision, revision
    keep(job, now)
    item = job.item
    read_anew(item)
    if item.revision != revision:
        item.revision = revision
        keep(item, now)
    if is_open:
        Sighting.objects.create(
            job=job, look=SEEN_OPEN, shows=revision, by=by, at=now
        )  # fmt: skip
    append(
        "bench", "arrival", job.ref, by=by, now=now,
        facts={"revision": revision, "before": before, "is_open": is_open},
    )  # fmt: skip

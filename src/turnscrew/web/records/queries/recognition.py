"""Which model and revision is a device, by what was seen of it from outside?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.db.models import Count, OuterRef, Subquery

from turnscrew.core.model.device import Device
from turnscrew.core.reconcile.recognise import (
    Known,
    Recognition,
    answers_by_look,
    known_revisions,
    recognised,
)
from turnscrew.web.records.models import Description, Item, Job
from turnscrew.web.records.queries.descriptions import device_in, revisions_of

BETWEEN = "::"
"""Parts a look from what it shows where both travel in an address."""

UNSEEN = ""
"""What is written where a look could not be taken."""

SEEN_OPEN = "seen open"
"""A look inside: what it shows is the revision, and it is sure."""

_MOST_SEEN = 40
"""Looks taken from an address at most. [1]"""


def known_here(but_for: Item | None = None) -> tuple[Known, ...]:
    """
    Give every revision of every model described, with how many bodies were met.

    The body asked about is no witness for itself.
    """
    bodies = (
        Item.objects.all() if but_for is None else Item.objects.exclude(pk=but_for.pk)
    )
    rows = bodies.values_list("model", "revision").annotate(n=Count("pk")).order_by()
    counts = {(model, revision): n for model, revision, n in rows}
    return known_revisions(devices_described(), counts)


def recognition_of(serial: str, seen: Mapping[str, str]) -> Recognition | None:
    """Rank what a device may be; nothing if no model is described."""
    known = known_here()
    return recognised(known, seen, serial) if known else None


def seen_on(job: Job) -> dict[str, str]:
    """Give what the looks at a device showed; the newest of each counts."""
    return {one.look: one.shows for one in job.sightings.order_by("id")}


@dataclass(frozen=True)
class Recognised:
    """What a device that is here showed, and what it may be."""

    seen: dict[str, str]
    ranked: Recognition | None
    revisions: list[str]
    written: str


def recognition_of_job(job: Job) -> Recognised:
    """Rank what a device that is here may be."""
    known, seen = known_here(job.item), seen_on(job)
    return Recognised(
        seen=seen,
        ranked=recognised(known, seen, job.serial) if known else None,
        revisions=_revisions(known, job.model),
        written=written_of(job.model, job.revision),
    )


def written_of(model: str, revision: str) -> str:
    """Name what is written of a device; empty while no revision is."""
    return f"{model} {revision}" if revision else ""


def revisions_here(model: str) -> list[str]:
    """Name the revisions of a model that its description tells apart."""
    return _revisions(known_here(), model)


def _revisions(known: Iterable[Known], model: str) -> list[str]:
    return [one.revision for one in known if one.model == model and one.revision]


def answers_here() -> dict[str, tuple[str, ...]]:
    """Give every look that a description names, with what it can show."""
    return answers_by_look(known_here())


def seen_in(told: list[str]) -> dict[str, str]:
    """Read looks from an address; what no description knows is left out."""
    answers = answers_here() if told else {}
    seen = {}
    for text in told[:_MOST_SEEN]:
        look, _, shows = text.partition(BETWEEN)
        if look in answers and shows in {*answers[look], UNSEEN}:
            seen[look] = shows
    return seen


def spelled(seen: Mapping[str, str]) -> list[str]:
    """Write looks for an address."""
    return [f"{look}{BETWEEN}{shows}" for look, shows in seen.items()]


def devices_described() -> dict[str, Device]:
    """Read the newest description of each model that was not withdrawn."""
    rows = Description.objects.exclude(state=Description.WITHDRAWN)
    of_model = rows.filter(model=OuterRef("model")).order_by("-number")
    newest = rows.filter(number=Subquery(of_model.values("number")[:1]))
    return {
        row.model: device_in(row, next(iter(revisions_of(row)), ""))
        for row in newest.order_by("model")
    }

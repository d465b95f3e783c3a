"""How does a supplier's claim that a part fits become a fact?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from turnscrew.core.ledger.entry import Fact
from turnscrew.web.records.models import Allotment, Job, Part, PartFit, Person
from turnscrew.web.records.queries.stock_page import positions_of
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@dataclass(frozen=True)
class Place:
    """Where a part is said to fit; what is left empty stands for all."""

    model: str = ""
    revision: str = ""
    position: str = ""

    def spelled(self) -> "Place":
        """Give it without blanks at its ends."""
        return Place(self.model.strip(), self.revision.strip(), self.position.strip())


@writing
def claim_fit(
    part: Part, place: Place, claimed_by: str, *, by: Person, now: datetime
) -> PartFit:
    """Write that somebody says a part fits: a claim, until it was fitted there."""
    told = place.spelled()
    reasons = []
    if not claimed_by.strip():
        reasons.append("said by: found nobody, wanted who says that it fits")
    if told.revision and not told.model:
        reasons.append(f"model: found none beside {told.revision}, wanted its model")
    known = part.fits.filter(
        model=told.model, revision=told.revision, position=told.position
    )
    if known.exists():
        reasons.append(f"fit: found {known.get()} on record, wanted a new one")
    if reasons:
        raise RefusedError(*reasons)
    made = PartFit.objects.create(
        part=part, model=told.model, revision=told.revision, position=told.position,
        claimed_by=claimed_by.strip(), claimed_on=now.date(),
    )  # fmt: skip
    facts: dict[str, Fact] = {
        "model": told.model or "all", "revision": told.revision,
        "position": told.position,
    }  # fmt: skip
    append(
        "stock", "said to fit", part.ref, by=by, now=now, facts=facts,
        words=claimed_by.strip(),
    )  # fmt: skip
    return made


def note_fitted(parts: Iterable[Part], job: Job, *, now: datetime) -> None:
    """
    Write that parts were fitted to a device: for its model, revision and position.

    A claim for the very same becomes a fact; one for all models stays a claim.
    """
    fitted = {part.pk: part for part in parts}
    if not fitted:
        return
    where = positions_of(job)
    for part in fitted.values():
        fit, _ = PartFit.objects.get_or_create(
            part=part, model=job.model, revision=job.revision,
            position=where.get(part.number, ""),
        )  # fmt: skip
        if fit.fitted_on is None:
            fit.fitted_on, fit.job = now.date(), job
            fit.save()


def take_fit_back(part: Part, job: Job) -> None:
    """
    Let a part that was not fitted to a device prove nothing any more.

    Another device of the kind that it was fitted to proves it as well; else a claim is
    a claim again, and what nobody claimed is no fit.
    """
    used = Allotment.objects.filter(part=part, state=Allotment.USED)
    if used.filter(job=job).exists():
        return
    for fit in part.fits.filter(job=job):
        alike = used.filter(job__model=fit.model, job__revision=fit.revision)
        other = alike.exclude(used_at=None).order_by("used_at", "id").first()
        if other is None and not fit.claimed_by:
            fit.delete()
            continue
        fit.job = other.job if other else None
        fit.fitted_on = other.used_at.date() if other and other.used_at else None
        fit.save()

"""What is known of a model, and who may work from it?"""

from collections.abc import Collection
from dataclasses import dataclass
from functools import lru_cache

from turnscrew.core.model.device import Device
from turnscrew.core.model.faults import FaultTable
from turnscrew.errors import BadArgumentError
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.faults_file import read_faults
from turnscrew.web.records.models import BenchRun, Description, Job, Person


def newest(model: str) -> Description | None:
    """Give the newest version of a model's description that was not withdrawn."""
    rows = Description.objects.filter(model=model)
    return rows.exclude(state=Description.WITHDRAWN).order_by("-number").first()


def newest_by_model(models: Collection[str]) -> dict[str, Description]:
    """Give the same of several models; one without any is left out."""
    rows = Description.objects.filter(model__in=models)
    rows = rows.exclude(state=Description.WITHDRAWN).order_by("number")
    return {row.model: row for row in rows}


def every_version() -> list[Description]:
    """Give all versions, the newest of each model first."""
    rows = Description.objects.select_related("by", "tried_by", "released_by")
    return list(rows.order_by("model", "-number"))


def device_in(description: Description, revision: str) -> Device:
    """Read a description in one revision; one it does not know counts as none said."""
    return device_in_text(description.text, revision)


def device_in_text(text: str, revision: str) -> Device:
    """Read the text of a description in one revision."""
    return _device(text, _meant(_revisions(text), revision))


def revision_meant(description: Description, revision: str) -> str:
    """Name the revision a device is read in; one that is not known is the first."""
    return _meant(revisions_of(description), revision)


def _meant(known: tuple[str, ...], revision: str) -> str:
    return revision if revision in known else next(iter(known), "")


def revisions_of(description: Description) -> tuple[str, ...]:
    """Name the revisions of a description."""
    return _revisions(description.text)


UNWRITTEN = "unwritten"
"""Begins the name of a revision copied at the bench until somebody writes it up."""


def unwritten_in(description: Description) -> tuple[str, ...]:
    """Name the revisions that were met at the bench and are still to be written up."""
    return tuple(
        name for name in revisions_of(description) if name.startswith(f"{UNWRITTEN} ")
    )


def faults_in(description: Description, device: Device) -> FaultTable | None:
    """Read the fault table of a description, if there is one."""
    if not description.faults_text:
        return None
    return read_faults(description.faults_text, device)


def may_work_from(description: Description, person: Person) -> str:
    """Say why somebody may not work from a description; nothing if they may."""
    if person.rights == Person.LEAD or description.state == Description.RELEASED:
        return ""
    if description.may_try_id == person.pk:
        return ""
    return (
        f"description: found {description.model} {description.state}, wanted it "
        "released, or the lead's word that you may try it"
    )


@dataclass(frozen=True)
class Draft:
    """A description that is not released, and the roles that may open by it."""

    model: str
    state: str
    roles: frozenset[str]


def drafts_of(models: Collection[str]) -> tuple[Draft, ...]:
    """Give the newest descriptions of some models that a helper may not open by."""
    rows = Description.objects.filter(model__in=models).order_by("number")
    rows = rows.exclude(state=Description.WITHDRAWN)
    newest = {
        model: (state, may_try)
        for model, state, may_try in rows.values_list("model", "state", "may_try__key")
    }
    early = {m: one for m, one in newest.items() if one[0] != Description.RELEASED}
    if not early:
        return ()
    leads = Person.objects.filter(has_left=False, rights=Person.LEAD)
    always = frozenset(leads.values_list("key", flat=True))
    return tuple(
        Draft(model, state, always | ({may_try} if may_try else set()))
        for model, (state, may_try) in sorted(early.items())
    )


def not_released(drafts: Collection[Draft]) -> tuple[str, ...]:
    """Say by which drafts a helper may not open every device that is planned."""
    if not drafts:
        return ()
    helpers = Person.objects.filter(
        has_left=False, minutes_a_day__gt=0, rights=Person.HELPER
    )
    keys = set(helpers.values_list("key", flat=True))
    return tuple(
        f"description of {draft.model}: {draft.state}, not released; by it a helper "
        "opens with the lead's word alone"
        for draft in drafts
        if keys - draft.roles
    )


def used_by(job: Job) -> Description | None:
    """Give the description a job is worked on from."""
    rows = BenchRun.objects.filter(job=job).exclude(description=None)
    run = rows.order_by("-number").first()
    return run.description if run is not None else newest(job.model)


@lru_cache(maxsize=64)
def _device(text: str, revision: str) -> Device:
    return read_device(text, revision=revision or None)


@lru_cache(maxsize=64)
def _revisions(text: str) -> tuple[str, ...]:
    try:
        return tuple(revisions_in(text))
    except BadArgumentError:
        return ()

"""How does a description come into the records, and who lets others work from it?"""

from collections.abc import Mapping
from datetime import datetime

from turnscrew.core.model.terms import Terms
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.faults_file import read_faults
from turnscrew.web.records.models import Description, Person
from turnscrew.web.records.queries.descriptions import newest
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@writing
def keep_description(
    model: str, text: str, *, by: Person, now: datetime, faults_text: str = ""
) -> Description:
    """
    Keep a version of a description; a text that is there already is not kept twice.

    It is as far proven as it says itself; whoever brings it in answers for that.
    """
    device = read_device(text)
    for revision in revisions_in(text):
        read_device(text, revision=revision)
    if faults_text:
        read_faults(faults_text, device)
    before = newest(model)
    faults_text = faults_text or (before.faults_text if before else "")
    if before is not None and (before.text, before.faults_text) == (text, faults_text):
        return before
    last = Description.objects.filter(model=model).order_by("-number").first()
    said = device.release.state if device.release else Description.DRAFT
    return Description.objects.create(
        model=model,
        number=last.number + 1 if last else 1,
        text=text,
        faults_text=faults_text,
        state=said,
        by=by,
        at=now,
    )


def keep_of_folder(
    contents: Mapping[str, bytes], terms: Terms, *, by: Person, now: datetime
) -> list[Description]:
    """Keep the descriptions that came with a batch, by the names its terms give."""
    kept = []
    for model, facts in terms.models.items():
        text = contents.get(facts.device)
        if text is None:
            continue
        stem = facts.device.removesuffix(".device.yaml")
        faults = contents.get(f"{stem}.faults.yaml", b"")
        kept.append(
            keep_description(
                model, text.decode(), by=by, now=now, faults_text=faults.decode()
            )
        )
    return kept


@writing
def let_try(description: Description, who: Person, *, by: Person) -> None:
    """Let somebody who did not record a description rebuild a device from it."""
    if by.rights != Person.LEAD:
        raise RefusedError(f"lead: found {by.name}, wanted a lead to say so")
    if who.pk == description.by_id:
        raise RefusedError(
            f"trial: found {who.name}, wanted somebody who did not record it"
        )
    description.may_try = who
    description.save(update_fields=["may_try"])


@writing
def note_trial(description: Description, who: Person, *, n_left_over: int) -> None:
    """Write that somebody rebuilt a device from a draft, if nothing was left over."""
    if n_left_over or who.pk == description.by_id:
        return
    if description.state == Description.DRAFT:
        description.state = Description.TRIED
        description.tried_by = who
        description.edited = []
        description.save(update_fields=["state", "tried_by", "edited"])


@writing
def release(description: Description, *, by: Person) -> None:
    """Release a description for helpers: a lead's word, after a trial by another."""
    if by.rights != Person.LEAD:
        raise RefusedError(f"lead: found {by.name}, wanted a lead to release it")
    if description.state != Description.TRIED:
        raise RefusedError(
            f"state: found {description.state}, wanted it tried by another first"
        )
    description.state, description.released_by = Description.RELEASED, by
    description.save(update_fields=["state", "released_by"])


@writing
def withdraw(description: Description, *, by: Person) -> None:
    """Pull a description: nobody works from it any more."""
    if by.rights != Person.LEAD:
        raise RefusedError(f"lead: found {by.name}, wanted a lead to withdraw it")
    description.state = Description.WITHDRAWN
    description.save(update_fields=["state"])

"""How is a device set right that was received with a slip of the hand?"""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.job_state import ENDED
from turnscrew.files.batch_folder import unknown_in
from turnscrew.web.records.models import Asset, BenchRun, Item, Job, Person, Site
from turnscrew.web.records.queries.batch_input import line_now
from turnscrew.web.records.queries.free_stock import models_of_parts
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.services.booking import item_for
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, read_anew
from turnscrew.web.records.services.lengths import too_long
from turnscrew.web.records.services.on_record import require_on_record, require_open
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.setting_right import unfounded
from turnscrew.web.records.services.writing import writing


@dataclass(frozen=True)
class RightDevice:
    """What a device should say of itself; what is not given is right as it is."""

    serial: str = ""
    asset: str = ""
    model: str = ""
    site: str = ""
    due_day: int | None = None


@writing
def correct_device(
    job: Job, right: RightDevice, *, by: Person, now: datetime, words: str
) -> None:
    """
    Set right what was written of a device when it came, by a new entry.

    With another serial or model it is another body: the one that bears them already,
    or this one where it never came under the wrong one before. What it is called on
    labels and sheets printed so far does not change.
    """
    require_on_record(job.batch.customer_id)
    require_open(job.batch)
    read_anew(job)
    before = line_now(job)
    given: dict[str, Any] = {
        "serial": right.serial.strip(), "asset": right.asset.strip(),
        "model": right.model.strip(), "site": right.site.strip(),
        "due_day": right.due_day,
    }  # fmt: skip
    changed = {
        name: value
        for name, value in given.items()
        if value not in ("", None, getattr(before, name))
    }
    after = replace(before, **changed)
    reasons = [*unfounded(changed, words), *_wrong(job, before, after)]
    if reasons:
        raise RefusedError(*reasons)
    _keep(job, before, after, now)
    old = {name.replace("_", " "): getattr(before, name) for name in changed}
    told = "; ".join(f"{name} was: {was or 'none'}" for name, was in old.items())
    append(
        "custody", "device corrected", job.ref, by=by, now=now,
        facts={"what": ", ".join(old)}, words=f"{words.strip()} ({told})",
    )  # fmt: skip


def _wrong(job: Job, before: BatchLine, after: BatchLine) -> list[str]:
    reasons = []
    if job.state in ENDED:
        reasons.append(f"device: found one {job.state}, wanted one still here")
    if after.model != before.model:
        terms = terms_of(job.batch)
        unknown = unknown_in([after], terms, models_of_parts(terms))
        reasons += [
            f"{one.where}: found {one.found}, wanted {one.wanted}" for one in unknown
        ]
        if BenchRun.objects.filter(job=job).exists():
            reasons.append("model: found work begun at the bench, wanted none yet")
        if job.allotments.exists():
            reasons.append("model: found pieces promised or used, wanted none yet")
    texts = {
        "serial": after.serial, "asset_number": after.asset, "model": after.model,
        "site": after.site,
    }  # fmt: skip
    return reasons + too_long(Job, texts)


def _keep(job: Job, before: BatchLine, after: BatchLine, now: datetime) -> None:
    batch = job.batch
    if (after.serial, after.model) != (before.serial, before.model):
        if after.model != before.model:
            # A revision belongs to its model.
            after = replace(after, revision="")
        job.item = _body(job, after, now)
    elif after.asset != before.asset:
        _call(job.item, after.asset, job)
    is_other = (after.serial, after.asset) != (before.serial, before.asset)
    if is_other and not job.is_comeback_settled:
        # Of which job it is a comeback is told anew when quotes are kept.
        job.comeback_of, job.comeback_class = None, ""
    job.serial, job.asset_number, job.model = after.serial, after.asset, after.model
    job.revision, job.site, job.due_day = after.revision, after.site, after.due_day
    if after.site:
        Site.objects.get_or_create(customer=batch.customer, name=after.site)
    keep(job, now)


def _body(job: Job, told: BatchLine, now: datetime) -> Item:
    """Give the body of a device as it is told now."""
    customer, old = job.batch.customer, job.item
    is_alone = old.jobs.count() == 1
    bears = Item.objects.filter(
        customer=customer, serial=told.serial, model=told.model
    ).exclude(serial="", pk=old.pk)
    if not is_alone or bears.exists():
        # The other body never bore the number that was read off this one.
        old.assets.filter(since=job.batch.received).delete()
        return item_for(customer, told, job.batch.received, now=now)
    old.serial, old.model, old.revision = told.serial, told.model, told.revision
    keep(old, now)
    _call(old, told.asset, job)
    return old


def _call(item: Item, asset: str, job: Job) -> None:
    """Let a body bear a number from the day it came; a wrong one it never bore."""
    day = job.batch.received
    item.assets.filter(until=None, since=day).exclude(number=asset).delete()
    item.assets.filter(until=None).exclude(number=asset).update(until=day)
    if asset and not item.assets.filter(number=asset, until=None).exists():
        Asset.objects.create(item=item, number=asset, since=day)

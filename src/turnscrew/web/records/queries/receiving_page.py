"""What is known of a device the moment it is scanned on arrival?"""

from turnscrew.core.model.job_state import ENDED
from turnscrew.core.model.nearest import nearest
from turnscrew.core.reconcile.recognise import Recognition
from turnscrew.web.records.models import Batch, Item, Job, ListedRow
from turnscrew.web.records.queries.again import TIMES, WHY
from turnscrew.web.records.queries.item_page import items_bearing
from turnscrew.web.records.queries.spelled import spelled
from turnscrew.web.records.queries.terms_text import terms_of


def looked_up(batch: Batch, code: str) -> tuple[list[str], dict[str, str]]:
    """Say whether a scanned device is expected and known, and fill in what is told."""
    told: list[str] = []
    filled: dict[str, str] = {"serial": code}
    rows = ListedRow.objects.filter(batch=batch, until=None)
    row = rows.filter(spelled("serial", code) | spelled("asset", code)).first()
    if row is None:
        told.append(f"{code} is not on the customer's list")
    else:
        told.append(f"row {row.row} of the customer's list: {row.asset} {row.serial}")
        filled = _filled(batch, row)
    here = Job.objects.filter(batch=batch).filter(
        spelled("serial", code) | spelled("asset_number", code)
    )
    told += [f"received already as device {job.line}" for job in here]
    either = [code, code.upper()]
    bearing = items_bearing(serials=either, numbers=either)
    items = Item.objects.filter(pk__in=bearing).exclude(jobs__batch=batch)
    for item in items.order_by("pk")[:5]:
        past = item.jobs.order_by("-id").first()
        when = f", last here {past.batch.received}" if past else ""
        told.append(f"known: {item}{when}")
        n = item.jobs.filter(state__in=ENDED).count()
        if n + 1 >= TIMES:
            told.append(f"job {n + 1} of this device: a lead must look, as {WHY}")
    return told, filled


def by_body(
    told: list[str], filled: dict[str, str], ranked: Recognition | None
) -> tuple[list[str], dict[str, str]]:
    """Fill in the revision that the body shows, and say so where the list differs."""
    if ranked is None or not ranked.is_sure or not ranked.best.known.revision:
        return told, filled
    seen = ranked.best.known
    model, revision = filled.get("model", ""), filled.get("rev", "")
    if model and (model, revision) != (seen.model, seen.revision):
        said = f"{model} {revision}".strip()
        told = [
            *told,
            f"the list says {said}, the body shows {seen.name}: parts go by the body, "
            "the list keeps its own",
        ]
    return told, {**filled, "model": seen.model, "rev": seen.revision}


def _filled(batch: Batch, row: ListedRow) -> dict[str, str]:
    """Give what the list says, with the model by our short name where it is plain."""
    models = terms_of(batch).models
    short = row.model if row.model in models else ""
    if not short:
        short = next(
            (one for one, model in models.items() if row.model.endswith(model.name)),
            nearest(row.model, models).removeprefix("perhaps ").strip('"'),
        )
    revision = row.revision.removeprefix("rev").strip()
    return {
        "serial": row.serial, "asset": row.asset, "model": short, "rev": revision,
        "site": row.site,
    }  # fmt: skip

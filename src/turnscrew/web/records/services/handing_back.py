"""How do devices go back to their owner, and when is a batch closed?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import OuterRef, Q, QuerySet, Subquery

from turnscrew.core.model.amounts import counted
from turnscrew.core.model.job_state import ENDED, Standing
from turnscrew.core.price.comeback import AT_NO_CHARGE
from turnscrew.web.records.models import (
    Accessory,
    Batch,
    DataPart,
    Job,
    Person,
    Quote,
    Signature,
    Tranche,
)
from turnscrew.web.records.queries.bench_runs import left_as_they_were
from turnscrew.web.records.queries.charges import late_credits
from turnscrew.web.records.queries.closing import NOT_MENDED, confirmed_end
from turnscrew.web.records.queries.found_faults import NOT_FOUND
from turnscrew.web.records.queries.permission import is_left
from turnscrew.web.records.queries.power_bars import holds_bad_pack
from turnscrew.web.records.queries.sheet_told import rushed_among
from turnscrew.web.records.queries.skills import leaves_with_bad_pack
from turnscrew.web.records.queries.waste_page import CARCASS
from turnscrew.web.records.services import custody, stock, waste
from turnscrew.web.records.services.batch_lines import jobs_at
from turnscrew.web.records.services.donor_pieces import left_of
from turnscrew.web.records.services.in_turn import in_turn
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, read_anew
from turnscrew.web.records.services.lengths import too_long
from turnscrew.web.records.services.on_record import require_open
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@dataclass(frozen=True)
class Stay:
    """Why pieces of an accessory do not go back, and how many; none: all of them."""

    why: str
    n: int | None = None

    def of(self, one: Accessory) -> int:
        """Give how many of those that are here stay."""
        return one.n_here if self.n is None else min(self.n, one.n_here)

    def wrong(self, one: Accessory, where: str) -> list[str]:
        """Say what the records cannot take."""
        reasons = too_long(Accessory, {"explanation": self.why}, where)
        if self.n is not None and not 1 <= self.n <= one.n_here:
            reasons.append(
                f"accessory: found {self.n} {one.kind}, wanted 1 to {one.n_here}"
            )
        return reasons


@writing
def hand_back(
    batch: Batch,
    lines: Iterable[int],
    *,
    taken_by: str,
    by: Person,
    now: datetime,
    strokes: str = "",
    explained: Mapping[int, Stay] | None = None,
    note: str = "",
    with_strays: bool = False,
) -> Tranche:
    """
    Give devices back together, with all that came with them, against a signature.

    An accessory that does not go back must be explained, by its id. Strays came with a
    device that does not go back, or nobody knows with which; they may go by themselves.
    """
    jobs = jobs_at(batch, lines)
    is_any = jobs or with_strays and strays_here(batch)
    reasons = [] if is_any else ["devices: found none, wanted one or more"]
    reasons += [
        f"device {job.line}: is {job.state}, wanted packed"
        for job in jobs
        if job.state != "packed"
    ]
    reasons += [
        f"device {job.line}: pack swollen or not known, wanted it isolated and changed,"
        " or somebody signed off who says that it is sound"
        for job in jobs
        if job.state == "packed" and holds_bad_pack(job)
    ]
    reasons += [
        f"device {row.job.line}: all final tests were answered in {row.rushed_s:.0f} s,"
        " wanted a lead who looked into it (on the device's page)"
        for row in rushed_among(jobs)
    ]
    if not taken_by.strip():
        reasons.append("signature: found no name, wanted who takes them")
    reasons += too_long(Tranche, {"taken_by": taken_by.strip()})
    for one in Accessory.objects.filter(pk__in=explained or {}).select_related("job"):
        where = f"device {one.job.line}, " if one.job else ""
        reasons += (explained or {})[one.pk].wrong(one, where)
        reasons += _stays_here(one, jobs, with_strays=with_strays)
    if reasons:
        raise RefusedError(*reasons)
    tranche = _signed(batch, taken_by, jobs, by=by, now=now, note=note, strokes=strokes)
    if with_strays:
        _give_out(strays_of(batch), explained or {}, by=by, now=now)
    for job in jobs:
        _give_out(job.accessories.all(), explained or {}, by=by, now=now)
        _give(job, tranche, by=by, now=now)
    return tranche


def _stays_here(one: Accessory, jobs: list[Job], *, with_strays: bool) -> list[str]:
    """Refuse to explain what does not leave now: it would be dropped without a word."""
    if one.job in jobs or with_strays and one in strays_of(one.batch):
        return []
    if one in strays_of(one.batch):
        return [
            "accessory: found it of no device that goes back now, wanted the rest given"
            " back too"
        ]
    line = one.job.line if one.job else "none"
    return [
        f"accessory: found it of device {line}, which does not go back now, wanted it"
        " explained when it does"
    ]


def _signed(
    batch: Batch, taken_by: str, jobs: Sequence[Job], *, by: Person, now: datetime,
    note: str, strokes: str = "",
) -> Tranche:  # fmt: skip
    """Keep that somebody signed for devices that leave together."""
    name = taken_by.strip()
    tranche = Tranche.objects.create(
        batch=batch, handed_on=now.date(), taken_by=name, note=note
    )
    # The note is printed as things stood then, so nothing of them was written later.
    at = max((in_turn(job, now) for job in jobs), default=now)
    Signature.objects.create(tranche=tranche, name=name, strokes=strokes, at=at)
    append(
        "custody", "signed", batch.ref, by=by, now=now,
        facts={"tranche": tranche.ref, "n": len(jobs)},
    )  # fmt: skip
    return tranche


def _give(job: Job, tranche: Tranche, *, by: Person, now: datetime) -> None:
    job.tranche, job.ended_as = tranche, _ended_as(job)
    keep(job, now)
    to = Standing("handed back", custody.CUSTOMER, custody.CUSTOMER)
    custody.move(job, to, by=by, now=now)
    # What nobody fitted is free again, or the next one waits for it in vain.
    stock.release_all(job, by=by, now=now, words="not fitted: handed back")


def _ended_as(job: Job) -> str:
    known = confirmed_end(job)
    if known != NOT_FOUND and (left_as_they_were([job]) or is_left(job)):
        return NOT_MENDED
    if known:
        return known
    last = job.quotes.last()
    is_fault = last is None or last.code != "no_fault_found"
    return "mended" if is_fault else "no fault found"


def strays_of(batch: Batch) -> QuerySet[Accessory]:
    """Give what came with devices that do not go back, or with none that is known."""
    stays = Q(job=None) | Q(job__state__in=["donor", "disposed"])
    return batch.accessories.filter(stays).select_related("job")


def strays_here(batch: Batch) -> list[Accessory]:
    """Give those of them that are still here."""
    return [one for one in strays_of(batch) if one.n_here]


def _give_out(
    accessories: QuerySet[Accessory],
    explained: Mapping[int, Stay],
    *,
    by: Person,
    now: datetime,
) -> None:
    for one in accessories.select_for_update(of=("self",)):
        stay = explained.get(one.pk)
        n_stay = stay.of(one) if stay else 0
        n_out = one.n_here - n_stay
        one.n_explained += n_stay
        one.n_out += n_out
        if stay and n_stay:
            one.explanation = stay.why
        one.save()
        told = [
            ("accessory explained", n_stay, stay.why if stay else ""),
            ("accessory out", n_out, ""),
        ]
        for verb, n, words in told:
            if n:
                append(
                    "custody", verb, (one.job or one.batch).ref, by=by, now=now,
                    facts={"kind": one.kind, "n": n}, words=words,
                )  # fmt: skip


@writing
def return_unrepaired(
    job: Job, *, by: Person, now: datetime, reason: str, taken_by: str
) -> Tranche:
    """Give a device back as it came, with the reason, against a signature."""
    read_anew(job)
    reasons = []
    if not reason.strip():
        reasons.append("reason: found none, wanted why it goes back as it came")
    if not taken_by.strip():
        reasons.append("signature: found no name, wanted who takes it")
    reasons += too_long(Tranche, {"taken_by": taken_by.strip()})
    reasons += _bad_pack_in(job, now)
    if reasons:
        raise RefusedError(*reasons)
    tranche = _signed(job.batch, taken_by, [job], by=by, now=now, note=reason)
    job.tranche = tranche
    keep(job, now)
    _give_out(job.accessories.all(), {}, by=by, now=now)
    stock.release_all(job, by=by, now=now, words=reason)
    to = Standing(
        "returned unrepaired", custody.CUSTOMER, custody.CUSTOMER, reason=reason
    )
    custody.move(job, to, by=by, now=now)
    stock.want_anew(left_of(job), by=by, now=now)
    return tranche


def _bad_pack_in(job: Job, now: datetime) -> list[str]:
    """Refuse to let a device out of the house with a pack that is bad."""
    if not leaves_with_bad_pack(job, now):
        return []
    return [
        f"device {job.line}: pack swollen or not known, wanted it taken out and written"
        " in the log of packs by somebody signed off"
    ]


@writing
def dispose(
    job: Job,
    *,
    by: Person,
    now: datetime,
    receipt: waste.Receipt,
    mass_g: int | None = None,
) -> None:
    """Let a carcass go, against a receipt, once nothing that holds data is left."""
    reasons = [*receipt.wrong(), *_bad_pack_in(job, now)]
    if job.data_parts.filter(end="").exists():
        reasons.append("data: found a part without an end, wanted none")
    if reasons:
        raise RefusedError(*reasons)
    to = Standing("disposed", "waste receiver", "waste receiver", reason=receipt.number)
    custody.move(job, to, by=by, now=now)
    stock.release_all(job, by=by, now=now, words="not fitted: disposed of")
    stock.want_anew(left_of(job), by=by, now=now)
    job.donor.carcass_receipt = receipt.number.strip()
    job.donor.save()
    left = waste.throw_away(waste.Scrap(CARCASS, mass_g), by=by, now=now, job=job)
    waste.let_go([left.ref], receipt, by=by, now=now)


@writing
def close_batch(batch: Batch, *, by: Person, now: datetime) -> None:
    """Close a batch, once, when nothing of it is here and nothing is left open."""
    read_anew(batch)
    require_open(batch)
    reasons = closing_refusals(batch)
    if reasons:
        raise RefusedError(*reasons)
    batch.closed_on = now.date()
    keep(batch, now)


def closing_refusals(batch: Batch) -> list[str]:
    """Say what keeps a batch open."""
    here = batch.jobs.exclude(state__in=ENDED).count()
    data = DataPart.objects.filter(job__batch=batch, end="").count()
    kept = sum(one.n_here for one in batch.accessories.all())
    last = Quote.objects.filter(job=OuterRef("pk")).order_by("-pk").values("code")[:1]
    bare = batch.jobs.filter(invoice_lines=None).annotate(quoted=Subquery(last))
    # A comeback with something else besides pays for that.
    bare = bare.exclude(
        Q(state="returned unrepaired")
        | Q(comeback_of__isnull=False, comeback_class__in=AT_NO_CHARGE)
        & (Q(quoted=None) | Q(quoted="comeback"))
    )
    n_bare, n_late = bare.count(), len(late_credits(batch))
    told = [
        (here, f"{counted(here, 'device')} still here"),
        (data, f"{counted(data, 'part')} with data without an end on record"),
        (kept, f"neither given back nor explained: {kept} of the accessories"),
        (n_bare, f"{counted(n_bare, 'device')} on no invoice"),
        (n_late, f"{counted(n_late, 'credit')} of a donor on no invoice"),
    ]
    return [words for n, words in told if n]

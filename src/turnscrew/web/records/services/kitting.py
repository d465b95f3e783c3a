"""How do parts come to jobs: from the shelf, from donors, from an order?"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime

from django.db.models import QuerySet

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.amounts import money
from turnscrew.core.model.calendar import Calendar
from turnscrew.core.model.job_state import CLOSED, GIVEN_BACK, Standing
from turnscrew.core.stock.together import shares
from turnscrew.flows.batch.supply import offers_of
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    DataPart,
    Donor,
    DonorPart,
    Job,
    OrderLine,
    Part,
    Person,
)
from turnscrew.web.records.queries.answers import was_refused
from turnscrew.web.records.queries.batch_page import order_needs
from turnscrew.web.records.queries.data_bearing import (
    exchanged_for,
    holds_data,
    is_failed,
    is_storage_failed,
)
from turnscrew.web.records.queries.needed_no_more import (
    needed_no_more,
    needed_no_more_now,
)
from turnscrew.web.records.queries.order_today import order_today
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import custody, fits, stock
from turnscrew.web.records.services.batch_lines import jobs_at
from turnscrew.web.records.services.donor_findings import STORAGE, keep_to_findings
from turnscrew.web.records.services.donor_pieces import may_leave, serve_from
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.on_record import require_on_record
from turnscrew.web.records.services.quoting import keep_quotes
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

Shown = Mapping[str, tuple[int, int]]
"""Pieces to buy of each part and their cost, as somebody read them. [1, minor units]"""

_MEANT = (Allotment.PROMISED, Allotment.SHORT)
_LIVE = (*_MEANT, Allotment.USED)


@writing
def allot(
    batch: Batch, answer: BatchAnswer, *, by: Person, now: datetime
) -> list[Allotment]:
    """
    Promise every job of a batch what it needs; what is not there is kept short.

    What was meant for a job, and what is found asks for no more, is free for others.
    """
    jobs = {job.line: job for job in batch.jobs.prefetch_related("findings")}
    for job in jobs.values():
        if job.state not in CLOSED:
            _free_unneeded(job, answer, by=by, now=now)
    parts = {part.number: part for part in Part.objects.all()}
    have = Counter(
        Allotment.objects.filter(job__batch=batch, state__in=_LIVE).values_list(
            "job__line", "part__number"
        )
    )
    wishes = []
    for use in answer.supply.uses:
        named = use.demand.device, use.demand.part
        if have[named]:
            have[named] -= 1
            continue
        job, part = jobs[use.demand.device], parts[use.demand.part]
        if job.state in CLOSED or job.state == "donor":
            continue
        if use.source == "stock":
            wishes.append(stock.promise(part, job, by=by, now=now))
        else:
            wishes.append(stock.want(part, job, by=by, now=now))
    _serve_from_donors(batch, by=by, now=now)
    for part in {wish.part for wish in wishes if wish.state == Allotment.SHORT}:
        # What the plan keeps for a device that has left lies free.
        stock.serve_waiting(part, by=by, now=now)
    return wishes


def _free_unneeded(job: Job, answer: BatchAnswer, *, by: Person, now: datetime) -> None:
    """Free what other findings, or another revision, ask for no more."""
    line = answer.by_name[job.line].line
    known = answer.batch
    unneeded = needed_no_more(job, line, known.terms, known.parts)
    for wish in job.allotments.filter(state__in=_MEANT, part__number__in=unneeded):
        stock.release(wish, by=by, now=now, words="not needed by what is found")


def _serve_from_donors(batch: Batch, *, by: Person, now: datetime) -> None:
    """Give good pieces of donors that nobody has yet to whoever waits first."""
    for job in batch.jobs.exclude(donor=None).select_related("donor", "batch"):
        # What was found before pieces were withdrawn for it is asked here.
        keep_to_findings(job, by=by, now=now)
    free = DonorPart.objects.filter(
        donor__job__batch=batch, state=DonorPart.GOOD, allotment=None
    )
    for part in free.select_related("part", "donor__job__batch"):
        serve_from(part)


@writing
def place_order(
    batch: Batch, numbers: Iterable[str], *,
    by: Person, now: datetime, shown: Shown | None = None,
) -> list[OrderLine]:  # fmt: skip
    """
    Order what a batch still needs of some parts.

    What it needs is reckoned here once more: it may be other than what was ``shown``,
    and whoever orders meant that.
    """
    answer = reckoned(batch, now)
    terms = answer.batch.terms
    needs = {need.number: need for need in order_needs(batch, answer)}
    today = max(now.date(), terms.received)
    placed = []
    for number in dict.fromkeys(numbers):
        need = needs.get(number)
        if need is None or not need.n_left:
            raise RefusedError(f"part: found {number}, wanted one still to be ordered")
        _refuse_another(number, (need.n_left, need.cost_minor), shown)
        part = Part.objects.get(number=number)
        expected = _expected(terms.calendar, part, today)
        placed.append(
            stock.order(
                part, need.n_left, by=by, now=now, cost_minor=need.cost_minor,
                batch=batch, expected_on=expected,
            )
        )  # fmt: skip
    return placed


@writing
def place_together(
    numbers: Iterable[str], *, by: Person, now: datetime, shown: Shown | None = None
) -> list[OrderLine]:
    """
    Order parts for all who want them: one line a batch, what is over for stock.

    What is due is reckoned here once more, so that nothing is ordered twice, nor
    otherwise than was ``shown``.
    """
    asked = order_today(now)
    rows = {row.part.number: row for row in asked.due}
    by_ref = {batch.ref: batch for batch in asked.batches}
    calendar = Calendar()
    placed = []
    for number in dict.fromkeys(numbers):
        row = rows.get(number)
        if row is None:
            raise RefusedError(f"part: found {number}, wanted one still to be ordered")
        bought = row.purchase
        _refuse_another(number, (bought.n_bought, bought.cost_minor), shown)
        expected = calendar.date_of(row.lead.days + 1, now.date())
        for ref, n, minor in shares(bought):
            placed.append(
                stock.order(
                    row.part, n, by=by, now=now, cost_minor=minor,
                    batch=by_ref.get(ref),
                    expected_on=None if row.lead.known_by == "not known" else expected,
                )
            )  # fmt: skip
    return placed


def _refuse_another(number: str, now: tuple[int, int], shown: Shown | None) -> None:
    n_shown, minor_shown = now if shown is None else shown.get(number, (0, 0))
    n, minor = now
    if (n, minor) != (n_shown, minor_shown):
        raise RefusedError(
            f"{number}: found {n} to buy for {money(minor)} by now, wanted the "
            f"{n_shown} for {money(minor_shown)} that the page showed"
        )


def _expected(calendar: Calendar, part: Part, today: date) -> date | None:
    lead = part.lead_days
    return None if lead is None else calendar.date_of(lead + 1, today)


@writing
def declare_donor(
    job: Job, answer: BatchAnswer, *, by: Person, now: datetime, consent: str = ""
) -> Donor:
    """
    Take a device as a donor; it still belongs to its customer.

    Without consent its parts go to devices of the same customer only. Whatever holds
    data is listed at once, so that it cannot be forgotten.
    """
    job = Job.objects.select_for_update().get(pk=job.pk)
    if hasattr(job, "donor"):
        raise RefusedError(f"device {job.line}: is a donor already")
    device = answer.by_name[job.line]
    if device.is_mended and not was_refused(job):
        raise RefusedError(
            f"device {job.line}: found it to be mended, wanted one not worth mending "
            "or refused by the customer"
        )
    terms = answer.batch.terms
    if terms.donors.use == "none":
        raise RefusedError("donor: the terms allow none")
    use = terms.donors.use
    if use == "any" and not consent.strip():
        use = "same customer"
    to = Standing("donor", job.place, job.holder, main=job.main_state)
    custody.move(job, to, by=by, now=now)
    stock.release_all(job, by=by, now=now, words="not mended: a donor")
    donor = Donor.objects.create(job=job, use=use, consent=consent.strip())
    stripped = replace(device, decision=replace(device.decision, code="strip"))
    for offer in offers_of(answer.batch, [stripped]):
        part = Part.objects.get(number=offer.part)
        DonorPart.objects.create(donor=donor, part=part)
    keep_data_part(
        job, by=by, now=now, what=STORAGE, is_readable=not is_storage_failed(job)
    )
    keep_quotes(job.batch, answer, by=by, now=now, only=job.line)
    return donor


@writing
def keep_data_part(
    job: Job,
    *,
    by: Person,
    now: datetime,
    what: str = "storage",
    serial: str = "",
    is_readable: bool = True,
) -> DataPart:
    """List a part that holds data and will leave its device."""
    require_on_record(job.batch.customer_id)
    part = DataPart.objects.create(
        job=job, what=what, serial=serial, is_readable=is_readable
    )
    append("custody", "data part", job.ref, by=by, now=now, facts={"part": part.ref})
    return part


@writing
def end_data_part(
    part: DataPart, end: str, *, by: Person, now: datetime, verified_how: str
) -> None:
    """Write what became of a part that holds data, and how that was verified."""
    part = DataPart.objects.select_for_update().get(pk=part.pk)
    ends = DataPart.ENDS if part.is_readable else ["returned", "destroyed"]
    reasons = []
    if part.end:
        reasons.append(f"end: found {part.end} already, wanted one without an end")
    if end not in ends:
        reasons.append(f"end: found {end}, wanted one of {', '.join(ends)}")
    if not verified_how.strip():
        reasons.append("verified: found nothing, wanted how it was verified")
    if reasons:
        raise RefusedError(*reasons)
    part.end, part.ended_on, part.verified_how = end, now.date(), verified_how.strip()
    part.save()
    append(
        "custody", "data part", part.job.ref, by=by, now=now,
        facts={"part": part.ref, "end": end}, words=verified_how,
    )  # fmt: skip


_TO_TEST = (DonorPart.UNTESTED, DonorPart.GOOD, DonorPart.BAD)


@writing
def test_donor_part(
    part: DonorPart,
    *,
    is_good: bool,
    by: Person,
    now: datetime,
    how: str,
    was: str = DonorPart.UNTESTED,
) -> None:
    """
    Write how a donor's part was tested; a good one goes to whoever waits first.

    A part may be tested again while it is here: whoever was promised one that is bad
    by now waits for another. ``was`` is its state as somebody read it.
    """
    keep_to_findings(part.donor.job, by=by, now=now)
    part = DonorPart.objects.select_for_update().get(pk=part.pk)
    require_on_record(part.donor.job.batch.customer_id)
    reasons = []
    if part.state != was:
        reasons.append(f"part: found {part.state} already, wanted one {was}")
    elif part.state == (DonorPart.GOOD if is_good else DonorPart.BAD):
        reasons.append(f"part: found {part.state} already, wanted another result")
    elif part.state not in _TO_TEST:
        reasons.append(f"part: found {part.state}, wanted one that is here to test")
    reasons += _went_back(part)
    if not how.strip():
        reasons.append("test: found nothing, wanted how it was tested")
    if reasons:
        raise RefusedError(*reasons)
    part.state = DonorPart.GOOD if is_good else DonorPart.BAD
    part.tested_how = how.strip()
    part.save()
    append(
        "bench", "tested", part.donor.job.ref, by=by, now=now,
        facts={"part": part.part.number, "result": part.state}, words=how,
    )  # fmt: skip
    if is_good:
        serve_from(part)
    else:
        stock.want_anew([part], by=by, now=now)


def _went_back(part: DonorPart) -> list[str]:
    """Refuse a piece that its owner took along with the donor."""
    if part.donor.job.state not in GIVEN_BACK or part.state == DonorPart.USED:
        return []
    return ["part: found it gone with its donor, wanted one that is here"]


@writing
def lay_donor_part(part: DonorPart, place: str, *, by: Person, now: datetime) -> None:
    """Write where a part taken from a donor lies, so that it can be found."""
    part = DonorPart.objects.select_for_update(of=("self",)).select_related(
        "part", "donor__job"
    ).get(pk=part.pk)  # fmt: skip
    reasons = []
    if not place.strip():
        reasons.append("place: found none, wanted where it lies")
    if part.state == DonorPart.USED:
        reasons.append("part: found it fitted already, wanted one that is here")
    reasons += _went_back(part)
    if reasons:
        raise RefusedError(*reasons)
    part.place = place.strip()
    part.save()
    facts = {"job": part.donor.job.ref, "place": part.place}
    append("stock", "laid", part.part.ref, by=by, now=now, facts=facts)


@writing
def fit(
    job: Job, *, by: Person, now: datetime, told: Mapping[str, int] | None = None
) -> list[Allotment]:
    """
    Write that the pieces promised to a job were fitted, but for those needed no more.

    Of a part in ``told`` no more than hands told of; the others stay promised.
    """
    used = Counter(
        job.allotments.filter(state=Allotment.USED).values_list(
            "part__number", flat=True
        )
    )
    left = {number: n - used[number] for number, n in (told or {}).items()}
    unneeded = needed_no_more_now(job)
    promised = []
    for wish in _promised_to(job):
        number = wish.part.number
        if left.get(number, 0 if number in unneeded else 1) > 0:
            promised.append(wish)
        if number in left:
            left[number] -= 1
    for wish in promised:
        if wish.donor_part is None:
            stock.take(wish.part, job, by=by, now=now)
        else:
            _fit_from_donor(wish, by=by, now=now)
        _list_exchanged(wish.part, job, by=by, now=now)
    fits.note_fitted([wish.part for wish in promised], job, now=now)
    return promised


@writing
def take_fitted(
    job: Job, fitted: Mapping[str, int], *, by: Person, now: datetime
) -> list[Allotment]:
    """
    Write pieces that hands fitted as taken off the shelf, as far as they are not yet.

    What nobody had allotted is fitted all the same: the books follow the hands.
    """
    wishes = job.allotments.filter(state=Allotment.USED)
    used = Counter(wishes.values_list("part__number", flat=True))
    parts = list(Part.objects.filter(number__in=fitted).order_by("number"))
    fits.note_fitted(parts, job, now=now)
    return [
        take_and_fit(part, job, by=by, now=now)
        for part in parts
        for _ in range(fitted[part.number] - used[part.number])
    ]


@writing
def take_and_fit(part: Part, job: Job, *, by: Person, now: datetime) -> Allotment:
    """Write a piece as taken off the shelf and fitted, and list what came out."""
    wish = stock.take(part, job, by=by, now=now)
    _list_exchanged(part, job, by=by, now=now)
    fits.note_fitted([part], job, now=now)
    return wish


def _promised_to(job: Job) -> QuerySet[Allotment]:
    """Give the pieces promised to a job, those that came first at the head."""
    return (
        Allotment.objects.select_for_update(of=("self",))
        .filter(job=job, state=Allotment.PROMISED)
        .select_related("part", "donor_part__donor__job__batch")
        .order_by("pk")
    )


def _list_exchanged(part: Part, job: Job, *, by: Person, now: datetime) -> None:
    """List what held data and came out when its spare part went in."""
    if not holds_data(part, job):
        return
    keep_data_part(
        job, by=by, now=now, what=exchanged_for(part),
        is_readable=not is_failed(part, job),
    )  # fmt: skip


def _fit_from_donor(wish: Allotment, *, by: Person, now: datetime) -> None:
    donor_part = wish.donor_part
    assert donor_part is not None
    donor = donor_part.donor
    is_same = donor.job.batch.customer_id == wish.job.batch.customer_id
    if not is_same and not may_leave(donor):
        raise RefusedError("donor part: belongs to another customer, no consent given")
    donor_part.state = DonorPart.USED
    donor_part.save()
    wish.state, wish.used_at = Allotment.USED, now
    wish.save()
    words = f"donor {donor.job.number}"
    stock.move_stock(wish.part, "harvested", 1, by=by, now=now, job=wish.job,
                     words=words)  # fmt: skip
    stock.move_stock(wish.part, "used", 1, by=by, now=now, job=wish.job)


@writing
def fit_several(
    batch: Batch, lines: Iterable[int], *, by: Person, now: datetime
) -> int:
    """Write that the kits of several devices were fitted; give the pieces."""
    return sum(len(fit(job, by=by, now=now)) for job in jobs_at(batch, lines))


@writing
def declare_donors(
    batch: Batch, lines: Iterable[int], answer: BatchAnswer, *,
    by: Person, now: datetime, consent: str = "",
) -> list[Donor]:  # fmt: skip
    """Take several devices as donors."""
    return [
        declare_donor(job, answer, by=by, now=now, consent=consent)
        for job in jobs_at(batch, lines)
    ]

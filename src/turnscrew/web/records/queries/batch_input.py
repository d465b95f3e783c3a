"""What is known of a batch, as the core takes it, now or as of a time?"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime
from typing import Any

from django.db.models import Exists, Max, Min, OuterRef, Q, QuerySet
from django.utils.timezone import localtime

from turnscrew.core.batch.question import WhatIf
from turnscrew.core.ledger.verbs import PROMISE_SIGNS, STOCK_SIGNS
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.calendar import Calendar
from turnscrew.core.model.job_state import BEGUN, BENCH_DONE, ENDED, LEFT_MENDED
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.model.quote import Agreed
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.model.terms import Terms
from turnscrew.core.price.comeback import comeback_of
from turnscrew.errors import BadArgumentError
from turnscrew.web.records import convert
from turnscrew.web.records.models import (
    Allotment,
    Approval,
    Batch,
    Customer,
    Entry,
    Finding,
    Job,
    ListedRow,
    Lot,
    OrderLine,
    Part,
    Person,
    SignOff,
)
from turnscrew.web.records.queries.answers import (
    REPAIR,
    answers_in_hand,
    asked_last,
    let_go_before,
    said_yes,
    settled_free_since,
)
from turnscrew.web.records.queries.as_of import stands_at, written_by
from turnscrew.web.records.queries.charges import agreed_quotes
from turnscrew.web.records.queries.closed_jobs import (
    closed_before,
    confirmed_by_job,
    without_the_rest,
)
from turnscrew.web.records.queries.days_away import days_away
from turnscrew.web.records.queries.descriptions import Draft, drafts_of, not_released
from turnscrew.web.records.queries.donor_supply import (
    given_in,
    meant_for,
    own_donor,
    pieces_left,
)
from turnscrew.web.records.queries.in_parts import among
from turnscrew.web.records.queries.sign_offs import held_on
from turnscrew.web.records.queries.terms_text import terms_in
from turnscrew.web.records.queries.told_dangers import told_by_job

NOT_FOUND = "no fault found"
"""Mode of what was confirmed where no fault showed itself."""

_NOT_MENDED = frozenset({"donor", "disposed", "returned unrepaired"})
"""States in which nothing is mended any more, begun or not."""


def batch_input(batch: Batch, now: datetime, *, past_time: bool = False) -> BatchInput:
    """Give all that is known of a batch, or with ``past_time`` was known then."""
    then = now if past_time else None
    terms = terms_of(batch, then)
    jobs = jobs_of(batch, then)
    found, told = found_by_job(jobs, then), told_by_job(jobs, then=then)
    came = came_on(batch, jobs) if now.date() > batch.received else {}
    lines = tuple(
        convert.batch_line(job, found[job.pk], told[job.pk], came.get(job.ref))
        for job in jobs
    )
    meant = [] if then else meant_for(batch)
    free = free_for(batch, meant, then)
    listed = listed_rows(batch, then)
    notes: tuple[str, ...] = ()
    if not listed:
        notes = ("no customer's list yet: nothing could be compared",)
    drafts: tuple[Draft, ...] = ()
    if then is None:
        drafts = drafts_of({job.model for job in jobs if job.state not in ENDED})
    return BatchInput(
        lines=lines,
        listed=tuple(convert.listed_device(row) for row in listed),
        parts=_parts(batch, terms, now, free, then),
        terms=terms,
        people=people_at(max(now.date(), batch.received), then),
        past=past_jobs(jobs, max([batch.received, *came.values()])),
        notes=(*notes, *not_released(drafts)),
        by_draft={draft.model: draft.roles for draft in drafts},
        pieces_left=pieces_left(batch, meant, then),
        given=given_in(batch, meant),
    )


def came_on(batch: Batch, jobs: Iterable[Job]) -> dict[str, date]:
    """
    Give by reference the day on which each device came that came after its batch.

    What was received on the day the batch was written down came with it.
    """
    moves = Entry.objects.filter(journal="custody", verb="moved").order_by()
    first = moves.values("subject").annotate(first=Min("at"))
    days = {
        ref: localtime(at).date()
        for ref, at in among(
            first.values_list("subject", "first"), "subject", [job.ref for job in jobs]
        )
    }
    later = {ref: day for ref, day in days.items() if day > batch.received}
    if not later:
        return {}
    form = Batch.history.filter(id=batch.pk).order_by("history_date").first()
    booked = localtime(form.history_date).date() if form else batch.received
    return {ref: day for ref, day in later.items() if day > booked}


def what_stands(batch: Batch, now: datetime, *, past_time: bool = False) -> WhatIf:
    """Give the answers in hand, what is done, and the day it is."""
    then = now if past_time else None
    terms = terms_of(batch, then)
    day = 1
    if now.date() > batch.received:
        day = terms.calendar.number_of(now.date(), batch.received)
    jobs = jobs_of(batch, then)
    asked = asked_last(batch, then)
    answers = answers_in_hand(asked, then)
    over = [one for one in asked if one.answer != Approval.YES]
    as_asked = _found_as_then(((one.job, one.asked_at) for one in over), then)
    over = [one for one in over if one.job_id in as_asked]
    wanted = {job.pk for job in jobs if job.state not in _NOT_MENDED}
    return WhatIf(
        said_no=frozenset(one.job.line for one in over if one.answer),
        said_yes=said_yes((one for one in asked if one.job_id in wanted), then),
        waiting=frozenset(one.job.line for one in over if not one.answer),
        answers=answers,
        start_day=day,
        done=frozenset(job.line for job in jobs if job.state in BENCH_DONE),
        as_it_came=frozenset(
            job.line for job in jobs if job.state == "returned unrepaired"
        ),
        is_received=day > 1,
        as_agreed=_as_agreed(
            [job for job in jobs if answers.get(job.line, True)], then
        ),
        let_go_before=(
            frozenset()
            if terms.day_limit_minor is None
            else let_go_before(jobs, now, then)
        ),
    )


def _as_agreed(jobs: Iterable[Job], then: datetime | None) -> dict[int, Agreed]:
    """
    Give by line what was agreed for devices that left mended, or are begun.

    One of which something else was found than it was quoted for is priced anew, and
    one settled at no charge since. What was begun as no repair is too: what is charged
    of it is still to be seen.
    """
    begun = [job for job in jobs if job.main_state in BEGUN]
    left = [job for job in begun if job.state not in _NOT_MENDED]
    quotes = agreed_quotes(left, then)
    free = settled_free_since(quotes, then)
    as_quoted = _found_as_then(((one.job, one.at) for one in quotes), then)
    return {
        quote.job.line: convert.agreed(quote)
        for quote in quotes
        if quote.job.state in LEFT_MENDED or quote.code in REPAIR
        if quote.job_id in as_quoted - free
    }


def _found_as_then(
    told: Iterable[tuple[Job, datetime]], then: datetime | None
) -> frozenset[int]:
    """Name the devices on which the same is found now as at a time of each."""
    by_time: dict[datetime, list[Job]] = defaultdict(list)
    for job, at in told:
        by_time[at].append(job)
    if not by_time:
        return frozenset()
    found = found_by_job([job for jobs in by_time.values() for job in jobs], then)
    return frozenset(
        pk
        for at, jobs in by_time.items()
        for pk, was in found_by_job(jobs, at).items()
        if was == found[pk]
    )


def terms_of(batch: Batch, then: datetime | None = None) -> Terms:
    """Give the terms of a batch, the customer's own data among them."""
    row: Any = batch if then is None else _at(Batch, then, id=batch.pk).first()
    if row is None:
        raise BadArgumentError(f"as of: found {then}, wanted a time it was booked by")
    # As the debtor was called then: an invoice is printed again as it was sent.
    customer = _at(Customer, then, id=row.customer_id).first()
    if customer is None:
        customer = Customer.objects.get(pk=row.customer_id)
    terms = terms_in(row.terms_text)
    return replace(
        terms,
        batch=row.name,
        received=row.received,
        customer=convert.terms_customer(customer, row),
    )


def danger_of(batch: Batch, code: str) -> str:
    """Name the danger that a code of its terms stands for; nothing if for none."""
    if not code or not batch.terms_text:
        return ""
    fault = terms_in(batch.terms_text).faults.get(code)
    return (fault.hazard or "") if fault else ""


def calendar_of(batch: Batch) -> Calendar:
    """Give the days on which a batch is worked."""
    return terms_in(batch.terms_text).calendar


def found_on(job: Job, then: datetime | None = None) -> tuple[str, ...]:
    """Give the codes found on one device."""
    return found_by_job([job], then)[job.pk]


def line_now(job: Job, then: datetime | None = None) -> BatchLine:
    """Give one device with the faults its terms know and all that was written of it."""
    faults = terms_of(job.batch).faults
    known = [code for code in found_on(job, then) if code in faults]
    return convert.batch_line(job, known, told_by_job([job], then=then)[job.pk])


def job_then(job: Job, then: datetime) -> Job | None:
    """Give a device as it was written at a time; nothing if it was not yet."""
    return _at(Job, then, id=job.pk).first()


def jobs_of(batch: Batch, then: datetime | None = None) -> list[Job]:
    """Give the jobs of a batch by their line."""
    return list(_at(Job, then, batch_id=batch.pk).order_by("line"))


def listed_rows(batch: Batch, then: datetime | None) -> list[ListedRow]:
    """Give the rows of the customer's list that hold, or held then."""
    rows = ListedRow.objects.filter(written_by(then, "since"), batch=batch)
    stands = Q(until=None)
    if then is not None:
        stands |= Q(until__gt=then)
    return list(rows.filter(stands).order_by("row"))


def people_at(today: date, then: datetime | None = None) -> dict[str, Any]:
    """Give those who work at benches, with the sign-offs they hold on a day."""
    skills = held_on(_at(SignOff, then), today)
    away: dict[int, list[date]] = defaultdict(list)
    for absence in days_away(then=then):
        away[absence.person_id].append(absence.day)
    people = _at(Person, then).filter(has_left=False, minutes_a_day__gt=0)
    return {
        person.key: convert.bench_person(person, skills[person.pk], away[person.pk])
        for person in people.order_by("order", "id")
    }


def past_jobs(jobs: Iterable[Job], before: date) -> tuple[PastJob, ...]:
    """
    Give the closed jobs of the same bodies or owner's numbers.

    One of the jobs themselves is among them where the same body came again since.
    """
    listed = list(jobs)
    owners = Customer.objects.filter(batches__in={job.batch_id for job in listed})
    serials = list({job.serial for job in listed} - {""})
    assets = list({job.asset_number for job in listed} - {""})
    closed: dict[int, Job] = {}
    for field, names in (("serial", serials), ("asset_number", assets)):
        # A body that changed hands brings no promise given to somebody else.
        rows = Job.objects.filter(closed_on__lte=before, batch__customer__in=owners)
        closed |= {row.pk: row for row in among(rows, field, names)}
    came_last = {job.item_id: job.pk for job in sorted(listed, key=_in_order)}
    for pk in came_last.values():
        closed.pop(pk, None)
    ordered = sorted(closed.values(), key=lambda job: (str(job.closed_on), job.pk))
    own = {job.pk: job.line for job in listed}
    told = zip(ordered, told_past(ordered), strict=True)
    return tuple(replace(past, line=own.get(job.pk, 0)) for job, past in told)


def _in_order(job: Job) -> int:
    return job.pk or 0


def told_past(
    jobs: Iterable[Job], left: dict[int, tuple[str, ...]] | None = None
) -> tuple[PastJob, ...]:
    """Give closed jobs as history knows them; ``left`` holds what is looked up."""
    listed, left = list(jobs), {} if left is None else left
    confirmed = confirmed_by_job(listed)
    for job in without_the_rest(listed):
        if job.pk not in left:
            left[job.pk] = _left(job, confirmed.get(job.pk, ()), left)
    parts: dict[int, list[str]] = defaultdict(list)
    used = Allotment.objects.filter(state=Allotment.USED).select_related("part")
    for use in among(used, "job", listed):
        parts[use.job_id].append(use.part.number)
    return tuple(
        convert.past_job(
            job, confirmed.get(job.pk, ()), parts[job.pk], left.get(job.pk, ())
        )
        for job in listed
    )


def _left(
    job: Job, confirmed: tuple[str, ...], left: dict[int, tuple[str, ...]]
) -> tuple[str, ...]:
    """Give the faults that a comeback had besides and its owner said no to."""
    came = came_on(job.batch, [job]).get(job.ref)
    line = convert.batch_line(job, confirmed, came=came)
    past = told_past(closed_before(job, came or job.batch.received), left)
    back = comeback_of(line, past, terms_of(job.batch))
    stays = set(back.covers) if back else set(confirmed)
    beside = (code for code in confirmed if code not in stays)
    return tuple(code for code in beside if not danger_of(job.batch, code))


_SAYS_NO_CODE = Q(code="") & ~Q(stage=Finding.CONFIRMED, mode=NOT_FOUND)


def found_by_job(
    jobs: Iterable[Job], then: datetime | None = None
) -> Mapping[int, tuple[str, ...]]:
    """
    Give the codes found by job: confirmed ones if there are any, else those seen.

    That no fault was found counts by the code of the terms for it, written or not.

    A danger that was seen stands until it is withdrawn, whatever else is confirmed.
    """
    by_stage: dict[tuple[int, str], list[str]] = defaultdict(list)
    listed = list(jobs)
    which = (
        {"job": listed[0]}
        if len(listed) == 1
        else {"job__batch__in": {job.batch_id for job in listed}}
    )
    findings = Finding.objects.filter(
        written_by(then), **which, stage__in=[Finding.SEEN, Finding.CONFIRMED]
    ).exclude(_SAYS_NO_CODE)
    for finding in findings.filter(stands_at(then)):
        by_stage[finding.job_id, finding.stage].append(finding.code)
    both = {
        job.batch_id
        for job in listed
        if by_stage[job.pk, Finding.CONFIRMED]
        and (
            by_stage[job.pk, Finding.SEEN] or "" in by_stage[job.pk, Finding.CONFIRMED]
        )
    }
    batches = Batch.objects.in_bulk(both)
    found = {}
    for job in listed:
        codes, seen = (
            _with_trial(by_stage[job.pk, Finding.CONFIRMED], batches.get(job.batch_id)),
            by_stage[job.pk, Finding.SEEN],
        )
        if codes and seen:
            batch = batches[job.batch_id]
            codes = [*codes, *(code for code in seen if danger_of(batch, code))]
        found[job.pk] = tuple(dict.fromkeys(codes or seen))
    return found


def _with_trial(codes: list[str], batch: Batch | None) -> list[str]:
    """Put the code of the terms where no fault was found and no code was written."""
    if "" not in codes:
        return codes
    faults = terms_of(batch).faults if batch and batch.terms_text else {}
    trials = [code for code, fault in faults.items() if fault.is_trial]
    trial = trials[0] if len(trials) == 1 else ""
    return [code for code in (one or trial for one in codes) if code]


def _parts(
    batch: Batch,
    terms: Terms,
    now: datetime,
    free: Counter[int],
    then: datetime | None,
) -> dict[str, SparePart]:
    leads = _leads(batch, terms, now)
    return {
        part.number: convert.spare_part(
            part, row, max(0, free[part.id]), leads.get(part.id, part.lead_days)
        )
        for row, part in enumerate(_at(Part, then).order_by("id"), 1)
    }


def models_of_parts(terms: Terms, code: str = "") -> dict[str, str]:
    """Give the model that each part of the terms' faults is for, of one if named."""
    faults = [terms.faults[code]] if code else terms.faults.values()
    wanted = {part for fault in faults for part in fault.parts}
    rows = Part.objects.filter(number__in=wanted)
    return dict(rows.values_list("number", "model"))


def free_for(
    batch: Batch, meant: Iterable[Allotment], then: datetime | None
) -> Counter[int]:
    """
    Count the pieces a batch has or may have off the shelf, by part.

    What it used came off the shelf for it, or of a donor that is not reckoned with.
    What came by its own orders lies there as well; what of it was given to others or
    lost is wanted anew.
    """
    if then is not None:
        return _free_at(batch, then)
    free = Counter(dict(Part.objects.values_list("pk", "on_hand")))
    shelf = Allotment.objects.filter(donor_part=None)
    for use in shelf.filter(state=Allotment.PROMISED).exclude(job__batch=batch):
        free[use.part_id] -= 1
    for use in meant:
        is_out = use.state == Allotment.USED or use.donor_part_id is not None
        if is_out and not own_donor(batch, use):
            free[use.part_id] += 1
    return free


def _free_at(batch: Batch, then: datetime) -> Counter[int]:
    """Count the same as of a time, from the journal of the stock."""
    own_jobs = set(Job.objects.filter(batch=batch).values_list("ref", flat=True))
    by_ref = dict(Part.objects.values_list("ref", "pk"))
    free: Counter[int] = Counter()
    for row in Entry.objects.filter(journal="stock", at__lte=then).iterator(5000):
        entry = convert.ledger_entry(row)
        part = by_ref.get(entry.subject)
        if part is None:
            # A restore in part writes of itself too, and may lack a part.
            continue
        n = entry.n("n")
        is_own = entry.text("job") in own_jobs
        if entry.verb in STOCK_SIGNS and not is_own:
            free[part] += STOCK_SIGNS[entry.verb] * n
        elif entry.verb in PROMISE_SIGNS and not is_own:
            free[part] -= PROMISE_SIGNS[entry.verb] * n
    return free


def _leads(batch: Batch, terms: Terms, now: datetime) -> dict[int, int]:
    """Give the days that are left of leads, for what the batch awaits by its orders."""
    leads: dict[int, int] = {}
    today = now.date()
    came_later = Lot.objects.filter(order_line=OuterRef("pk"), received_on__gt=today)
    rows = OrderLine.objects.filter(batch=batch, ordered_on__lte=today)
    for line in rows.annotate(was_open=Exists(came_later)):
        if not line.n_open and not line.was_open:
            continue
        left = 0
        if line.expected_on and line.expected_on > today:
            first = max(today, batch.received)
            left = terms.calendar.number_of(line.expected_on, first) - 1
        leads[line.part_id] = max(left, leads.get(line.part_id, 0))
    return leads


def _at(model: Any, then: datetime | None, **which: Any) -> QuerySet[Any]:
    """
    Give the rows of a table now, or as they were.

    Of two forms written at one time the one written last counts; what ``which`` asks
    for may never change in a row.
    """
    if then is None:
        now: QuerySet[Any] = model.objects.filter(**which)
        return now
    earlier = model.history.filter(history_date__lte=then, **which).order_by()
    last = earlier.values("id").annotate(last=Max("history_id")).values("last")
    forms = model.history.filter(history_id__in=last).exclude(history_type="-")
    then_rows: QuerySet[Any] = forms.as_instances()
    return then_rows

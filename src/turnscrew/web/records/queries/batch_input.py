"""What is known of a batch, as the core takes it, now or as of a time?"""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, datetime
from typing import Any

from django.db.models import Q

from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.job_state import BEGUN, BENCH_DONE, ENDED, LEFT_MENDED
from turnscrew.core.model.quote import Agreed
from turnscrew.web.records import convert
from turnscrew.web.records.models import (
    Approval,
    Batch,
    Job,
    ListedRow,
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
from turnscrew.web.records.queries.as_of import rows_at, written_by
from turnscrew.web.records.queries.charges import agreed_quotes
from turnscrew.web.records.queries.days_away import days_away
from turnscrew.web.records.queries.descriptions import Draft, drafts_of, not_released
from turnscrew.web.records.queries.donor_supply import (
    given_in,
    meant_for,
    pieces_left,
)
from turnscrew.web.records.queries.found_faults import (
    found_as_then,
    found_by_job,
    found_on,
)
from turnscrew.web.records.queries.free_stock import free_for, parts_for
from turnscrew.web.records.queries.past_jobs import came_on, past_jobs
from turnscrew.web.records.queries.sign_offs import held_on
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.queries.told_dangers import told_by_job

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
        parts=parts_for(batch, terms, now, free, then),
        terms=terms,
        people=people_at(max(now.date(), batch.received), then),
        past=past_jobs(jobs, max([batch.received, *came.values()])),
        notes=(*notes, *not_released(drafts)),
        by_draft={draft.model: draft.roles for draft in drafts},
        pieces_left=pieces_left(batch, meant, then),
        given=given_in(batch, meant),
    )


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
    as_asked = found_as_then(((one.job, one.asked_at) for one in over), then)
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
    as_quoted = found_as_then(((one.job, one.at) for one in quotes), then)
    return {
        quote.job.line: convert.agreed(quote)
        for quote in quotes
        if quote.job.state in LEFT_MENDED or quote.code in REPAIR
        if quote.job_id in as_quoted - free
    }


def line_now(job: Job, then: datetime | None = None) -> BatchLine:
    """Give one device with the faults its terms know and all that was written of it."""
    faults = terms_of(job.batch).faults
    known = [code for code in found_on(job, then) if code in faults]
    return convert.batch_line(job, known, told_by_job([job], then=then)[job.pk])


def job_then(job: Job, then: datetime) -> Job | None:
    """Give a device as it was written at a time; nothing if it was not yet."""
    return rows_at(Job, then, id=job.pk).first()


def jobs_of(batch: Batch, then: datetime | None = None) -> list[Job]:
    """Give the jobs of a batch by their line."""
    return list(rows_at(Job, then, batch_id=batch.pk).order_by("line"))


def listed_rows(batch: Batch, then: datetime | None) -> list[ListedRow]:
    """Give the rows of the customer's list that hold, or held then."""
    rows = ListedRow.objects.filter(written_by(then, "since"), batch=batch)
    stands = Q(until=None)
    if then is not None:
        stands |= Q(until__gt=then)
    return list(rows.filter(stands).order_by("row"))


def people_at(today: date, then: datetime | None = None) -> dict[str, Any]:
    """Give those who work at benches, with the sign-offs they hold on a day."""
    skills = held_on(rows_at(SignOff, then), today)
    away: dict[int, list[date]] = defaultdict(list)
    for absence in days_away(then=then):
        away[absence.person_id].append(absence.day)
    people = rows_at(Person, then).filter(has_left=False, minutes_a_day__gt=0)
    return {
        person.key: convert.bench_person(person, skills[person.pk], away[person.pk])
        for person in people.order_by("order", "id")
    }

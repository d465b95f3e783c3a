"""Is asked for so few names at once that any database takes them, and nothing lost?"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection

from turnscrew.web.records.models import Batch, Invoice, Job
from turnscrew.web.records.queries import (
    arrival_words,
    charges,
    contact_page,
    in_parts,
    money_page,
    sheet_told,
    told_dangers,
)
from turnscrew.web.records.queries.audit_words import _names
from turnscrew.web.records.queries.batch_input import what_stands
from turnscrew.web.records.queries.past_jobs import past_jobs, told_past
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import quoting, safety
from turnscrew.web.records.services.people import invite

FEW, OTHERS = 7, 9
"""Names asked for at once here, and what else a question may hold."""


@pytest.fixture
def batch(sallowmere, lead, now) -> Batch:
    """Give a batch that is quoted, some devices of it ended and some apart."""
    by = {"by": lead, "now": now}
    answer = reckoned(sallowmere, now)
    quoting.keep_quotes(sallowmere, answer, **by)
    quoting.ask(sallowmere, answer, **by)
    for job in sallowmere.jobs.filter(line__lte=20):
        safety.log_pack("pack", "swollen", place="fire box 1", job=job, **by)
    sallowmere.jobs.filter(line__lte=20).update(state="isolated", reason="liquid")
    sallowmere.jobs.filter(line__gt=50).update(closed_on=now.date())
    return sallowmere


@contextmanager
def names_counted() -> Iterator[list[int]]:
    """Count what stands in each question."""
    counts: list[int] = []

    def counted(execute: Any, sql: str, params: Any, many: bool, context: Any) -> Any:
        counts.append(len(params or ()))
        return execute(sql, params, many, context)

    with connection.execute_wrapper(counted):
        yield counts


def asked(batch: Batch, lead: Any, now: Any) -> dict[str, Callable[[], Any]]:
    """Give what is asked for of all devices of a batch together."""
    jobs = list(batch.jobs.order_by("line"))
    pks, later = [job.pk for job in jobs], now + timedelta(days=1)
    link = invite(batch, "Wen Arkady", by=lead, now=now)
    refs = {job.ref for job in jobs}
    return {
        "told": lambda: told_dangers.told_by_job(jobs, then=later),
        "apart": lambda: told_dangers.isolated_without_words(jobs),
        "agreed": lambda: {q.job_id: q.pk for q in charges.agreed_quotes(jobs)},
        "refused": lambda: charges.refused_jobs(jobs),
        "credits": lambda: charges.credits_of(pks),
        "due": lambda: [one.use.pk for one in charges.due_credits(batch.jobs.all())],
        "past": lambda: told_past(jobs),
        "earlier": lambda: past_jobs([Job(
            serial=job.serial, asset_number=job.asset_number, batch_id=job.batch_id
        ) for job in jobs], later.date()),
        "stands": lambda: what_stands(batch, later),
        "trials": lambda: arrival_words.trial_words(jobs, later),
        "condition": lambda: arrival_words.condition_words(jobs, later),
        "rushed": lambda: sheet_told.rushed_among(jobs),
        "questions": lambda: contact_page.contact_view(link),
        "written off": lambda: money_page._written_off([Invoice(ref=r) for r in refs]),
        "names": lambda: sorted(_names(refs)),
    }  # fmt: skip


def test_it_asks_for_few_names_at_once_and_loses_none(
    batch, lead, now, monkeypatch
) -> None:
    questions = asked(batch, lead, now)
    whole = {name: question() for name, question in questions.items()}
    monkeypatch.setattr(in_parts, "MOST", FEW)
    for name, question in questions.items():
        with names_counted() as counts:
            told = question()
        assert whole[name] == told, name
        assert counts, name
        assert max(counts) <= FEW + OTHERS, (name, max(counts))

    assert len(whole["agreed"]) > FEW
    assert len(whole["names"]) > FEW
    assert sum(bool(words) for words in whole["told"].values()) > FEW


def test_it_gives_rows_of_each_value_once(sallowmere, monkeypatch) -> None:
    monkeypatch.setattr(in_parts, "MOST", 3)
    pks = list(sallowmere.jobs.values_list("pk", flat=True))[:8]
    rows = in_parts.among(Job.objects.order_by("pk"), "pk", [*pks, *pks])

    assert pks == [row.pk for row in rows]

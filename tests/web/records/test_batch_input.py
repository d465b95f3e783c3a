"""What the core is told of a batch on record, and what it makes of it."""

import json
from dataclasses import replace
from datetime import timedelta

from turnscrew.core.ledger.gaps import RESTORED_IN_PART
from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.files.batch_json import batch_json
from turnscrew.flows.batch.whole import Effort, batch_reckoned
from turnscrew.web.records.models import Finding, Part
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.batch_input import batch_input, what_stands
from turnscrew.web.records.services import booking, stock
from turnscrew.web.records.services.journal import append
from web.conftest import sallowmere_contents

NO_EFFORT = Effort(0, 0, lambda: 0.0)


def test_it_tells_the_core_what_the_folder_told(sallowmere, now) -> None:
    handed_in = read_batch_folder(sallowmere_contents())
    told = batch_input(sallowmere, now)

    assert tuple(replace(line, row=0) for line in handed_in.lines) == told.lines
    assert handed_in.listed == told.listed
    assert handed_in.terms == told.terms
    assert handed_in.people == told.people
    assert {name: replace(part, row=0) for name, part in handed_in.parts.items()} == {
        name: replace(part, row=0) for name, part in told.parts.items()
    }


def test_it_reckons_the_golden_money_from_records(sallowmere, now) -> None:
    # Figures of the invented demo batch, reckoned by two separate programs.
    answer = batch_reckoned(
        batch_input(sallowmere, now), what_stands(sallowmere, now), none, NO_EFFORT
    )

    assert 371218 == answer.account.invoice_minor
    assert 127497 == answer.account.margin_minor
    assert 32200 == answer.supply.cost_minor
    assert 7 == answer.planned.rule.last_day
    assert {} == answer.planned.rule.late(answer.planned.problem)


def test_it_gives_the_same_answer_as_the_folder(sallowmere, now) -> None:
    handed_in = read_batch_folder(sallowmere_contents())
    what_if = what_stands(sallowmere, now)
    by_folder = batch_reckoned(handed_in, what_if, none, NO_EFFORT)
    by_record = batch_reckoned(batch_input(sallowmere, now), what_if, none, NO_EFFORT)

    assert json.dumps(batch_json(by_folder)) == json.dumps(batch_json(by_record))


def test_it_tells_what_was_known_at_a_time(sallowmere, lead, now) -> None:
    before = batch_input(sallowmere, now)
    later = now + timedelta(hours=3)
    job = sallowmere.jobs.get(line=1)
    booking.note_finding(job, Finding.CONFIRMED, by=lead, now=later, code="L-FAN")
    part = Part.objects.get(number="C-FN")
    stock.count(part, 1, by=lead, now=later, words="two fell behind the shelf")

    assert before == batch_input(sallowmere, now, past_time=True)
    now_known = batch_input(sallowmere, later, past_time=True)
    assert batch_input(sallowmere, later) == now_known
    assert ("L-FAN",) == now_known.lines[0].found
    assert 1 == now_known.parts["C-FN"].stock


def test_it_looks_back_past_what_a_restore_in_part_wrote(sallowmere, lead, now) -> None:
    before = batch_input(sallowmere, now, past_time=True).parts
    append("stock", RESTORED_IN_PART, lead.ref, by=lead, now=now, words="one lost")

    assert before == batch_input(sallowmere, now, past_time=True).parts


def test_it_leaves_the_audit_clean(sallowmere) -> None:
    audit = audited()

    assert () == audit.breaks
    assert 0 == audit.n_words_erased
    assert {"custody", "stock", "money", "bench"} == set(audit.n_entries)


def none(line: object) -> None:
    """Know no computed minutes: the terms have them all."""

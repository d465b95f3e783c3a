"""Does nothing count as mended that its owner refused, or never agreed to?"""

from datetime import timedelta
from itertools import pairwise

import pypdfium2
import pytest
from django.db import connection
from django.db.models import F
from django.test.utils import CaptureQueriesContext

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Batch, Finding, Job, Part
from turnscrew.web.records.queries.past_jobs import told_past
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    custody,
    handing_back,
    invoicing,
    kitting,
    people,
    quoting,
    trials,
)
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.receiving_next import receive_next
from web.counter_case import signed_in

ASKED, STRIPPED = 4, 17
"""Two devices with a cracked glass: one asked about, one that is not worth it."""

GLASS = "T-GLS"
WRONG = {"part": "glass", "mode": "cracked", "cause": "drop or knock", "agrees": "yes"}


@pytest.fixture
def asked(sallowmere, lead, clock) -> Batch:
    quoting.ask_all(sallowmere, by=lead, now=clock.at)
    clock.move_on(minutes=5)
    return sallowmere


def answered(batch: Batch, lead, clock, *, is_yes: bool) -> None:
    answers = {ASKED: is_yes}
    quoting.give_answers(batch, answers, name="Ward", by=lead, now=clock.at)
    clock.move_on(minutes=5)


def packed(job: Job, lead, clock) -> None:
    """Pack a device by hand, with all that is wanted of it."""
    by = {"by": lead, "now": clock.at}
    note_finding(job, Finding.CONFIRMED, code=GLASS, wrong=WRONG, **by)
    for state in ("final-tested", "packed"):
        to = Standing(state, "shelf", lead.ref)
        custody.move(Job.objects.get(pk=job.pk), to, **by)
    clock.move_on(minutes=5)


def handed_back(batch: Batch, line: int, lead, clock) -> tuple[str, str]:
    """Hand a device back; give as what it ended, and the words of the note."""
    packed(batch.jobs.get(line=line), lead, clock)
    went = handing_back.hand_back(batch, [line], taken_by="Wen", by=lead, now=clock.at)
    answer = signed_in(lead).get(f"/batches/{batch.ref}/hand-back/{went.ref}/")
    return batch.jobs.get(line=line).ended_as, text_of(answer)


def text_of(answer) -> str:
    with pypdfium2.PdfDocument(answer.content) as paper:
        text = " ".join(page.get_textpage().get_text_range() for page in paper)
    return " ".join(text.split())


def quoted_again(batch: Batch, line: int, lead, clock) -> str:
    """Receive a device again after ten days, and say as what it is quoted."""
    clock.move_on(days=10)
    job = batch.jobs.get(line=line)
    came = BatchLine(
        61, job.serial, job.model, job.asset_number, job.revision, found=(GLASS,)
    )
    receive_next(batch, came, by=lead, now=clock.at)
    quoting.keep_quotes(batch, reckoned(batch, clock.at), by=lead, now=clock.at)
    return batch.jobs.get(line=61).quotes.last().code


def test_what_was_refused_and_packed_is_not_mended(asked, lead, clock) -> None:
    answered(asked, lead, clock, is_yes=False)

    ended, note = handed_back(asked, ASKED, lead, clock)

    assert "not mended" == ended
    assert "returned unrepaired" in note
    assert "glass cracked" not in note
    made = invoicing.invoice(asked, by=lead, now=clock.at)
    assert [0] == list(made.lines.values_list("net_minor", flat=True))
    people.speak_to(lead, "de", now=clock.at)
    bill = text_of(signed_in(lead).get(f"/money/{made.ref}/paper/"))
    assert "vom Kunden abgelehnt, ohne Berechnung" in bill
    assert "Zu zahlen bis" not in bill
    went = asked.jobs.get(line=ASKED).tranche
    note = text_of(signed_in(lead).get(f"/batches/{asked.ref}/hand-back/{went.ref}/"))
    assert "wartet auf Antwort, das Ja oder Nein des Kunden zum Angebot, bis" in note
    assert "comeback" != quoted_again(asked, ASKED, lead, clock)


def test_what_was_not_worth_mending_and_packed_is_not_mended(
    asked, lead, clock
) -> None:
    assert "strip" == asked.jobs.get(line=STRIPPED).quotes.last().code

    ended, note = handed_back(asked, STRIPPED, lead, clock)

    assert "not mended" == ended
    assert "returned unrepaired" in note
    assert "comeback" != quoted_again(asked, STRIPPED, lead, clock)


def test_what_nobody_was_asked_about_and_packed_is_not_mended(
    sallowmere, lead, clock
) -> None:
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    clock.move_on(minutes=5)
    assert "ask" == sallowmere.jobs.get(line=ASKED).quotes.last().code

    ended, _ = handed_back(sallowmere, ASKED, lead, clock)

    assert "not mended" == ended
    quoting.ask_all(sallowmere, by=lead, now=clock.at)
    assert not sallowmere.jobs.get(line=ASKED).approvals.exists()
    made = invoicing.invoice(sallowmere, by=lead, now=clock.at)
    assert [("nothing was mended, no charge", 0)] == list(
        made.lines.values_list("says", "net_minor")
    )
    assert "comeback" != quoted_again(sallowmere, ASKED, lead, clock)


def test_what_was_agreed_and_packed_is_mended(asked, lead, clock) -> None:
    answered(asked, lead, clock, is_yes=True)

    ended, note = handed_back(asked, ASKED, lead, clock)

    assert "mended" == ended
    assert "glass cracked" in note
    assert "comeback" == quoted_again(asked, ASKED, lead, clock)


def test_what_was_fitted_before_the_no_is_mended(asked, lead, clock) -> None:
    answered(asked, lead, clock, is_yes=True)
    job = asked.jobs.get(line=ASKED)
    by = {"by": lead, "now": clock.at}
    kitting.take_and_fit(Part.objects.get(number="T-GL2"), job, **by)
    misheard = {"name": "Ward", "words": "misheard"}
    quoting.correct_answer(job, is_yes=False, **misheard, **by)

    assert "mended" == handed_back(asked, ASKED, lead, clock)[0]
    page = signed_in(lead).get(f"/batches/{asked.ref}/").content.decode()
    assert "refused: return unrepaired" not in page
    evidence = f"/batches/{asked.ref}/papers/evidence.pdf"
    with pypdfium2.PdfDocument(signed_in(lead).get(evidence).content) as paper:
        pages = [one.get_textpage().get_text_range() for one in paper]
    assert any(job.serial in text for text in pages)


def test_what_is_next_of_a_refused_device_is_told(asked, lead, clock) -> None:
    says = "refused: return unrepaired"
    pages = [f"/batches/{asked.ref}/{page}" for page in ("", "hand-back/")]
    client = signed_in(lead)

    def told() -> list[int]:
        return [client.get(page).content.decode().count(says) for page in pages]

    assert [0, 0] == told()
    answered(asked, lead, clock, is_yes=False)
    assert [1, 1] == told()
    packed(asked.jobs.get(line=ASKED), lead, clock)
    # It goes back next, and is told of where it does.
    assert [0, 1] == told()


BACK_AGAIN = 56
"""A device of the example whose keys are promised from before."""


def with_fan(batch: Batch, line: int, lead, clock, *, is_yes: bool) -> Job:
    """Mend a comeback whose fan is worn too, with a yes or no to that; hand it back."""
    by = {"by": lead}
    note_finding(
        batch.jobs.get(line=line), Finding.SEEN, code="L-FAN", **by, now=clock.at
    )
    quoting.ask_all(batch, **by, now=clock.at)
    clock.move_on(minutes=5)
    quoting.give_answers(batch, {line: is_yes}, name="Ward", **by, now=clock.at)
    for code in ("L-KBD", "L-FAN"):
        job = batch.jobs.get(line=line)
        note_finding(job, Finding.CONFIRMED, code=code, wrong=WRONG, **by, now=clock.at)
    for state in ("final-tested", "packed"):
        to = Standing(state, "shelf", lead.ref)
        custody.move(batch.jobs.get(line=line), to, **by, now=clock.at)
    clock.move_on(minutes=5)
    handing_back.hand_back(batch, [line], taken_by="Wen", **by, now=clock.at)
    return batch.jobs.get(line=line)


def come_again(batch: Batch, line: int, lead, clock, *found: str) -> Job:
    clock.move_on(days=20)
    job = batch.jobs.get(line=BACK_AGAIN)
    came = BatchLine(
        line, job.serial, job.model, job.asset_number, job.revision, found=found,
        reported="as before",
    )  # fmt: skip
    receive_next(batch, came, by=lead, now=clock.at)
    quoting.keep_quotes(batch, reckoned(batch, clock.at), by=lead, now=clock.at)
    return batch.jobs.get(line=line)


@pytest.mark.parametrize(("is_yes", "code"), [(False, "go"), (True, "comeback")])
def test_a_fault_besides_is_promised_only_if_it_was_agreed_to(
    asked, lead, clock, is_yes, code
) -> None:
    job = with_fan(asked, BACK_AGAIN, lead, clock, is_yes=is_yes)
    assert "mended" == job.ended_as
    [told] = told_past([job])
    assert {"L-KBD", "L-FAN"} == set(told.faults)
    assert ("L-FAN" in told.mended) == is_yes

    again = come_again(asked, 61, lead, clock, "L-FAN")

    assert code == again.quotes.last().code
    both = come_again(asked, 62, lead, clock, "L-KBD", "L-FAN").quotes.last()
    assert ("comeback" if is_yes else "ask") == both.code


def test_what_was_refused_twice_is_still_not_promised(asked, lead, clock) -> None:
    with_fan(asked, BACK_AGAIN, lead, clock, is_yes=False)
    again = come_again(asked, 61, lead, clock, "L-KBD", "L-FAN")
    trials.look_into_again(again, "its keys wear", by=lead, now=clock.at)
    job = with_fan(asked, again.line, lead, clock, is_yes=False)

    [told] = told_past([job])

    assert ("L-KBD",) == told.mended
    assert "go" == come_again(asked, 62, lead, clock, "L-FAN").quotes.last().code


@pytest.mark.parametrize("days", [0, 3])
def test_a_refused_rest_of_a_batch_booked_ahead_is_no_past_of_itself(
    asked, lead, clock, days
) -> None:
    Batch.objects.filter(pk=asked.pk).update(
        received=asked.received + timedelta(days=days)
    )
    asked.refresh_from_db()
    with_fan(asked, BACK_AGAIN, lead, clock, is_yes=False)

    again = come_again(asked, 61, lead, clock, "L-FAN")

    assert "comeback" != again.quotes.last().code
    assert 200 == signed_in(lead).get(f"/batches/{asked.ref}/").status_code


def test_each_past_of_a_body_is_looked_up_once(asked, lead, clock) -> None:
    with_fan(asked, BACK_AGAIN, lead, clock, is_yes=False)

    def n_queries() -> int:
        with CaptureQueriesContext(connection) as told:
            told_past(asked.jobs.filter(closed_on__isnull=False))
        return len(told)

    counts = [n_queries()]
    for line in (61, 62, 63):
        again = come_again(asked, line, lead, clock, "L-KBD")
        trials.look_into_again(again, "looked into", by=lead, now=clock.at)
        with_fan(asked, line, lead, clock, is_yes=False)
        counts.append(n_queries())
    first, *more = (after - before for before, after in pairwise(counts))
    assert all(one <= first + 2 for one in more), counts


def test_a_no_holds_for_what_goes_back_though_a_part_grew_cheaper(
    asked, lead, clock
) -> None:
    answered(asked, lead, clock, is_yes=False)
    Part.objects.filter(number="T-GL2").update(cost_minor=F("cost_minor") - 100)
    quoting.keep_quotes(asked, reckoned(asked, clock.at), by=lead, now=clock.at)

    packed(asked.jobs.get(line=ASKED), lead, clock)
    page = signed_in(lead).get(f"/batches/{asked.ref}/hand-back/").content.decode()
    assert "refused: return unrepaired" in page
    by = {"by": lead, "now": clock.at}
    handing_back.hand_back(asked, [ASKED], taken_by="Wen", **by)
    assert "not mended" == asked.jobs.get(line=ASKED).ended_as
    assert "comeback" != quoted_again(asked, ASKED, lead, clock)

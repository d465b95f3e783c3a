"""Is a comeback charged where the promise does not cover it, and only there?"""

from importlib import import_module

import pypdfium2
import pytest
from django.apps import apps

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Batch, Entry, Finding, Job, Part, Quote
from turnscrew.web.records.queries.charges import charged_minor
from turnscrew.web.records.queries.past_jobs import told_past
from turnscrew.web.records.queries.permission import missing_yes, permission_refusal
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    booking,
    handing_back,
    invoicing,
    people,
    quoting,
)
from turnscrew.web.records.services.custody import move
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.receiving_next import receive_next
from web.counter_case import signed_in

BACK_AGAIN = 56
"""The device of the example that came back."""


def quoted(batch: Batch, lead, now) -> Quote:
    quoting.keep_quotes(batch, reckoned(batch, now), by=lead, now=now)
    quote = batch.jobs.get(line=BACK_AGAIN).quotes.last()
    assert quote is not None
    return quote


@pytest.fixture
def back_again(sallowmere) -> Job:
    return sallowmere.jobs.get(line=BACK_AGAIN)


def test_damage_since_hand_back_is_asked_about_and_not_given_away(
    sallowmere, back_again, lead, clock
) -> None:
    Job.objects.filter(pk=back_again.pk).update(remarks="corner cracked")

    quote = quoted(sallowmere, lead, clock.at)

    assert "ask" == quote.code
    assert quote.quote_minor
    assert "a comeback the promise does not cover, class user: " in quote.reason
    back_again.refresh_from_db()
    assert ("user", False) == (
        back_again.comeback_class, back_again.is_comeback_settled
    )  # fmt: skip
    assert "user, proposed" in signed_in(lead).get("/comebacks/").content.decode()


def test_what_the_lead_settles_is_quoted_anew_at_once(
    sallowmere, back_again, lead, clock
) -> None:
    assert ("comeback", 0) == kept(quoted(sallowmere, lead, clock.at))
    client = signed_in(lead)

    def settled(kind: str) -> tuple[str, Quote]:
        post = {"act": "settle", "job": back_again.ref, "kind": kind}
        html = client.post("/comebacks/", post, follow=True).content.decode()
        last = back_again.quotes.last()
        assert last is not None
        return html, last

    html, charged = settled("user")
    assert f"device {BACK_AGAIN}: user, quoted anew" in html
    assert "user, settled" in html
    assert "ask" == charged.code
    assert charged.charges
    assert "settled by the lead" in charged.reason

    html, free = settled("ours")
    assert ("comeback", 0) == kept(free)
    html, again = settled("part")
    assert free == again
    assert "quoted anew" not in html


def kept(quote: Quote) -> tuple[str, int | None]:
    return quote.code, quote.quote_minor


def test_a_proposal_follows_what_is_found_and_is_never_taken_for_settled(
    sallowmere, back_again, lead, clock
) -> None:
    quoted(sallowmere, lead, clock.at)
    back_again.findings.exclude(code="").update(code="L-FAN")

    assert "comeback" != quoted(sallowmere, lead, clock.at).code


def test_what_was_settled_before_there_was_a_place_for_it_is_found(
    sallowmere, back_again, lead, clock
) -> None:
    quoted(sallowmere, lead, clock.at)
    proposed = sallowmere.jobs.exclude(comeback_class="")
    assert 1 == proposed.count()
    settled_before = import_module(
        "turnscrew.web.records.migrations.0013_comeback_settled"
    ).settled_before

    settled_before(apps, None)
    assert not proposed.filter(is_comeback_settled=True).exists()

    quoting.settle_comeback(back_again, "ours", by=lead, now=clock.at)
    Job.objects.update(is_comeback_settled=False)
    settled_before(apps, None)
    assert [back_again] == list(Job.objects.filter(is_comeback_settled=True))
    assert Entry.objects.filter(verb="comeback").count() == 2


def test_a_batch_stays_open_while_a_charged_comeback_is_on_no_invoice(
    sallowmere, back_again, lead, clock
) -> None:
    quoted(sallowmere, lead, clock.at)
    kept_open = "1 device on no invoice"
    sallowmere.jobs.exclude(pk=back_again.pk).update(state="returned unrepaired")
    earlier = Job.objects.exclude(batch=sallowmere).first()
    Job.objects.filter(pk=back_again.pk).update(comeback_of=earlier)
    assert kept_open not in handing_back.closing_refusals(sallowmere)

    quoting.settle_comeback(back_again, "user", by=lead, now=clock.at)

    assert kept_open in handing_back.closing_refusals(sallowmere)


@pytest.fixture
def worn_too(sallowmere, back_again, lead, clock) -> Job:
    """The device that came back has a worn fan too, and its owner was asked."""
    note_finding(back_again, Finding.SEEN, by=lead, now=clock.at, code="L-FAN")
    quoted(sallowmere, lead, clock.at)
    answer = reckoned(sallowmere, clock.at)
    quoting.ask(sallowmere, answer, by=lead, now=clock.at, only=BACK_AGAIN)
    return Job.objects.get(pk=back_again.pk)


def answered(job: Job, lead, clock, *, is_yes: bool) -> None:
    clock.move_on(hours=1)
    answers = {job.line: is_yes}
    quoting.give_answers(job.batch, answers, name="Ward", by=lead, now=clock.at)


def test_what_it_has_besides_is_asked_about_alone(worn_too) -> None:
    quote = worn_too.quotes.last()
    free, *charged = quote.charges

    # 14 minutes at 48.00 an hour, and the fan at its price: it is opened anyway.
    assert "ask" == quote.code
    assert "L-FAN beside a comeback at no charge, class " in quote.reason
    assert ("C-FN", 14) == (charged[-1]["part"], charged[0]["n"])
    assert quote.quote_minor == sum(row["net_minor"] for row in charged)
    assert (0, 0) == (free["net_minor"], free["tax_minor"])
    assert "on the comeback, no charge" in free["says"]
    assert "wanted the customer's yes" in permission_refusal(worn_too, "open")


@pytest.mark.parametrize(
    ("language", "note", "line"),
    [
        (
            "en",
            "the cost is of fan worn alone; keys dead after gel spill is mended at no"
            " charge, also after a no",
            "the price is for the rest alone",
        ),
        (
            "de",
            "die Kosten gelten nur für fan worn; keys dead after gel spill wird ohne"
            " Berechnung repariert, auch nach einem Nein",
            "der Preis gilt nur für den Rest",
        ),
    ],
)
def test_who_is_asked_is_told_what_the_price_is_for(
    sallowmere, worn_too, lead, client, clock, language, note, line
) -> None:
    people.speak_to(lead, language, now=clock.at)
    address = f"/batches/{sallowmere.ref}/approvals/"
    html = signed_in(lead).get(address).content.decode()
    link = people.invite(sallowmere, "Wen Arkady", by=lead, now=clock.at)

    # In the table, and in the message to send.
    assert 2 == html.count(note)
    says = {"accept-language": language}
    shown = client.get(f"/answer/{people.contact_address(link)}/", headers=says)
    assert 1 == shown.content.decode().count(line)


def test_a_no_to_the_rest_leaves_the_comeback_at_no_charge(
    sallowmere, worn_too, lead, clock
) -> None:
    answered(worn_too, lead, clock, is_yes=False)

    job = Job.objects.get(pk=worn_too.pk)
    quote = job.quotes.last()
    assert quote is not None
    assert ("comeback", 0, []) == (*kept(quote), quote.charges)
    assert "" == permission_refusal(job, "open")
    device = reckoned(sallowmere, clock.at).by_name[BACK_AGAIN]
    assert "L-FAN" not in device.line.found
    assert "C-FN" not in device.parts
    assert any(item.device == device for item in reckoned(sallowmere, clock.at).items)
    # Nothing changes by asking once more, and the fault found stays on record.
    assert quote == quoted(sallowmere, lead, clock.at)
    assert job.findings.filter(code="L-FAN", withdrawn_at=None).exists()

    quoting.correct_answer(
        job, is_yes=True, name="Ward", by=lead, now=clock.at, words="misheard"
    )
    asked = job.quotes.last()
    assert asked is not None
    assert ("ask", worn_too.quotes.first().pk) != (asked.code, asked.pk)
    assert "L-FAN beside" in asked.reason
    assert "" == permission_refusal(job, "open")
    assert "C-FN" in reckoned(sallowmere, clock.at).by_name[BACK_AGAIN].parts


def test_what_it_has_besides_comes_on_an_invoice(
    sallowmere, worn_too, lead, clock
) -> None:
    answered(worn_too, lead, clock, is_yes=True)
    sallowmere.jobs.exclude(pk=worn_too.pk).update(state="returned unrepaired")
    earlier = Job.objects.exclude(batch=sallowmere).first()
    Job.objects.filter(pk=worn_too.pk).update(comeback_of=earlier, state="handed back")

    assert "1 device on no invoice" in handing_back.closing_refusals(sallowmere)

    made = invoicing.invoice(sallowmere, by=lead, now=clock.at)
    says = list(made.lines.values_list("says", "net_minor"))
    assert any("on the comeback, no charge" in told and not net for told, net in says)
    assert worn_too.quotes.last().quote_minor == made.net_minor


def test_who_says_no_to_a_bill_has_the_promise_all_the_same(
    sallowmere, back_again, lead, clock
) -> None:
    Job.objects.filter(pk=back_again.pk).update(remarks="corner cracked")
    quoted(sallowmere, lead, clock.at)
    answer = reckoned(sallowmere, clock.at)
    quoting.ask(sallowmere, answer, by=lead, now=clock.at, only=BACK_AGAIN)
    answered(back_again, lead, clock, is_yes=False)
    job = Job.objects.get(pk=back_again.pk)
    assert "found no, wanted" in permission_refusal(job, "open")

    post = {"act": "settle", "job": back_again.ref, "kind": "ours"}
    signed_in(lead).post("/comebacks/", post)

    job = Job.objects.get(pk=back_again.pk)
    assert ("comeback", 0) == kept(job.quotes.last())
    assert "" == permission_refusal(job, "open")


def test_every_fault_of_a_closed_job_is_remembered(sallowmere, lead, clock) -> None:
    job = sallowmere.jobs.get(line=1)
    for code in ("L-KBD", "L-FAN", "L-KBD"):
        note_finding(job, Finding.CONFIRMED, by=lead, now=clock.at, code=code)

    [told] = told_past([job])

    assert ("L-KBD", ("L-FAN",)) == (told.confirmed, told.besides)


def received_again(batch: Batch, job: Job, lead, clock) -> Job:
    """Receive a device once more, with the fault it was mended for."""
    came = BatchLine(
        61, job.serial, job.model, job.asset_number, job.revision, found=("L-KBD",)
    )
    receive_next(batch, came, by=lead, now=clock.at)
    again = Job.objects.order_by("pk").last()
    assert again is not None
    return again


@pytest.fixture
def mended(sallowmere, lead, clock) -> Job:
    """A device whose keys were mended and that was handed back on the ninth day."""
    job = sallowmere.jobs.get(line=1)
    quoted(sallowmere, lead, clock.at)
    clock.move_on(days=9)
    note_finding(
        job, Finding.CONFIRMED, by=lead, now=clock.at, code="L-KBD",
        wrong={"part": "keys", "mode": "dead", "cause": "wear", "agrees": "yes"},
    )  # fmt: skip
    for state in ("final-tested", "charged and clean", "packed"):
        move(read_again(job), Standing(state, "bench 1", lead.ref), by=lead,
             now=clock.at)  # fmt: skip
    handing_back.hand_back(
        sallowmere, [1], taken_by="Wen Arkady", by=lead, now=clock.at
    )
    return read_again(job)


def read_again(job: Job) -> Job:
    return Job.objects.get(pk=job.pk)


@pytest.fixture
def booked_before(sallowmere, lead, clock) -> Batch:
    """A second batch, booked while the device was still here."""
    return booking.book(
        booking.Booking(
            "second round", sallowmere.received, sallowmere.terms_text,
            sallowmere.customer,
        ),
        by=lead, now=clock.at,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("days", "code"), [(0, "comeback"), (10, "comeback"), (91, "go")]
)
def test_what_comes_again_is_a_comeback_in_whichever_batch(
    sallowmere, booked_before, mended, lead, clock, days, code
) -> None:
    clock.move_on(days=days)

    for batch in (sallowmere, booked_before):
        again = received_again(batch, mended, lead, clock)
        quoting.keep_quotes(batch, reckoned(batch, clock.at), by=lead, now=clock.at)

        assert code == again.quotes.get().code
        is_kept = code == "comeback"
        assert (mended if is_kept else None) == read_again(again).comeback_of
        # One of them leaves before the other one comes.
        Job.objects.filter(pk=again.pk).update(
            state="written off", ended_as="written off"
        )


def test_a_device_that_left_is_its_own_past_nowhere(
    sallowmere, mended, lead, clock
) -> None:
    received_again(sallowmere, mended, lead, clock)
    now = reckoned(sallowmere, clock.at)
    one, again = (now.devices[n] for n in (0, -1))

    assert ("go", "comeback") == (one.decision.code, again.decision.code)
    assert (0, 1) == (len(one.past), len(again.past))


@pytest.fixture
def paid_for(sallowmere, mended, lead, clock) -> Job:
    """A device that came again, settled as the user's: its owner agreed to pay."""
    clock.move_on(days=10)
    again = received_again(sallowmere, mended, lead, clock)
    settle(again, "user", lead, clock)
    quoting.ask_all(sallowmere, by=lead, now=clock.at)
    clock.move_on(minutes=5)
    answered(again, lead, clock, is_yes=True)
    return read_again(again)


def settle(job: Job, kind: str, lead, clock) -> str:
    clock.move_on(minutes=5)
    post = {"act": "settle", "job": job.ref, "kind": kind}
    return signed_in(lead).post("/comebacks/", post, follow=True).content.decode()


@pytest.mark.parametrize("state", ["quoted", "open", "handed back"])
def test_a_yes_to_a_bill_stands_in_no_way_of_what_is_settled_free(
    sallowmere, paid_for, lead, clock, state
) -> None:
    assert paid_for.quotes.last().quote_minor
    Job.objects.filter(pk=paid_for.pk).update(state=state, main_state=state)

    assert "device 61: ours, quoted anew" in settle(paid_for, "ours", lead, clock)

    assert ("comeback", 0) == kept(paid_for.quotes.last())
    Job.objects.filter(pk=paid_for.pk).update(
        state="handed back", main_state="handed back"
    )
    made = invoicing.invoice(sallowmere, by=lead, now=clock.at)
    billed = made.lines.filter(job=paid_for)
    assert [0] == list(billed.values_list("net_minor", flat=True))
    assert charged_minor(made) == made.owed_minor
    people.speak_to(lead, "de", now=clock.at)
    paper = signed_in(lead).get(f"/money/{made.ref}/paper/")
    with pypdfium2.PdfDocument(paper.content) as bill:
        text = bill[0].get_textpage().get_text_range()
    assert "Rückläufer, ohne Berechnung" in text
    assert "comeback" not in text


def test_what_was_billed_is_not_settled_otherwise(
    sallowmere, paid_for, lead, clock
) -> None:
    Job.objects.filter(pk=paid_for.pk).update(
        state="handed back", main_state="handed back"
    )
    invoicing.invoice(sallowmere, by=lead, now=clock.at)

    html = settle(paid_for, "ours", lead, clock)

    assert "found it on an invoice, wanted one not billed yet" in html
    assert "user" == read_again(paid_for).comeback_class


def test_a_class_settled_as_it_was_leaves_what_was_agreed_besides(
    sallowmere, lead, clock
) -> None:
    job = sallowmere.jobs.get(line=56)
    note_finding(job, Finding.SEEN, code="L-FAN", by=lead, now=clock.at)
    quoting.ask_all(sallowmere, by=lead, now=clock.at)
    clock.move_on(minutes=5)
    answered(job, lead, clock, is_yes=True)
    agreed = kept(job.quotes.last())
    assert "ask" == agreed[0]
    Job.objects.filter(pk=job.pk).update(
        state="open", main_state="open", holder=lead.ref
    )
    Part.objects.filter(number="C-FN").update(cost_minor=3_000)

    settle(job, read_again(job).comeback_class, lead, clock)

    assert agreed == kept(job.quotes.last())
    assert "" == missing_yes(read_again(job))

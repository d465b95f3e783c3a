"""Is a comeback charged where the promise does not cover it, and only there?"""

from importlib import import_module

import pytest
from django.apps import apps

from turnscrew.web.records.models import Batch, Entry, Job, Quote
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import handing_back, quoting
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

"""Is a device with a bad pack given to nobody without the sign-off for it?"""

import re
from datetime import timedelta

import pytest

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Finding, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.closing import closing_refusals
from turnscrew.web.records.queries.packs import packs_to_isolate
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.services import booking, custody, findings
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in

LACKS = "holder: found nobody signed off for battery"


@pytest.fixture
def flat(sallowmere, now):
    """Give a device that came with a bad pack."""
    return packs_to_isolate([sallowmere], now)[0]


@pytest.fixture
def sound(sallowmere, now):
    """Give a device that came with a good pack and holds it before the bench."""
    bad = [job.pk for job in packs_to_isolate([sallowmere], now)]
    return sallowmere.jobs.exclude(pk__in=bad).first()


def put(job, to_whom, by, now, state="", place="shelf 2") -> None:
    job.refresh_from_db()
    to = Standing(state or job.state, place, to_whom.ref, main=job.main_state)
    custody.move(job, to, by=by, now=now)


def test_it_is_passed_on_to_whoever_is_signed_off_alone(
    flat, lead, helper, now
) -> None:
    with pytest.raises(RefusedError, match=LACKS):
        put(flat, helper, lead, now)

    booking.sign_off(helper, "battery", by=lead, now=now, on=now.date())
    put(flat, helper, lead, now)

    assert helper.ref == flat.__class__.objects.get(pk=flat.pk).holder


def test_whoever_has_it_may_carry_it_elsewhere(flat, lead, now) -> None:
    flat.holder = "PER-0"
    flat.save()

    flat.refresh_from_db()
    to = Standing(flat.state, "fire box", "PER-0", main=flat.main_state)
    custody.move(flat, to, by=lead, now=now)

    flat.refresh_from_db()
    assert "fire box" == flat.place


def test_a_sound_one_goes_to_anybody(sound, lead, helper, now) -> None:
    put(sound, helper, lead, now)

    sound.refresh_from_db()
    assert helper.ref == sound.holder


def test_anybody_isolates_but_not_anybody_takes_it_out(
    sound, lead, helper, now
) -> None:
    """Nothing was found of it: its state is unknown, and that counts as damaged."""
    custody.isolate(sound, by=helper, now=now, reason="ticks oddly")

    with pytest.raises(RefusedError, match=LACKS):
        put(sound, helper, helper, now, sound.main_state)

    booking.sign_off(lead, "battery", by=lead, now=now, on=now.date())
    put(sound, lead, lead, now, sound.main_state)
    assert "pack swollen or not known" == why_no_power(sound, now)


def test_its_owner_may_have_it_back_as_it_is(flat, lead, helper, now) -> None:
    custody.isolate(flat, by=helper, now=now, reason="it swells")
    flat.refresh_from_db()
    to = Standing("returned unrepaired", "customer", "customer", reason="they said no")

    custody.move(flat, to, by=lead, now=now)

    flat.refresh_from_db()
    assert "returned unrepaired" == flat.state


def test_it_is_free_again_once_the_pack_was_changed_at_the_bench(
    sound, lead, helper, now, monkeypatch
) -> None:
    custody.isolate(sound, by=helper, now=now, reason="hot")
    later = now + timedelta(hours=2)
    monkeypatch.setattr(bench_runs, "freed_at", lambda job: {"pack": later})

    put(sound, helper, helper, later, sound.main_state)

    assert not why_no_power(sound, later)


def test_why_it_was_isolated_stands_until_somebody_signed_off_withdraws_it(
    sound, lead, helper, now
) -> None:
    custody.isolate(sound, by=lead, now=now, reason="")
    custody.isolate(sound, by=lead, now=now, reason="still there")

    told = Finding.objects.get(job=sound, words__startswith="isolated: ")
    assert "pack swollen, hot, or its state not known" in told.words
    assert why_no_power(sound, now)

    with pytest.raises(RefusedError, match="none for battery, wanted one to say"):
        findings.withdraw_finding(told, by=helper, now=now, words="it looks fine")
    assert why_no_power(sound, now)

    booking.sign_off(lead, "battery", by=lead, now=now, on=now.date())
    findings.withdraw_finding(told, by=lead, now=now, words="the table was hot")
    assert not why_no_power(sound, now + timedelta(seconds=1))


def test_why_it_was_isolated_is_said_in_the_reader_s_language(
    sound, lead, clock, now
) -> None:
    custody.isolate(sound, by=lead, now=now, reason="")
    findings.note_finding(sound, "seen", by=lead, now=now, words="looks isolated: odd")
    Person.objects.filter(pk=lead.pk).update(language="de")

    page = signed_in(lead).get(f"/items/{sound.item.ref}/").content.decode()

    assert "abgesondert: Akku aufgebläht, heiss oder in unbekanntem Zustand;" in page
    assert "looks isolated: odd" in page


def test_an_older_version_wrote_the_reason_with_the_state_alone(
    sound, lead, helper, now
) -> None:
    custody.isolate(sound, by=lead, now=now, reason="smells sweet")
    Finding.objects.filter(job=sound, words__startswith="isolated: ").delete()
    sound.refresh_from_db()
    assert why_no_power(sound, now)
    with pytest.raises(RefusedError, match=LACKS):
        put(sound, helper, lead, now, sound.main_state)

    booking.sign_off(helper, "battery", by=lead, now=now, on=now.date())
    put(sound, helper, lead, now, sound.main_state)

    assert "isolated: smells sweet" == sound.findings.last().words
    assert why_no_power(sound, now)


def test_isolating_it_tells_nothing_of_what_is_wrong_with_it(sound, lead, now) -> None:
    sound.findings.all().delete()
    custody.isolate(sound, by=lead, now=now, reason="hot")

    told = "; ".join(closing_refusals(sound, "packed"))
    assert "seen: found nothing, wanted what was seen" in told


def test_the_page_of_the_device_says_who_is_missing(flat, lead, helper, clock) -> None:
    page = f"/items/{flat.item.ref}/"
    entered = {
        "act": "move", "state": flat.state, "place": "shelf 2", "holder": helper.ref,
        "until": "", "reason": "",
    }  # fmt: skip

    answer = signed_in(lead).post(page, entered, follow=True)

    told = re.sub(r"\s+", " ", answer.content.decode())
    assert LACKS in told


def closed(job, by, now):
    """Bring a device before the bench to where its work is done."""
    for state in ("kitted", "open", "tested open", "closed"):
        to = Standing(state, "bench", by.ref, main=job.main_state)
        custody.enter(job, to, by=by, now=now)
    job.refresh_from_db()
    return job


def test_one_found_bad_after_its_work_goes_to_whoever_is_signed_off(
    sound, lead, helper, now
) -> None:
    job = closed(sound, lead, now)
    put(job, helper, lead, now)
    put(job, lead, lead, now)
    later = now + timedelta(hours=1)
    findings.note_finding(job, "seen", by=helper, now=later, words="pack swollen")

    with pytest.raises(RefusedError, match=LACKS):
        put(job, helper, lead, later)
    # To have lain apart meanwhile frees it of nothing.
    custody.isolate(job, by=helper, now=later, reason="")
    put(job, lead, lead, later, "closed")
    with pytest.raises(RefusedError, match=LACKS):
        put(job, helper, lead, later)


def test_what_came_bad_and_is_closed_goes_to_anybody(flat, lead, helper, now) -> None:
    """Its pack may have been changed without a bench."""
    later = now + timedelta(hours=1)
    job = closed(flat, lead, later)

    put(job, helper, lead, later)

    job.refresh_from_db()
    assert helper.ref == job.holder


def test_one_isolated_in_its_work_is_not_free_because_it_was_closed(
    sound, lead, helper, now
) -> None:
    for state in ("kitted", "open", "tested open"):
        to = Standing(state, "bench", lead.ref, main=sound.main_state)
        custody.enter(sound, to, by=lead, now=now)
    custody.isolate(sound, by=lead, now=now, reason="")
    sound.refresh_from_db()
    booking.sign_off(lead, "battery", by=lead, now=now, on=now.date())
    custody.enter(
        sound,
        Standing("closed", "bench", lead.ref, main=sound.main_state),
        by=lead,
        now=now,
    )

    with pytest.raises(RefusedError, match=LACKS):
        put(sound, helper, lead, now)


def test_in_isolation_it_is_given_on_as_anywhere_else(sound, lead, helper, now) -> None:
    custody.isolate(sound, by=lead, now=now, reason="")
    custody.isolate(sound, by=helper, now=now, reason="it hisses now")
    sound.refresh_from_db()
    assert lead.ref == sound.holder

    with pytest.raises(RefusedError, match=LACKS):
        to = Standing(
            "isolated", "isolation place", helper.ref, now.date(), "received", "hot"
        )
        custody.move(sound, to, by=lead, now=now)

"""Does a bad pack stay known until it is changed, away, or found sound?"""

from datetime import timedelta

import pytest

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Job
from turnscrew.web.records.queries.found_faults import found_by_job, found_on
from turnscrew.web.records.queries.packs import pack_caution, packs_to_isolate
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.queries.told_dangers import told_by_job
from turnscrew.web.records.services import (
    booking,
    custody,
    findings,
    handing_back,
    kitting,
)
from turnscrew.web.records.services.bench_findings import CONFIRMED, note_test
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.safety import (
    close_incident,
    log_pack,
    report_incident,
)

UNSIGNED = "sign-off: found none for battery"


@pytest.fixture
def seen_bad(sallowmere, now) -> tuple[Job, str]:
    """Give a device of which nothing but a code tells of its pack, and that code."""
    faults = terms_of(sallowmere).faults
    for job in packs_to_isolate([sallowmere], now):
        codes = [code for code in found_on(job, now) if faults[code].hazard == "pack"]
        if codes and not job.remarks and job.gap_mm is None:
            return job, codes[0]
    raise LookupError("no such device in the example")


@pytest.fixture
def sound(sallowmere, now) -> Job:
    bad = [job.pk for job in packs_to_isolate([sallowmere], now)]
    return sallowmere.jobs.exclude(pk__in=bad).first()


@pytest.fixture
def packed(sound, lead, now) -> Job:
    for state in ("kitted", "open", "tested open", "closed", "final-tested", "packed"):
        custody.enter(
            sound, Standing(state, "shelf", lead.ref, main=sound.main_state),
            by=lead, now=now,
        )  # fmt: skip
        sound.refresh_from_db()
    return sound


@pytest.mark.parametrize("how", ["on its page", "by a test", "for several"])
def test_another_fault_that_is_confirmed_hides_no_bad_pack(
    sallowmere, seen_bad, helper, now, how
) -> None:
    job, pack = seen_bad
    other = next(
        code for code, fault in terms_of(sallowmere).faults.items() if not fault.hazard
    )
    if how == "on its page":
        findings.note_finding(job, "confirmed", by=helper, now=now, code=other)
    elif how == "by a test":
        note_test(job, other, CONFIRMED, by=helper, now=now)
    else:
        told = {"by": helper, "now": now, "code": other}
        findings.confirm_several(sallowmere, [job.line], {"part": "key"}, **told)

    assert (other, pack) == found_on(job, now)
    assert why_no_power(job, now)
    assert job in packs_to_isolate([sallowmere], now)
    assert pack_caution(job, now)


@pytest.mark.parametrize("event", ["looked at", "fitted"])
def test_a_look_at_a_bad_pack_makes_it_no_better(sound, helper, now, event) -> None:
    log_pack("P1", "swollen", by=helper, now=now, place="bench 1", job=sound)
    log_pack(
        "P1", event, by=helper, now=now, place="bench 1", job=sound, reading="3 mm"
    )
    log_pack("P2", "boxed", by=helper, now=now, place="fire box", job=sound)

    assert "pack swollen or not known" == why_no_power(sound, now)


@pytest.mark.parametrize("event", ["taken out", "boxed", "gone"])
def test_it_is_away_once_somebody_signed_off_says_so(
    sound, lead, helper, now, event
) -> None:
    log_pack("P1", "swollen", by=helper, now=now, place="bench 1", job=sound)
    with pytest.raises(RefusedError, match=UNSIGNED):
        log_pack("P1", event, by=helper, now=now, place="fire box", job=sound)

    booking.sign_off(lead, "battery", by=lead, now=now, on=now.date())
    log_pack("P1", event, by=lead, now=now, place="fire box", job=sound)

    assert not why_no_power(sound, now)
    # Whoever carries the box away needs none: it left its device before.
    log_pack("P1", "gone", by=helper, now=now, job=sound)


@pytest.mark.parametrize("told", ["words", "code"])
def test_only_somebody_signed_off_says_that_it_is_sound(
    sound, seen_bad, lead, helper, now, told
) -> None:
    is_code = told == "code"
    job, what = seen_bad if is_code else (sound, "pack swollen")
    one = job.findings.filter(code=what).first()
    if not is_code:
        one = findings.note_finding(job, "seen", by=helper, now=now, words=what)
    with pytest.raises(RefusedError, match=UNSIGNED):
        findings.withdraw_finding(one, by=helper, now=now, words="fine")

    booking.sign_off(lead, "battery", by=lead, now=now, on=now.date())
    findings.withdraw_finding(one, by=lead, now=now, words="it was the case")

    assert not why_no_power(job, now + timedelta(seconds=1))


def test_an_incident_of_a_pack_is_closed_by_somebody_signed_off(
    sound, lead, helper, now
) -> None:
    one = report_incident("pack", "pack smokes", by=helper, now=now, job=sound)
    with pytest.raises(RefusedError, match=UNSIGNED):
        close_incident(one, by=helper, now=now, learnt="charge less")
    assert why_no_power(sound, now)

    booking.sign_off(lead, "battery", by=lead, now=now, on=now.date())
    close_incident(one, by=lead, now=now, learnt="charge less")

    assert not why_no_power(sound, now)


def test_another_incident_is_closed_by_anybody(sound, helper, now) -> None:
    one = report_incident("injury", "a cut", by=helper, now=now, job=sound)

    close_incident(one, by=helper, now=now, learnt="gloves")

    one.refresh_from_db()
    assert one.closed_on


def test_one_found_bad_when_it_is_packed_is_not_handed_back(
    sallowmere, packed, lead, helper, now
) -> None:
    later = now + timedelta(hours=1)
    assert packed not in packs_to_isolate([sallowmere], later)
    told = {"by": helper, "now": later}
    one = findings.note_finding(packed, "seen", words="pack swollen", **told)

    assert packed in packs_to_isolate([sallowmere], later)
    assert pack_caution(packed, later)
    back = {"taken_by": "Wen Arkady", "by": lead}
    wanted = f"device {packed.line}: pack swollen or not known"
    with pytest.raises(RefusedError, match=wanted):
        handing_back.hand_back(sallowmere, [packed.line], now=later, **back)

    findings.withdraw_finding(one, by=lead, now=later, words="it was the case")
    later += timedelta(seconds=1)
    handing_back.hand_back(sallowmere, [packed.line], now=later, **back)
    packed.refresh_from_db()
    assert "handed back" == packed.state


def test_of_many_devices_it_asks_as_little_as_of_one(
    sallowmere, lead, now, django_assert_max_num_queries
) -> None:
    """Each was seen to have something, and has it confirmed by now."""
    jobs = list(Job.objects.filter(batch=sallowmere).order_by("line"))
    for job in jobs:
        for code in found_on(job, now):
            findings.note_finding(job, "confirmed", by=lead, now=now, code=code)

    fresh = list(Job.objects.filter(batch=sallowmere).order_by("line"))
    with django_assert_max_num_queries(2):
        found = found_by_job(fresh, now)

    assert len(fresh) == len(found)


def test_an_incident_counts_as_it_stood_on_the_day_that_is_asked_of(
    sound, lead, now
) -> None:
    """A paper of a day that is gone says what was known then."""
    booking.sign_off(lead, "battery", by=lead, now=now, on=now.date())
    before, during = now - timedelta(hours=1), now + timedelta(days=1)
    one = report_incident("pack", "pack smokes", by=lead, now=now, job=sound)
    close_incident(one, by=lead, now=now + timedelta(days=2), learnt="charge less")

    at = {then: told_by_job([sound], then=then)[sound.pk] for then in (before, during)}
    assert {before: (), during: ("pack smokes",)} == at
    assert () == told_by_job([sound], then=now + timedelta(days=3))[sound.pk]


def test_a_donor_is_isolated_first_too_until_its_pack_is_out(
    sallowmere, lead, now
) -> None:
    job = next(
        one for one in packs_to_isolate([sallowmere], now)
        if one.line == 14
    )  # fmt: skip
    answer = reckoned(sallowmere, now)
    kitting.declare_donor(job, answer, by=lead, now=now, consent="as the terms say")
    job.refresh_from_db()

    assert job in packs_to_isolate([sallowmere], now)
    assert pack_caution(job, now)

    log_pack("P1", "taken out", by=lead, now=now, job=job, place="fire box")
    assert job not in packs_to_isolate([sallowmere], now)
    assert not pack_caution(job, now)


def test_it_is_not_left_to_work_on_trial(seen_bad, sound, lead, now) -> None:
    job, _ = seen_bad
    day = now.date() + timedelta(days=1)

    for one in (job, sound):
        to = Standing("soaking", "bench 1", lead.ref, day, one.main_state, "trial")
        if one is sound:
            custody.move(one, to, by=lead, now=now)
            continue
        with pytest.raises(RefusedError, match="wanted it seen to before a trial"):
            custody.move(one, to, by=lead, now=now)

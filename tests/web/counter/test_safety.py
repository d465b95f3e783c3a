"""Is nothing overdue unseen, and nothing skipped filled in later?"""

from datetime import timedelta

import pytest
from django.test import Client

from turnscrew.core.electrics.esd import LIMIT_OHM
from turnscrew.web.records.models import Incident, PackLog, SafetyCheck, SafetyKind
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.safety_page import FUME_MG_M3, packs_here
from turnscrew.web.records.queries.today import safety_due
from turnscrew.web.records.services import booking, people, safety
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in

PAGE = "/safety/"


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def strap(db) -> SafetyKind:
    people.begin_safety()
    return SafetyKind.objects.get(name="wrist strap")


def test_what_was_skipped_is_never_filled_in_later(counter, strap, lead, clock) -> None:
    entered = {"act": "check", "kind": strap.pk, "result": "not done", "reading": ""}
    assert 302 == counter.post(PAGE, entered).status_code
    answer = counter.post(PAGE, {**entered, "result": "passed", "reading": "1.1 MΩ"})

    assert 422 == answer.status_code
    assert "what was skipped stays skipped" in answer.content.decode()
    assert ["not done"] == list(strap.checks.values_list("result", flat=True))
    # The next day's look is a look again, and is of that day alone.
    clock.move_on(days=1)
    client = signed_in(lead)
    assert 302 == client.post(PAGE, {**entered, "result": "passed"}).status_code
    assert [clock.at.date()] == list(
        SafetyCheck.objects.filter(result="passed").values_list("on", flat=True)
    )
    assert () == audited().breaks


def test_it_counts_the_days_on_which_nobody_looked(counter, strap, lead, clock) -> None:
    people.check_safety(strap, "passed", by=lead, now=clock.at)
    clock.move_on(days=4)

    [due] = [one for one in safety_due(clock.at) if one.kind == strap]
    # Due on the second, third and fourth day; today's look may still be taken.
    assert (3, True) == (due.n_skipped, due.is_overdue)
    assert "not done 3 times" in signed_in(lead).get(PAGE).content.decode()


def test_it_tells_the_limits_of_solder_fume(counter, strap) -> None:
    # Health and Safety Executive, page of research report RR900.
    assert (("8 hours", 0.05), ("15 minutes", 0.15)) == FUME_MG_M3
    page = counter.get(PAGE).content.decode()
    assert "0.05 mg/m³ in the mean of 8 hours" in page
    assert "0.15 mg/m³ in the mean of 15 minutes" in page
    assert "RR900" in page


def test_the_usual_checks_hold_the_limits_of_a_static_control_programme(strap) -> None:
    limits = dict(SafetyKind.objects.values_list("name", "how"))

    assert LIMIT_OHM["wrist strap"] == 35e6
    assert "35 megohm" in limits["wrist strap"]
    assert LIMIT_OHM["work surface"] == LIMIT_OHM["floor and footwear"] == 1e9
    assert "1 gigohm" in limits["bench mat"]
    assert "1 gigohm" in limits["floor and footwear"]


def test_an_incident_is_open_until_something_was_learnt(
    counter, sallowmere, clock, lead
) -> None:
    job = sallowmere.jobs.get(line=13)
    entered = {
        "act": "report", "kind": "pack", "on": "", "what": "a pack grew warm in hand",
        "done": "into the fire box", "job": job.number,
    }  # fmt: skip
    assert 302 == counter.post(PAGE, entered).status_code
    one = Incident.objects.get()
    assert (job, clock.at.date(), lead) == (one.job, one.on, one.by)
    assert "a pack grew warm in hand" in counter.get(PAGE).content.decode()

    close = {"act": "close", "incident": one.ref, "learnt": ""}
    assert 422 == counter.post(PAGE, close).status_code
    close["learnt"] = "warmth is felt before the cover goes on"
    assert 302 == counter.post(PAGE, close).status_code
    assert 422 == counter.post(PAGE, close).status_code
    assert "Learnt: warmth is felt" in counter.get(PAGE).content.decode()
    assert () == audited().breaks


def test_an_incident_is_not_of_tomorrow(lead, now) -> None:
    with pytest.raises(RefusedError, match=r"day: found 2027-02-02"):
        safety.report_incident(
            "near miss", "lid fell", by=lead, now=now,
            on=now.date() + timedelta(days=1),
        )  # fmt: skip
    with pytest.raises(RefusedError, match="what: found nothing"):
        safety.report_incident("near miss", " ", by=lead, now=now)


def test_every_pack_lies_where_its_last_line_says(counter, clock) -> None:
    lines = [
        ("P-7", "taken out", "tray 2"), ("P-8", "taken out", "tray 2"),
        ("P-7", "swollen", "fire box 1"), ("P-8", "fitted", "device 3"),
    ]  # fmt: skip
    for pack, event, place in lines:
        told = {"act": "pack", "pack": pack, "event": event, "place": place}
        assert 302 == counter.post(PAGE, told).status_code
    nowhere = {"act": "pack", "pack": "P-9", "event": "swollen", "place": ""}
    assert 422 == counter.post(PAGE, nowhere).status_code

    [here] = packs_here()
    assert ("P-7", "swollen", "fire box 1") == (here.pack, here.event, here.place)
    assert 4 == PackLog.objects.count()
    assert "fire box 1" in counter.get(PAGE).content.decode()


def test_a_sign_off_that_ended_is_seen(counter, helper, lead, clock) -> None:
    booking.sign_off(
        helper, "pack removal", by=lead, now=clock.at, on=clock.at.date(),
        until=clock.at.date() + timedelta(days=20),
    )  # fmt: skip
    assert "pack removal, until" in counter.get(PAGE).content.decode()
    clock.move_on(days=21)

    page = signed_in(lead).get(PAGE).content.decode()
    assert "pack removal, <strong>ended" in page


@pytest.mark.parametrize("reading", ["45", "45 M", "< 35"])
def test_a_number_without_its_unit_has_not_passed(counter, strap, reading) -> None:
    entered = {"act": "check", "kind": strap.pk, "result": "passed", "reading": reading}

    page = counter.post(PAGE, entered).content.decode()

    assert "wanted a resistance such as 1.2 MΩ to pass" in page
    # What was entered stands in the row it was entered in, where the message leads.
    row = page.split('id="check-form"')[1].split("</form>")[0]
    assert f'value="{strap.pk}"' in row
    assert f'value="{reading}"'.replace("<", "&lt;") in row
    assert 1 == page.count('id="check-form"')


@pytest.mark.parametrize(
    ("reading", "is_taken"),
    [
        ("1.1 MΩ", True), ("34.9 MΩ", True), ("35 MΩ", False), ("40 MΩ", False),
        ("36000 kΩ", False),
        ("40 megohm", False), ("40,5 MΩ", False), ("> 40 MΩ", False),
        ("40 MΩ at bench 2", False), ("400 MOhm", False), ("40 M ohm", False),
        ("1,1 megohm", True), ("1.1 Mohm", True), ("35 clips", True), ("", True),
    ],
)  # fmt: skip
def test_a_strap_that_reads_too_high_has_not_passed(
    counter, strap, reading, is_taken
) -> None:
    # Below 35 megohm, as a supplier quotes ANSI/ESD S20.20.
    entered = {"act": "check", "kind": strap.pk, "result": "passed", "reading": reading}
    answer = counter.post(PAGE, entered)

    assert (302 if is_taken else 422) == answer.status_code
    assert is_taken or "wanted below" in answer.content.decode()
    failed = counter.post(PAGE, {**entered, "result": "failed"})
    assert 302 == failed.status_code

"""Are slips of the hand refused with words, or taken back, and nothing typed lost?"""

from datetime import date, timedelta

import pytest
from django.test import Client

from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.records.models import (
    Invoice,
    Part,
    Payment,
    Person,
    SafetyCheck,
    SignOff,
)
from turnscrew.web.records.queries.batch_input import people_at
from turnscrew.web.records.queries.days_away import days_away
from turnscrew.web.records.queries.skills import skill_meant, skills_held
from turnscrew.web.records.services import (
    booking,
    findings,
    people,
    safety,
    setting_right,
    supplier,
)
from turnscrew.web.records.services.refusal import RefusedError
from web.conftest import sallowmere_contents
from web.counter_case import signed_in

DAY = date(2027, 2, 3)


@pytest.fixture
def client(sallowmere, lead, clock) -> Client:
    return signed_in(lead)


def test_a_finding_that_is_not_of_the_device_loses_no_reason(
    client, sallowmere
) -> None:
    address = f"/items/{sallowmere.jobs.first().item.ref}/"
    sent = {"act": "withdraw", "finding": "99999", "why": "a long reason"}

    answer = client.post(address, sent)

    assert 422 == answer.status_code
    page = answer.content.decode()
    assert "finding: found 99999, wanted the number of one listed here" in page
    assert "a long reason" in page


def test_a_payment_that_is_not_of_the_invoice_loses_no_reason(
    client, sallowmere
) -> None:
    made = Invoice.objects.create(
        batch=sallowmere, number="2027-1", on=DAY, due_on=DAY, net_minor=0,
        tax_minor=0, owed_minor=0,
    )  # fmt: skip
    Payment.objects.create(invoice=made, minor=100, on=DAY, how="bank")
    sent = {
        "act": "correct", "payment": "77", "minor": "", "on": "2027-02-01", "how": "",
        "why": "a long reason",
    }  # fmt: skip

    answer = client.post(f"/money/{made.ref}/", sent)

    assert 422 == answer.status_code
    page = answer.content.decode()
    assert "payment: found 77, wanted the number of one listed here" in page
    assert "a long reason" in page


@pytest.mark.parametrize("key", ["ｌｅａｄ", "LEAD", "Lead", "lead", "a-b", ""])
def test_a_short_name_is_plain_and_new(lead, clock, key) -> None:
    with pytest.raises(RefusedError, match="short name"):
        people.add_person(key, "Somebody", Person.HELPER, now=clock.at)


def test_an_absence_is_taken_back(client, helper, clock) -> None:
    people.be_away(helper, DAY, DAY + timedelta(days=300), now=clock.at)
    address = f"/people/{helper.ref}/"
    assert "Here after all" in client.get(address).content.decode()
    sent = {"act": "here", "first": "2027-02-05", "last": "2027-12-31"}

    assert 302 == client.post(address, sent).status_code
    assert [DAY, DAY + timedelta(days=1)] == list(
        days_away(helper).values_list("day", flat=True)
    )
    answer = client.post(address, sent)
    assert "found none away from 2027-02-05" in answer.content.decode()


def test_a_plan_of_a_past_moment_knows_the_absences_of_then(
    sallowmere, helper, clock
) -> None:
    days = [DAY + timedelta(days=n) for n in range(2)]

    def known(hours: int) -> tuple:
        return people_at(DAY, clock.at + timedelta(hours=hours))[helper.key].away

    first, later = (clock.at + timedelta(hours=n) for n in (1, 3))
    before = known(0)
    people.be_away(helper, days[0], days[1], now=first)
    people.be_here(helper, days[1], days[1], now=later)
    people.be_away(helper, days[1], days[1], now=later)
    people.be_here(helper, days[0], days[0], now=later)

    assert (before, {*before, *days}, {*before, days[1]}) == (
        known(0), {*known(2)}, {*known(4)},
    )  # fmt: skip
    assert [days[1]] == list(days_away(helper).values_list("day", flat=True))


def test_an_empty_finding_is_none(sallowmere, lead, clock) -> None:
    job = sallowmere.jobs.first()
    n = job.findings.count()
    with pytest.raises(RefusedError, match="found neither code nor words"):
        findings.note_finding(job, "seen", by=lead, now=clock.at, words=" ")
    assert n == job.findings.count()


def test_a_part_has_no_more_pieces_than_a_page_can_reckon_with(
    client, sallowmere
) -> None:
    address = "/stock/C-FN/"
    sent = {"act": "count", "n": "1000000", "why": "a truck"}
    assert 302 == client.post(address, sent).status_code
    more = {"act": "move", "verb": "found", "n": "1", "why": "one more"}

    refused = client.post(address, more)

    assert 422 == refused.status_code
    assert "1000000 or fewer in all" in refused.content.decode()
    assert 1_000_000 == Part.objects.get(number="C-FN").on_hand
    for page in ("", "plan/", "order/"):
        answer = client.get(f"/batches/{sallowmere.ref}/{page}")
        assert 200 == answer.status_code


def test_a_pack_that_is_bad_in_a_device_is_not_gone_by_its_name_alone(
    sallowmere, helper, lead, clock
) -> None:
    job = sallowmere.jobs.get(line=25)
    told = {"now": clock.at, "place": "fire box 1"}
    safety.log_pack("P1", "swollen", by=helper, job=job, **told)
    with pytest.raises(RefusedError, match="sign-off: found none for"):
        safety.log_pack("P1", "gone", by=helper, **told)

    kept = safety.log_pack("P1", "gone", by=lead, **told)
    assert job == kept.job
    # It left its device with that: whoever carries the box away needs no sign-off.
    assert safety.log_pack("P1", "gone", by=helper, **told).job is None


def test_the_card_of_a_helper_names_what_holds_today_alone(
    client, sallowmere, helper, lead, clock
) -> None:
    day = clock.at.date()
    told = {"by": lead, "now": clock.at, "on": day}
    booking.sign_off(helper, "battery", **told)
    assert "battery" in client.get("/people/").content.decode()
    booking.sign_off(helper, "battery", until=day - timedelta(days=1), **told)

    assert frozenset() == skills_held(helper.ref, clock.at)
    row = client.get("/people/").content.decode().split(helper.name)[1]
    assert "nothing hazardous" in row.split("</tr>")[0]
    page = client.get(f"/people/{helper.ref}/").content.decode()
    assert "hazardous work is not given to them alone" in page
    assert 2 == SignOff.objects.filter(person=helper).count()


def test_a_skill_is_spelled_as_the_terms_ask_for_it(client, sallowmere, helper) -> None:
    assert ("battery", True) == skill_meant("Battery")
    address = f"/people/{helper.ref}/"
    told = client.post(address, {"act": "sign_off", "skill": "BATTERY"}, follow=True)
    assert "signed off: battery" in told.content.decode()
    told = client.post(address, {"act": "sign_off", "skill": "batery"}, follow=True)
    says = "signed off: batery; no fault of a batch that is here asks for it"
    assert says in told.content.decode()
    assert "no fault" not in Phrasebook(GERMAN_COUNTER).says(says)


def test_two_returns_of_one_part_are_each_set_right(sallowmere, lead, clock) -> None:
    part, by = Part.objects.first(), {"by": lead, "now": clock.at}
    told = supplier.Faulty(2, supplier.FIRST_USE, "dead", "no picture")
    first, second = (supplier.begin_return(part, told, **by) for _ in range(2))
    for one in (second, first):
        right = setting_right.RightReturn(n=1)
        setting_right.correct_return(one, right, words="one only", **by)

    first.refresh_from_db()
    second.refresh_from_db()
    assert (1, 1) == (first.n, second.n)


def test_a_closed_batch_takes_nothing_in(client, sallowmere, lead, clock) -> None:
    sallowmere.closed_on = clock.at.date()
    sallowmere.save()
    closed = "batch: found one closed on 2027-02-01, wanted an open one"
    sent = {"act": "one", "model": "R50", "serial": "GR5-00001", "lock": "not looked"}

    answer = client.post(f"/batches/{sallowmere.ref}/receive/", sent)

    assert 422 == answer.status_code
    assert closed in answer.content.decode()
    with pytest.raises(RefusedError, match=closed):
        people.invite(sallowmere, "Wen Arkady", by=lead, now=clock.at)


def test_what_is_looked_at_in_the_morning_is_told_in_ones_own_language(
    client, lead, clock
) -> None:
    people.begin_safety()
    people.speak_to(lead, "de", now=clock.at)
    assert not SafetyCheck.objects.exists()

    page = client.get("/").content.decode()

    assert "wrist strap" not in page
    assert "nie angesehen" in page


def test_a_code_of_another_model_is_refused(client, sallowmere, lead, clock) -> None:
    job = sallowmere.jobs.filter(model="V80").first()
    refused = "found L-KBD, wanted one for V80, as its parts are for L240"

    with pytest.raises(RefusedError, match=refused):
        findings.note_finding(job, "seen", by=lead, now=clock.at, code="L-KBD")
    page = client.post(
        f"/batches/{sallowmere.ref}/receive/",
        {"act": "one", "model": "V80", "serial": "TV8-99999", "lock": "not looked",
         "found": "L-KBD"},
    )  # fmt: skip

    assert 422 == page.status_code
    assert refused in page.content.decode()
    # A seal has no part of its own, so any model may have it; no danger is refused.
    for code in ("H-SEA", "L-BAT"):
        findings.note_finding(job, "seen", by=lead, now=clock.at, code=code)


def test_who_is_added_gets_minutes_at_a_bench_and_a_day_sheet(
    client, sallowmere, clock
) -> None:
    mara = people.add_person("mara", "Mara Oster", Person.HELPER, now=clock.at)
    papers = f"/batches/{sallowmere.ref}/papers/"
    assert "Day sheet, mara" not in client.get(papers).content.decode()
    address = f"/people/{mara.ref}/"
    sent = {"act": "bench_time", "minutes_a_day": "240", "pace": "1.3",
            "pay_minor": "18.50"}  # fmt: skip

    assert 302 == client.post(address, sent).status_code
    mara.refresh_from_db()
    assert (240, 1850, "1.30") == (
        mara.minutes_a_day, mara.pay_minor, str(mara.pace),
    )  # fmt: skip
    assert "18.50" in client.get(address).content.decode()
    assert "Day sheet, mara" in client.get(papers).content.decode()
    assert 200 == client.get(f"{papers}day-sheet-mara.pdf").status_code
    refused = client.post(address, sent | {"minutes_a_day": "1500"})
    assert 422 == refused.status_code


def test_who_is_signed_off_holds_it_before_the_batch_is_there(lead, clock) -> None:
    told = read_batch_folder(sallowmere_contents())
    clock.at -= timedelta(days=60)

    booking.keep_people(told, by=lead, now=clock.at)

    assert clock.at.date() < told.terms.received
    assert {"battery"} == {*skills_held(Person.objects.get(key="lead").ref, clock.at)}

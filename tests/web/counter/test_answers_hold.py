"""Does an answer speak of the quote it was given to, and is that billed?"""

from collections.abc import Callable
from typing import Any

import pytest

from turnscrew.core.model.job_state import Standing
from turnscrew.core.price.limits import running_sums
from turnscrew.web.records.models import (
    Approval,
    Batch,
    DonorPart,
    Finding,
    Invoice,
    Job,
    Part,
)
from turnscrew.web.records.queries.contact_page import questions_of
from turnscrew.web.records.queries.permission import permission_refusal
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import custody, kitting
from turnscrew.web.records.services.findings import note_finding, withdraw_finding
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in

KEYS, NOT_BEGUN, GROWS = 1, 8, 3
"""Devices that go: two with one fault, the first at 94.75, and one of 57.10."""

GLASS, ALIKE = 4, 12
"""A device that is asked about in the example, and one with the same fault."""

Act = Callable[..., None]


@pytest.fixture
def act(sallowmere, lead, clock) -> Act:
    """Press a button on a page of the batch, some minutes after the last."""
    client = signed_in(lead)

    def press(page: str, does: str, /, **fields: Any) -> None:
        answer = client.post(
            f"/batches/{sallowmere.ref}/{page}", {"act": does, **fields}
        )
        assert 302 == answer.status_code
        clock.move_on(minutes=5)

    return press


def answer(act: Act, *, yes: str = "", no: str = "") -> None:
    seen = Approval.objects.latest("pk").pk
    act("approvals/", "take", name="Ward", yes=yes, no=no, seen=seen)


def sent_home(batch: Batch, *lines: int) -> None:
    batch.jobs.filter(line__in=lines).update(
        state="handed back", main_state="handed back"
    )


def billed(act: Act) -> dict[int, int]:
    act("invoice/", "bill")
    sums: dict[int, int] = {}
    for line in Invoice.objects.latest("pk").lines.all():
        sums[line.job.line] = sums.get(line.job.line, 0) + line.net_minor
    return sums


def cost(number: str, minor: int) -> None:
    part = Part.objects.get(number=number)
    part.cost_minor = minor
    part.save()


def last_quote(job: Job) -> tuple[str, int | None]:
    quote = job.quotes.last()
    return quote.code, quote.quote_minor


def test_a_yes_keeps_a_device_from_being_stripped_for_a_second_fault(
    sallowmere, lead, clock, act
) -> None:
    act("", "quote")
    act("approvals/", "ask")
    answer(act, yes=str(GLASS))
    job = sallowmere.jobs.get(line=GLASS)
    agreed = job.quotes.last().quote_minor
    note_finding(job, Finding.SEEN, code="T-SPK", by=lead, now=clock.at)
    assert "ask" == reckoned(sallowmere, clock.at).by_name[GLASS].decision.code
    with pytest.raises(RefusedError, match="found it to be mended"):
        stripped(sallowmere, lead, clock)

    act("approvals/", "ask")

    code, both = last_quote(job)
    assert "ask" == code
    assert both > agreed
    assert "was agreed to before" in job.quotes.last().reason
    assert GLASS in {one.job.line for one in questions_of(sallowmere)}
    assert "wanted the customer's yes" in permission_refusal(job, "open")

    answer(act, yes=str(GLASS))
    assert "" == permission_refusal(job, "open")
    assert "ask" == reckoned(sallowmere, clock.at).by_name[GLASS].decision.code


def test_a_no_to_the_second_fault_lets_a_device_be_stripped(
    sallowmere, lead, clock, act
) -> None:
    act("", "quote")
    act("approvals/", "ask")
    answer(act, yes=str(GLASS))
    job = sallowmere.jobs.get(line=GLASS)
    note_finding(job, Finding.SEEN, code="T-SPK", by=lead, now=clock.at)
    act("approvals/", "ask")
    answer(act, no=str(GLASS))

    stripped(sallowmere, lead, clock)

    assert "donor" == sallowmere.jobs.get(line=GLASS).state


def stripped(batch: Batch, lead, clock) -> None:
    told = reckoned(batch, clock.at)
    kitting.declare_donors(batch, [GLASS], told, by=lead, now=clock.at)


def test_a_no_by_a_slip_that_was_set_right_is_billed_as_agreed(sallowmere, act) -> None:
    act("approvals/", "ask")
    answer(act, yes=str(ALIKE), no=str(GLASS))
    act("", "quote")
    act("approvals/", "correct", line=GLASS, answer="yes", name="Ward", why="line 40")
    sent_home(sallowmere, GLASS, ALIKE)

    assert {GLASS: 116_12, ALIKE: 116_12} == billed(act)
    assert 1 == sallowmere.jobs.get(line=GLASS).quotes.count()


def test_after_a_no_it_is_asked_again_at_a_lower_price(sallowmere, act) -> None:
    act("approvals/", "ask")
    answer(act, no=str(GLASS))
    job = sallowmere.jobs.get(line=GLASS)
    assert "found no," in permission_refusal(job, "open")
    cost("T-GL2", 25_00)

    act("approvals/", "ask")

    assert ("ask", 104_42) == last_quote(job)
    assert (Approval.PENDING, 104_42) == last_answer(job)
    assert "found none yet" in permission_refusal(job, "open")
    answer(act, yes=str(GLASS))
    assert "" == permission_refusal(job, "open")
    sent_home(sallowmere, GLASS)
    assert {GLASS: 104_42} == billed(act)


def test_after_a_no_it_is_not_asked_again_at_the_same_price_or_a_higher(
    sallowmere, act
) -> None:
    act("approvals/", "ask")
    answer(act, no=str(GLASS))
    job = sallowmere.jobs.get(line=GLASS)

    for minor in (34_00, 40_00):
        cost("T-GL2", minor)
        act("approvals/", "ask")
        assert Approval.NO == last_answer(job)[0]
        assert "found no," in permission_refusal(job, "open")


def test_a_no_to_one_fault_bars_no_other_that_goes_without_asking(
    sallowmere, act, lead, clock
) -> None:
    act("approvals/", "ask")
    answer(act, no=str(GLASS))
    job = sallowmere.jobs.get(line=GLASS)
    glass = job.findings.filter(code="T-GLS").last()
    withdraw_finding(glass, by=lead, now=clock.at, words="only dirt")
    note_finding(job, Finding.SEEN, by=lead, now=clock.at, code="T-SPK")

    act("approvals/", "ask")

    assert ("go", 57_10) == last_quote(job)
    assert "" == permission_refusal(job, "open")
    sent_home(sallowmere, GLASS)
    assert {GLASS: 57_10} == billed(act)


def test_nothing_is_billed_of_what_was_quoted_before_the_no(sallowmere, act) -> None:
    act("", "quote")
    job = sallowmere.jobs.get(line=GLASS)
    job.quotes.update(code="go", quote_minor=1)
    act("approvals/", "ask")
    answer(act, no=str(GLASS))
    sent_home(sallowmere, GLASS)

    assert {GLASS: 0} == billed(act)


def begun(job: Job, lead, clock, *states: str) -> None:
    for state in states:
        to = Standing(state, "bench 1", lead.ref)
        custody.move(job, to, by=lead, now=clock.at)
    clock.move_on(minutes=5)


@pytest.mark.parametrize("is_packed", [False, True])
def test_what_is_begun_is_not_asked_about_when_a_part_grows_dearer(
    sallowmere, act, lead, clock, is_packed
) -> None:
    act("", "quote")
    job = sallowmere.jobs.get(line=KEYS)
    begun(job, lead, clock, "kitted", "open")
    if is_packed:
        sallowmere.jobs.filter(line=KEYS).update(state="packed", main_state="packed")
    cost("C-KBA", 34_00)
    cost("C-KBB", 38_50)

    pending = {device.name for device in reckoned(sallowmere, clock.at).pending}
    act("approvals/", "ask")

    # The same fault on a device that is not begun.
    assert (False, True) == (KEYS in pending, NOT_BEGUN in pending)
    assert not job.approvals.exists()
    assert "" == permission_refusal(job, "open")
    sent_home(sallowmere, KEYS)
    assert {KEYS: 94_75} == billed(act)


def test_what_is_begun_takes_of_the_cap_of_a_batch_first(
    sallowmere, act, lead, clock
) -> None:
    goes = [
        device
        for device in reckoned(sallowmere, clock.at).devices
        if device.decision.code == "go"
    ]
    cap = sum(device.decision.quote_minor or 0 for device in goes)
    sallowmere.terms_text = sallowmere.terms_text.replace(
        "ask_limit: 95.00", f"batch_limit: {cap / 100:.2f}\nask_limit: 95.00"
    )
    sallowmere.save()
    act("", "quote")
    lines = [device.name for device in goes]
    sallowmere.jobs.filter(line__in=lines).update(
        state="open", main_state="open", place="bench 1", holder=lead.ref
    )
    job = sallowmere.jobs.get(line=GROWS)
    clock.move_on(minutes=5)
    for code in (job.findings.last().code, "T-ANT"):
        note_finding(job, "confirmed", by=lead, now=clock.at, code=code)

    answer = reckoned(Batch.objects.get(pk=sallowmere.pk), clock.at)

    assert "would pass the limit" in answer.by_name[GROWS].decision.reason
    over = [one for one in answer.pending if "would pass" in one.decision.reason]
    assert [GROWS] == [one.name for one in over]
    (running,) = running_sums(answer.not_left, answer.batch.terms)
    assert cap - 57_10 == running.taken_minor


def last_answer(job: Job) -> tuple[str, int]:
    asked = job.approvals.last()
    return asked.answer, asked.quote_minor


def test_nobody_is_asked_about_a_device_taken_as_a_donor(act, sallowmere) -> None:
    act("approvals/", "ask")
    asked = {one.job.line for one in questions_of(sallowmere)}
    sallowmere.jobs.filter(line=GLASS).update(state="donor", main_state="donor")

    assert asked - {GLASS} == {one.job.line for one in questions_of(sallowmere)}


def test_a_quote_once_kept_without_its_lines_bills_those_it_had(
    act, sallowmere
) -> None:
    """As quotes were kept after a no, before they held their lines."""
    act("approvals/", "ask")
    answer(act, yes=str(ALIKE), no=str(GLASS))
    job = sallowmere.jobs.get(line=GLASS)
    husk = job.quotes.last()
    husk.pk, husk.charges = None, []
    husk.save()
    act("approvals/", "correct", line=GLASS, answer="yes", name="Ward", why="a slip")
    sent_home(sallowmere, GLASS, ALIKE)

    sums = billed(act)
    assert sums[ALIKE] == sums[GLASS] > 0


def test_a_no_is_asked_about_again_where_the_same_goes_without_asking(
    act, sallowmere, lead, clock
) -> None:
    act("approvals/", "ask")
    answer(act, no=str(GLASS))
    cost("T-GL2", 1_00)
    job = sallowmere.jobs.get(line=GLASS)

    def decided() -> tuple[str, str]:
        decision = reckoned(sallowmere, clock.at).by_name[GLASS].decision
        return decision.code, decision.reason

    dearer = "the customer said no to a dearer quote: ask again"
    assert ("ask", dearer) == decided()
    act("approvals/", "ask")

    waits = "the customer was asked, and has not answered yet"
    assert ("ask", waits) == decided()
    assert "found none yet" in permission_refusal(job, "open")
    answer(act, yes=str(GLASS))
    assert "" == permission_refusal(job, "open")


def test_what_was_refused_gives_its_pieces_as_a_donor(
    act, sallowmere, lead, clock
) -> None:
    act("approvals/", "ask")
    answer(act, no=str(GLASS))
    job = sallowmere.jobs.get(line=GLASS)
    kitting.declare_donor(job, reckoned(sallowmere, clock.at), by=lead, now=clock.at)

    pieces = set(DonorPart.objects.values_list("part__number", flat=True))
    assert "T-CM" in pieces
    assert "T-GL2" not in pieces
    plan = reckoned(sallowmere, clock.at)
    assert ("strip", "taken as a donor") == (
        plan.by_name[GLASS].decision.code, plan.by_name[GLASS].decision.reason,
    )  # fmt: skip
    assert GLASS in plan.supply.strips


def test_a_no_stands_as_long_as_no_price_is_known(act, sallowmere, lead, clock) -> None:
    act("approvals/", "ask")
    answer(act, no=str(GLASS))
    job = sallowmere.jobs.get(line=GLASS)
    note_finding(job, "confirmed", code="T-CAM", by=lead, now=clock.at)
    Part.objects.filter(number="T-CM").update(cost_minor=None)
    act("", "quote")

    kitting.declare_donor(
        sallowmere.jobs.get(line=GLASS), reckoned(sallowmere, clock.at), by=lead,
        now=clock.at,
    )  # fmt: skip

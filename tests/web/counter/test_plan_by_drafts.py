"""Does a plan say of which models not everybody may open a device yet?"""

import html
from dataclasses import replace

import pytest

from turnscrew.core.schedule.plan import Slot
from turnscrew.web.records.models import Batch, Description
from turnscrew.web.records.queries.batch_input import what_stands
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import people
from web.browser.bench_case import describe
from web.counter.test_german_papers import words_of
from web.counter_case import signed_in

NOT_RELEASED = (
    "escription of R50: tried by another, not released; by it a helper opens with the "
    "lead's word alone"
)


@pytest.fixture
def described(sallowmere, lead, helper, clock, now):
    describe(sallowmere, lead, now)
    return sallowmere


def told(client, batch) -> list[str]:
    base = f"/batches/{batch.ref}/"
    page = client.get(f"{base}plan/").content.decode()
    sheets = (
        f"{base}papers/{name}.pdf" for name in ("day-sheet-helper", "batch-sheet")
    )
    return [html.unescape(page), *(words_of(client.get(one).content) for one in sheets)]


def test_what_a_helper_may_not_open_is_told_beside_the_plan(described, lead) -> None:
    for words in told(signed_in(lead), described):
        assert 1 == words.count(NOT_RELEASED)
        assert "escription of L240" not in words

    Description.objects.filter(model="R50").update(state=Description.RELEASED)
    assert not any(
        "not released" in words for words in told(signed_in(lead), described)
    )


def test_it_is_told_in_german(described, lead, now) -> None:
    people.speak_to(lead, "de", now=now)

    for words in told(signed_in(lead), described):
        assert "eschreibung von R50: von anderen erprobt, nicht freigegeben" in words


def test_nothing_is_told_where_leads_work_alone(described, lead, helper) -> None:
    helper.rights = helper.LEAD
    helper.save()

    assert not any(
        "not released" in words for words in told(signed_in(lead), described)
    )


def tablets(batch: Batch, clock, *, is_word_given: bool) -> set[str]:
    """Name who works on tablets by the plan laid down."""
    asked = replace(what_stands(batch, clock.at), is_word_given=is_word_given)
    answer = reckoned(batch, clock.at, what_if=asked, is_planned=True)
    slots: tuple[Slot, ...] = answer.planned.plan_in_use.slots
    model = {one.name: one.line.model for one in answer.devices}
    return {slot.person for slot in slots if model[slot.job] == "R50"}


def test_without_more_words_helpers_are_given_what_is_released_alone(
    described, helper, clock
) -> None:
    assert {"lead", "helper"} == tablets(described, clock, is_word_given=True)
    assert {"lead"} == tablets(described, clock, is_word_given=False)

    Description.objects.filter(model="R50").update(may_try=helper)
    assert {"lead", "helper"} == tablets(described, clock, is_word_given=False)

    released = {"state": Description.RELEASED, "may_try": None}
    Description.objects.filter(model="R50").update(**released)
    assert {"lead", "helper"} == tablets(described, clock, is_word_given=False)


def test_the_page_shows_what_comes_of_it(described, lead) -> None:
    plan = f"/batches/{described.ref}/plan/"
    page = signed_in(lead).get(plan, {"released_only": "on"}).content.decode()

    assert "Helpers open by released descriptions alone" in page
    assert "As it stands:" in page


def test_nobody_is_named_where_nobody_may_open(described, lead, clock) -> None:
    lead.minutes_a_day = 0
    lead.save()
    asked = replace(what_stands(described, clock.at), is_word_given=False)

    plan = reckoned(described, clock.at, what_if=asked, is_planned=True).planned
    assert "nobody is signed off for the description of R50" in set(
        plan.plan_in_use.impossible.values()
    )
    people.speak_to(lead, "de", now=clock.at)
    address = f"/batches/{described.ref}/plan/"
    page = signed_in(lead).get(address, {"released_only": "on"}).content.decode()
    assert "niemand ist freigegeben für die Beschreibung von R50" in page

"""Does a plan say of which models not everybody may open a device yet?"""

import html

import pytest

from turnscrew.web.records.models import Description
from turnscrew.web.records.services import people
from web.browser.bench_case import describe
from web.counter.test_german_papers import words_of
from web.counter_case import signed_in

NOT_RELEASED = (
    "escription of R50: tried by another, not released; by it a helper opens with the "
    "lead's word alone, which the plan does not ask for"
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

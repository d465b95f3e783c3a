"""Does a device of which nobody said if it holds data stay shut until that is said?"""

from datetime import timedelta

import pytest

from turnscrew.web.records.models import Entry, Job
from turnscrew.web.records.services import bench_places, custody
from turnscrew.web.records.services.refusal import RefusedError
from web.browser.bench_case import kitted
from web.counter_case import signed_in

LINE = 18


@pytest.fixture
def unsaid(batch, lead, now) -> Job:
    job = kitted(batch, LINE, lead, now)
    Job.objects.filter(pk=job.pk).update(data_class="", data_decision="")
    job.refresh_from_db()
    return job


def taken(job: Job, lead, now) -> None:
    bench_places.take(job, by=lead, now=now, bench="bench 1", is_time_up=lambda: True)


def allowed(now, n_days: int) -> custody.DataTerms:
    until = now.date() + timedelta(days=n_days)
    return custody.DataTerms("test image only", "Wren Tolliver", until)


def test_it_is_not_begun_before_a_decision_is_on_record(unsaid, lead, now) -> None:
    with pytest.raises(RefusedError, match="nothing said of data of persons"):
        taken(unsaid, lead, now)
    assert not unsaid.runs.exists()

    custody.decide_data(unsaid, "", allowed(now, 7), by=lead, now=now)
    unsaid.refresh_from_db()
    taken(unsaid, lead, now)
    assert 1 == unsaid.runs.count()
    last = Entry.objects.filter(journal="custody", facts__contains="not said")
    assert [unsaid.ref] == list(last.values_list("subject", flat=True))


@pytest.mark.parametrize("said", ["P", "N"])
def test_what_the_list_said_is_enough(unsaid, lead, now, said) -> None:
    Job.objects.filter(pk=unsaid.pk).update(data_class=said)
    unsaid.refresh_from_db()
    taken(unsaid, lead, now)

    assert 1 == unsaid.runs.count()


def test_a_permission_that_ended_allows_nothing(unsaid, lead, now) -> None:
    custody.decide_data(unsaid, "", allowed(now, 7), by=lead, now=now)
    unsaid.refresh_from_db()
    last_day, after = (now + timedelta(days=n) for n in (7, 8))

    with pytest.raises(RefusedError, match="ended on 2027-02-08, wanted a new dec"):
        taken(unsaid, lead, after)
    assert not unsaid.runs.exists()
    taken(unsaid, lead, last_day)
    assert 1 == unsaid.runs.count()
    # Who takes it up again later is stopped too.
    with pytest.raises(RefusedError, match="ended on 2027-02-08"):
        taken(unsaid, lead, after)


def test_words_alone_are_no_decision(unsaid, lead, now) -> None:
    for terms in (
        custody.DataTerms("", "Wren Tolliver", words="anything goes"),
        custody.DataTerms("given account", " "),
        allowed(now, -1),
    ):
        with pytest.raises(RefusedError, match=r"^(allowed|by|until): found"):
            custody.decide_data(unsaid, "", terms, by=lead, now=now)
    with pytest.raises(RefusedError, match="nothing said of data of persons"):
        taken(unsaid, lead, now)


def test_the_page_says_that_it_ended(unsaid, lead, clock) -> None:
    address = f"/items/{unsaid.item.ref}/"
    entered = {
        "act": "decide", "data_class": "", "allowed": "given account",
        "said_by": "Wren Tolliver", "until": "2027-02-03",
    }  # fmt: skip
    assert 302 == signed_in(lead).post(address, entered).status_code
    page = signed_in(lead).get(address).content.decode()
    assert "by word of Wren Tolliver, until 2027-02-03" in page
    assert "this has ended" not in page

    clock.move_on(days=3)
    page = signed_in(lead).get(address).content.decode()
    assert "this has ended and allows nothing any more" in page

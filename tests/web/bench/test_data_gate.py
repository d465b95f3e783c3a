"""Does a device of which nobody said if it holds data stay shut until that is said?"""

import pytest

from turnscrew.web.records.models import Entry, Job
from turnscrew.web.records.services import bench_places, custody
from turnscrew.web.records.services.refusal import RefusedError
from web.browser.bench_case import kitted

LINE = 18


@pytest.fixture
def unsaid(batch, lead, now) -> Job:
    job = kitted(batch, LINE, lead, now)
    Job.objects.filter(pk=job.pk).update(data_class="", data_decision="")
    job.refresh_from_db()
    return job


def taken(job: Job, lead, now) -> None:
    bench_places.take(job, by=lead, now=now, bench="bench 1", is_time_up=lambda: True)


def test_it_is_not_begun_before_a_decision_is_on_record(unsaid, lead, now) -> None:
    with pytest.raises(RefusedError, match="nothing said of data of persons"):
        taken(unsaid, lead, now)
    assert not unsaid.runs.exists()

    allowed = "Wren Tolliver: start to the test image, until 8 Feb"
    custody.decide_data(unsaid, "", allowed, by=lead, now=now)
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

"""Are closed jobs told as proven, and those from before kept once alone?"""

from dataclasses import replace
from datetime import date

import pytest

from turnscrew.core.model.past_job import PastJob
from turnscrew.web.records import convert
from turnscrew.web.records.models import Batch, Job
from turnscrew.web.records.services import booking


@pytest.mark.parametrize(
    ("state", "told", "findings"),
    [
        # Only a device that passed its final test is ever handed back as mended.
        ("handed back", "", (("function check-out", "passed"),)),
        ("promise over", "", (("function check-out", "passed"),)),
        ("handed back", "radio=failed", (("radio", "failed"),)),
        ("donor", "", ()),
    ],
)
def test_a_job_handed_back_has_passed_its_check(
    sallowmere, state, told, findings
) -> None:
    job = Job.objects.filter(batch=sallowmere).first()
    job.state, job.results_told = state, told

    assert findings == convert.past_job(job, "T-GLS", ()).findings


NAMELESS = PastJob(
    "L240", "mended", "L-FAN", ("gets hot",), (("function check-out", "passed"),),
    "B", "Office", date(2026, 10, 6), parts=("C-FN",), besides=("L-KBD",),
)  # fmt: skip


def test_a_job_without_a_number_comes_in_once(sallowmere, lead, now) -> None:
    told = {"customer": sallowmere.customer, "by": lead, "now": now}
    twins = (NAMELESS, NAMELESS)

    def n_kept(past: tuple[PastJob, ...]) -> int:
        before = Job.objects.count()
        booking.keep_history(past, **told)
        return Job.objects.count() - before

    assert 2 == n_kept(twins)
    n_batches = Batch.objects.count()
    assert 0 == n_kept(twins)
    assert n_batches == Batch.objects.count()
    # One more that reads alike is another job, and so is one of another fault.
    assert 1 == n_kept((*twins, NAMELESS))
    assert 1 == n_kept((*twins, replace(NAMELESS, besides=())))

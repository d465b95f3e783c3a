"""Do closed jobs of our own records tell that they were proven?"""

import pytest

from turnscrew.web.records import convert
from turnscrew.web.records.models import Job


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

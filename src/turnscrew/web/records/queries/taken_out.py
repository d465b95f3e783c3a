"""What was taken out of a device and is not in it any more?"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from datetime import datetime

from turnscrew.web.records.models import Allotment, Job, PackLog
from turnscrew.web.records.queries.as_of import written_by
from turnscrew.web.records.queries.in_parts import among
from turnscrew.web.records.queries.told_dangers import AWAY


def taken_out_of(
    jobs: Iterable[Job],
    then: datetime | None = None,
    mark: Callable[[str], str] = str,
) -> Mapping[int, list[tuple[str, str]]]:
    """
    Give by job what went into other devices or lies apart, and where it is.

    With ``then`` as of that time.

    What a person wrote is marked for papers. Another customer's device is not named.
    """
    listed = {job.pk: job for job in jobs}
    told: Mapping[int, list[tuple[str, str]]] = defaultdict(list)
    used = Allotment.objects.filter(written_by(then, "used_at"), state=Allotment.USED)
    used = used.select_related("part", "job__batch", "donor_part__donor").order_by("id")
    for use in among(used, "donor_part__donor__job", listed):
        donor = listed[use.donor_part.donor.job_id]
        told[donor.pk].append((mark(use.part.description), _fitted(use, donor, mark)))
    logged = PackLog.objects.filter(written_by(then)).order_by("id")
    last = {(one.job_id, one.pack): one for one in among(logged, "job", listed)}
    for (key, pack), one in last.items():
        if one.event in AWAY:
            where = f"lies at {mark(one.place)}" if one.place else "gone"
            told[key].append((mark(pack), where))
    return told


def _fitted(use: Allotment, donor: Job, mark: Callable[[str], str]) -> str:
    if use.job.batch_id == donor.batch_id:
        return f"fitted in device {use.job.line}"
    if use.job.batch.customer_id == donor.batch.customer_id:
        return f"fitted in device {mark(use.job.number)}"
    return "fitted in another device"

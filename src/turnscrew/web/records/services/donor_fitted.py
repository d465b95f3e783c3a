"""Which piece of a donor did hands fit, though it was promised to nobody or another?"""

from datetime import datetime

from turnscrew.web.records.models import Allotment, DonorPart, Job, Person
from turnscrew.web.records.services import stock
from turnscrew.web.records.services.donor_pieces import has_left, may_leave
from turnscrew.web.records.services.on_record import require_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

_HERE = (DonorPart.UNTESTED, DonorPart.GOOD)


@writing
def came_from_donor(part: DonorPart, job: Job, *, by: Person, now: datetime) -> None:
    """
    Write that a piece fitted in a device came from a donor, and not off the shelf.

    Whoever was promised the piece waits for another; its owner is credited as for any
    other piece of the donor.
    """
    rows = DonorPart.objects.select_for_update(of=("self",))
    part = rows.select_related("part", "donor__job__batch").get(pk=part.pk)
    require_on_record(part.donor.job.batch.customer_id)
    wishes = Allotment.objects.select_for_update().filter(
        job=job, part=part.part, state=Allotment.USED, donor_part=None
    )
    wish = wishes.order_by("-id").first()
    reasons = _unfounded(part, job)
    if wish is None:
        reasons.append(
            f"device {job.line}: found no {part.part.number} fitted off the shelf, "
            "wanted one that is written as fitted"
        )
    if reasons or wish is None:
        raise RefusedError(*reasons)
    part.state = DonorPart.USED
    part.save()
    stock.want_anew([part], by=by, now=now)
    wish.donor_part = part
    wish.save()
    # The shelf gave none: what was taken off it comes to it from the donor.
    stock.move_stock(
        part.part, "harvested", 1, by=by, now=now, job=job,
        words=f"donor {part.donor.job.number}",
    )  # fmt: skip


def _unfounded(part: DonorPart, job: Job) -> list[str]:
    reasons = []
    if part.state not in _HERE or has_left(part):
        found = "gone with its donor" if has_left(part) else part.state
        reasons.append(f"part: found {found}, wanted one that can be given")
    is_same = part.donor.job.batch.customer_id == job.batch.customer_id
    if not is_same and not may_leave(part.donor):
        reasons.append("donor part: belongs to another customer, no consent given")
    return reasons

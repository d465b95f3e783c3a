"""Who waits for a piece, and whom may the piece of a donor serve?"""

from django.db.models import Q

from turnscrew.web.records.models import Allotment, Donor, DonorPart, Job, Part
from turnscrew.web.records.queries.bench_unready import is_before_kit
from turnscrew.web.records.queries.donor_supply import left_with
from turnscrew.web.records.queries.due import earliest_due_first


def serve_from(part: DonorPart) -> None:
    """
    Promise a good piece of a donor to whoever waits, the earliest due first.

    None is promised once it left with its donor.
    """
    if has_left(part):
        return
    theirs = Q()
    if not may_leave(part.donor):
        theirs = Q(job__batch__customer=part.donor.job.batch.customer)
    for wish in short_in_turn(part.part, theirs)[:1]:
        wish.donor_part, wish.state = part, Allotment.PROMISED
        wish.save()


def has_left(part: DonorPart) -> bool:
    """Say whether a piece is gone with its donor."""
    # It is asked of the table: the device may have been moved since it was read.
    state = Job.objects.values_list("state", flat=True).get(pk=part.donor.job_id)
    return left_with(state, part.place)


def left_of(donor: Job) -> list[DonorPart]:
    """Give the pieces that left with a donor."""
    pieces = DonorPart.objects.filter(donor__job=donor).order_by("id")
    rows = pieces.select_related("part", "donor")
    return [piece for piece in rows if has_left(piece)]


def short_in_turn(part: Part, *which: Q) -> list[Allotment]:
    """Give the wishes that wait for a part, the earliest due first."""
    return _in_turn(part, Q(*which, state=Allotment.SHORT))


def not_kitted_latest_first(part: Part) -> list[Allotment]:
    """Give the wishes of devices not yet kitted that have a piece, the latest first."""
    rows = _in_turn(part, Q(state=Allotment.PROMISED))
    return [one for one in reversed(rows) if is_before_kit(one.job)]


def _in_turn(part: Part, which: Q) -> list[Allotment]:
    waiting = (
        Allotment.objects.select_for_update(of=("self",))
        .filter(which, part=part, donor_part=None)
        .select_related("job__batch")
        .order_by("id")
    )
    return earliest_due_first(waiting, lambda wish: wish.job)


def may_leave(donor: Donor) -> bool:
    """Say whether parts may go to another customer: only with consent on record."""
    return donor.use == "any" and bool(donor.consent)

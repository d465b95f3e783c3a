"""Which pieces can the donors of a batch really give, and which come from others?"""

from collections.abc import Iterable
from datetime import datetime

from turnscrew.core.model.given_piece import GivenPiece
from turnscrew.core.model.job_state import GIVEN_BACK
from turnscrew.web.records import convert
from turnscrew.web.records.models import Allotment, Batch, DonorPart, Entry

_AS_IT_CAME = frozenset({"returned unrepaired"})
_MEANT = (Allotment.PROMISED, Allotment.USED)


def meant_for(batch: Batch) -> list[Allotment]:
    """Give the pieces promised to the devices of a batch or fitted."""
    rows = Allotment.objects.filter(job__batch=batch, state__in=_MEANT)
    return list(rows.select_related("part", "job", "donor_part__donor__job"))


def given_in(batch: Batch, meant: Iterable[Allotment]) -> tuple[GivenPiece, ...]:
    """Give the same as the core takes them, those that were fitted first."""
    rows = [_given(batch, one) for one in meant]
    return tuple(sorted(rows, key=lambda one: not one.is_fitted))


def own_donor(batch: Batch, wish: Allotment) -> int:
    """
    Give the line of the donor that a batch reckons with; 0 if a piece comes from none.

    It reckons neither with those of other batches nor with its own that went back to
    their owners.
    """
    donor = wish.donor_part.donor.job if wish.donor_part else None
    if donor is None or donor.batch_id != batch.pk or donor.state in _AS_IT_CAME:
        return 0
    return donor.line


def _given(batch: Batch, wish: Allotment) -> GivenPiece:
    piece = wish.donor_part
    words = place = ""
    if piece is not None:
        donor, place = piece.donor.job, piece.place
        words = str(donor.line) if donor.batch_id == batch.pk else donor.number
    return GivenPiece(
        device=wish.job.line,
        part=wish.part.number,
        donor=own_donor(batch, wish),
        donor_words=words,
        place=place,
        is_fitted=wish.state == Allotment.USED,
    )


def pieces_left(
    batch: Batch, meant: Iterable[Allotment], then: datetime | None
) -> dict[int, tuple[str, ...]]:
    """
    Name by line the parts that each device taken as a donor gives its own batch.

    One that was tested bad, is meant for another batch or left with its donor is none
    of them. As of an earlier time only those tested bad by then are left out.
    """
    bad_then = _bad_then(batch, then) if then else set()
    own = {one.donor_part_id for one in meant}
    left: dict[int, tuple[str, ...]] = {}
    rows = DonorPart.objects.filter(donor__job__batch=batch).order_by("id")
    for piece in rows.select_related("part", "donor__job", "allotment"):
        line, number = piece.donor.job.line, piece.part.number
        if then:
            is_there = (line, number) not in bad_then
        else:
            is_there = piece.pk in own or _is_free(piece)
        left[line] = (*left.get(line, ()), *((number,) if is_there else ()))
    if then:
        tested = {line for line, _ in bad_then}
        return {line: parts for line, parts in left.items() if line in tested}
    return left


def _is_free(piece: DonorPart) -> bool:
    """Say whether a piece is there for whoever waits."""
    is_there = piece.state in {DonorPart.UNTESTED, DonorPart.GOOD}
    is_gone = left_with(piece.donor.job.state, piece.place)
    return is_there and not hasattr(piece, "allotment") and not is_gone


def left_with(state: str, place: str) -> bool:
    """
    Say whether a piece is gone with a donor in some state, by the place it lies at.

    What was taken out of a carcass and laid apart stays when the carcass goes.
    """
    return state in GIVEN_BACK or (state == "disposed" and not place)


def _bad_then(batch: Batch, then: datetime) -> set[tuple[int, str]]:
    line = dict(batch.jobs.exclude(donor=None).values_list("ref", "line"))
    rows = Entry.objects.filter(
        journal="bench", verb="tested", subject__in=line, at__lte=then
    )
    told = map(convert.ledger_entry, rows)
    return {
        (line[one.subject], one.text("part"))
        for one in told
        if one.text("result") == DonorPart.BAD
    }

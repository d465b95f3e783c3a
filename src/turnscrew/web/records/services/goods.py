"""How is a parcel booked in, and how do its pieces prove themselves?"""

from dataclasses import dataclass, field, replace
from datetime import date, datetime

from turnscrew.core.ledger.entry import Fact
from turnscrew.web.records.models import Lot, OrderLine, PartPhoto, Person
from turnscrew.web.records.photo_copies import Prepared
from turnscrew.web.records.services import part_photos, stock, supplier
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.on_record import words_about_order
from turnscrew.web.records.services.part_photos import Sent
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

ACCEPTED, WITH_NOTE, REJECTED = "accepted", "with a note", "rejected"
OUTCOMES = (ACCEPTED, WITH_NOTE, REJECTED)
_BOTH = {PartPhoto.FRONT, PartPhoto.BACK}


@dataclass(frozen=True)
class Parcel:
    """
    What came, what the comparison showed, and what is asked for what is faulty.

    ``shown`` is how many pieces were still to come as somebody read it.
    """

    n: int
    lot: str
    marks_seen: str
    outcome: str
    has_marks: bool = True
    photos: Sent = field(default_factory=dict)
    asked: str = supplier.CREDIT
    send_by: date | None = None
    shown: int | None = None


def goods_in(line: OrderLine, parcel: Parcel, *, by: Person, now: datetime) -> Lot:
    """
    Book a parcel in after its pieces were compared with a known one.

    Pieces without any mark are told apart by their looks alone, so both sides are kept.
    """
    ready = part_photos.looked_at(parcel.photos)
    return _book(line, parcel, ready, by=by, now=now)


@writing
def _book(
    line: OrderLine, parcel: Parcel, ready: dict[str, Prepared], *,
    by: Person, now: datetime,
) -> Lot:  # fmt: skip
    line = OrderLine.objects.select_for_update().get(pk=line.pk)
    reasons = _wrong(line, parcel)
    if reasons:
        raise RefusedError(*reasons)
    part, n = line.part, parcel.n
    parcel = replace(parcel, marks_seen=words_about_order(line, parcel.marks_seen))
    kept = Lot.objects.create(
        part=part, order_line=line, name=parcel.lot.strip() or f"{now:%Y-%m-%d}", n=n,
        marks_seen=parcel.marks_seen, outcome=parcel.outcome, received_on=now.date(),
    )  # fmt: skip
    facts: dict[str, Fact] = {
        "n": n, "order": line.ref, "outcome": parcel.outcome,
    }  # fmt: skip
    append(
        "stock", "compared", part.ref, by=by, now=now, facts=facts,
        words=parcel.marks_seen,
    )  # fmt: skip
    if parcel.outcome == REJECTED:
        line.n_rejected += n
        told = supplier.Faulty(
            n, supplier.AT_GOODS_IN, parcel.marks_seen, parcel.marks_seen,
            parcel.asked, parcel.send_by,
        )  # fmt: skip
        supplier.begin_return(part, told, by=by, now=now, order_line=line)
    else:
        line.n_received += n
        stock.move_stock(part, "received", n, by=by, now=now, order_line=line)
        stock.serve_waiting(part, by=by, now=now)
    line.save()
    part_photos.keep_part_photos(part, ready, by=by, now=now, lot=kept)
    return kept


def _of_number(line: OrderLine, parcel: Parcel) -> list[str]:
    """Say why so many pieces cannot be booked in; two may hold the same parcel."""
    if line.is_called_off:
        return ["order: found it called off meanwhile, wanted one that awaits pieces"]
    if parcel.shown not in {None, line.n_open}:
        return [
            f"order: found {line.n_open} still to come by now, wanted the "
            f"{parcel.shown} that the page showed; look whether this parcel was "
            "booked in already"
        ]
    if not 1 <= parcel.n <= line.n_open:
        return [f"number: found {parcel.n}, wanted 1 to {line.n_open} still on order"]
    return []


def _wrong(line: OrderLine, parcel: Parcel) -> list[str]:
    reasons = _of_number(line, parcel)
    if parcel.outcome not in OUTCOMES:
        reasons.append(
            f"outcome: found {parcel.outcome}, wanted one of {', '.join(OUTCOMES)}"
        )
    if not parcel.marks_seen.strip():
        reasons.append("marks: found none, wanted what the comparison showed")
    if not parcel.has_marks and not _BOTH <= set(parcel.photos):
        found = ", ".join(sorted(parcel.photos)) or "none"
        reasons.append(
            f"photos: found {found} of pieces without marks, wanted front and back"
        )
    return reasons


@writing
def write_first_use(
    lot: Lot, *, is_good: bool, by: Person, now: datetime, how: str
) -> None:
    """Write what the first piece of a lot showed when it was first used."""
    lot = Lot.objects.select_for_update(of=("self",)).select_related("part").get(
        pk=lot.pk
    )  # fmt: skip
    reasons = []
    if lot.first_use:
        reasons.append(f"first use: found {lot.first_use} already, wanted none yet")
    if not how.strip():
        reasons.append("test: found nothing, wanted how it was tested")
    if reasons:
        raise RefusedError(*reasons)
    how = words_about_order(lot.order_line, how)
    lot.first_use = "passed" if is_good else "failed"
    lot.first_used_on, lot.first_use_how = now.date(), how.strip()
    lot.save()
    append(
        "stock", "first use", lot.part.ref, by=by, now=now,
        facts={"lot": lot.name, "result": lot.first_use}, words=how,
    )  # fmt: skip

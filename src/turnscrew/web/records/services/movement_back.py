"""How is a wrong movement of pieces taken back, with all that hangs on it?"""

from datetime import datetime

from turnscrew.core.ledger.verbs import STOCK_SIGNS
from turnscrew.core.model.job_state import ENDED
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import (
    Allotment,
    DataPart,
    DonorPart,
    Entry,
    Job,
    Lot,
    OrderLine,
    Part,
    Person,
)
from turnscrew.web.records.queries.data_bearing import exchanged_for
from turnscrew.web.records.services.donor_pieces import serve_from
from turnscrew.web.records.services.fits import take_fit_back
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.on_record import words_about
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.stock import move_stock, serve_waiting
from turnscrew.web.records.services.writing import writing


@writing
def correct(
    part: Part, sequence: int, *, by: Person, now: datetime, words: str
) -> None:
    """
    Take a wrong movement back by a new entry that names it.

    What was not received is still to come; what was not used is still meant for its
    device, while that is here, proves no fit, and no storage came out for it. A donor's
    piece that was credited on an invoice stays used, as it was billed.
    """
    wrong = Entry.objects.filter(
        journal="stock", sequence=sequence, subject=part.ref, verb__in=STOCK_SIGNS
    ).first()
    found = _against(wrong)
    if wrong is None or found:
        raise RefusedError(f"entry {sequence}: found {found}, wanted a movement of it")
    told = ledger_entry(wrong)
    _turn_back(part, wrong, told.n("n"), by=by, now=now, words=words)
    if wrong.verb == "received":
        _still_to_come(told.text("order"), wrong, told.n("n"))
    elif wrong.verb == "used":
        _still_meant(part, wrong, by=by, now=now, words=words)
    serve_waiting(part, by=by, now=now)


def _against(wrong: Entry | None) -> str:
    if wrong is None:
        return "none of this part"
    if _is_taken_back(wrong):
        return "one taken back already"
    # What it took back would not follow it.
    return "one that takes another back" if wrong.corrects else ""


def _is_taken_back(wrong: Entry) -> bool:
    """Say so of a movement that another takes back; an order set right takes none."""
    later = Entry.objects.filter(journal="stock", corrects=wrong.sequence)
    return later.filter(verb__in=STOCK_SIGNS).exists()


def _turn_back(
    part: Part, wrong: Entry, n: int, *, by: Person, now: datetime, words: str
) -> None:
    verb = "lost" if STOCK_SIGNS[wrong.verb] > 0 else "found"
    move_stock(part, verb, n, by=by, now=now, words=words, corrects=wrong.sequence)


def _still_to_come(order: str, wrong: Entry, n: int) -> None:
    line = OrderLine.objects.select_for_update().filter(ref=order).first()
    if line is not None:
        line.n_received = max(0, line.n_received - n)
        line.save()
        _lot_never_came(line, wrong, n)


def _lot_never_came(line: OrderLine, wrong: Entry, n: int) -> None:
    """Take the lot back that was booked in by a receipt: the lots came in its order."""
    booked = Entry.objects.filter(
        journal="stock", subject=wrong.subject, verb="received",
        sequence__lte=wrong.sequence, facts__contains=line.ref,
    ).count()  # fmt: skip
    lots = list(line.lots.exclude(outcome="rejected").order_by("id")[:booked])
    if len(lots) == booked and lots[-1].n == n:
        lots[-1].outcome = Lot.TAKEN_BACK
        lots[-1].save()


def _still_meant(
    part: Part, wrong: Entry, *, by: Person, now: datetime, words: str
) -> None:
    """Give the wish of a piece that was not used back what it was before."""
    job = ledger_entry(wrong).text("job")
    # A donor's piece is written as harvested first: that is taken back with it.
    before = Entry.objects.filter(
        journal="stock", sequence=wrong.sequence - 1, subject=part.ref, verb="harvested"
    ).first()
    is_donors = before is not None and ledger_entry(before).text("job") == job
    wish = (
        Allotment.objects.select_for_update(of=("self",))
        .filter(part=part, job__ref=job, state=Allotment.USED)
        .filter(donor_part__isnull=not is_donors)
        .select_related("job", "donor_part__donor__job__batch")
        .order_by("-used_at", "-id")
        .first()
    )
    if wish is None:
        return
    _refuse_credited(wish, wrong)
    _never_exchanged(wish, by=by, now=now, words=words)
    if before is not None and wish.donor_part is not None:
        if not _is_taken_back(before):
            _turn_back(part, before, 1, by=by, now=now, words=words)
        _back_at_its_donor(wish, wish.donor_part)
        take_fit_back(part, wish.job)
        return
    # Hands took it unasked where the wish began as it was used.
    is_wanted = wish.at != wish.used_at and _is_here(wish.job)
    wish.state = Allotment.SHORT if is_wanted else Allotment.RELEASED
    wish.used_at = None
    wish.save()
    take_fit_back(part, wish.job)


def _refuse_credited(wish: Allotment, wrong: Entry) -> None:
    """Refuse where the owner of the donor was credited: that invoice was sent."""
    if hasattr(wish, "credit"):
        raise RefusedError(
            f"entry {wrong.sequence}: found its credit on invoice "
            f"{wish.credit.invoice.number}, wanted a piece that is on none"
        )


def _never_exchanged(wish: Allotment, *, by: Person, now: datetime, words: str) -> None:
    """Say of the storage listed as come out that it stayed in its device."""
    listed = wish.job.data_parts.filter(end="", what=exchanged_for(wish.part)).last()
    if listed is None:
        return
    words = words_about(wish.job.batch.customer_id, words)
    listed.end, listed.ended_on = DataPart.KEPT_IN, now.date()
    listed.verified_how = words.strip()[:200]
    listed.save()
    append(
        "custody", "data part", wish.job.ref, by=by, now=now,
        facts={"part": listed.ref, "end": listed.end}, words=words,
    )  # fmt: skip


def _back_at_its_donor(wish: Allotment, piece: DonorPart) -> None:
    piece.state = DonorPart.GOOD
    piece.save()
    wish.used_at, wish.state = None, Allotment.PROMISED
    if not _is_here(wish.job):
        wish.donor_part, wish.state = None, Allotment.RELEASED
    wish.save()
    if wish.donor_part is None:
        serve_from(piece)


def _is_here(job: Job) -> bool:
    return job.state not in ENDED

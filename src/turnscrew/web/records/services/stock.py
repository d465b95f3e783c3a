"""How do pieces come, go and wait on the shelf?"""

from collections.abc import Iterable
from datetime import date, datetime

from django.db.models import F

from turnscrew.core.ledger.verbs import PROMISE_SIGNS, STOCK_SIGNS
from turnscrew.core.stock.order import cheapest
from turnscrew.web.records.convert import spare_part
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    DonorPart,
    Job,
    OrderLine,
    Part,
    Person,
)
from turnscrew.web.records.services.donor_pieces import (
    not_kitted_latest_first,
    serve_from,
    short_in_turn,
)
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

_MOST_PIECES = 1_000_000
"""What a shelf may hold; more than that no column does. Our own choice. [1]"""


@writing
def move_stock(
    part: Part,
    verb: str,
    n: int,
    *,
    by: Person,
    now: datetime,
    words: str = "",
    job: Job | None = None,
    order_line: OrderLine | None = None,
    corrects: int = 0,
) -> None:
    """Write one movement of pieces, and what it leaves on the shelf."""
    if n < 1:
        raise RefusedError(f"number: found {n}, wanted 1 or more")
    if verb in {"lost", "found", "returned"} and not words.strip():
        raise RefusedError("reason: found none, wanted why")
    held = _locked(part)
    change: dict[str, object] = {}
    if held.on_hand + STOCK_SIGNS.get(verb, 0) * n > _MOST_PIECES:
        raise RefusedError(
            f"number: found {n} beside {held.on_hand} on hand, wanted {_MOST_PIECES} "
            "or fewer in all"
        )
    if verb in STOCK_SIGNS:
        change["on_hand"] = F("on_hand") + STOCK_SIGNS[verb] * n
    if verb in PROMISE_SIGNS:
        change["promised"] = F("promised") + PROMISE_SIGNS[verb] * n
    Part.objects.filter(pk=part.pk).update(**change)
    facts: dict[str, str | int | bool | None] = {"n": n}
    facts |= {} if job is None else {"job": job.ref}
    facts |= {} if order_line is None else {"order": order_line.ref}
    append(
        "stock", verb, part.ref, by=by, now=now, facts=facts, words=words,
        corrects=corrects,
    )  # fmt: skip
    part.refresh_from_db()
    if STOCK_SIGNS.get(verb, 0) < 0:
        _want_what_is_gone(part, by=by, now=now)


def _want_what_is_gone(part: Part, *, by: Person, now: datetime) -> None:
    """
    Let those wait who were promised more than lies there, the latest due first.

    Whose kit is laid out has its piece in hand already.
    """
    if not part.short:
        return
    for wish in not_kitted_latest_first(part)[: part.short]:
        wish.state = Allotment.SHORT
        wish.save()
        move_stock(part, "released", 1, by=by, now=now, job=wish.job)
        append(
            "stock", "short", part.ref, by=by, now=now,
            facts={"n": 1, "job": wish.job.ref},
        )  # fmt: skip
    _serve_from_donors(part)


@writing
def move_by_hand(
    part: Part, verb: str, n: int, *, by: Person, now: datetime, words: str
) -> None:
    """Write what somebody saw come or go; what is free then goes to those who wait."""
    move_stock(part, verb, n, by=by, now=now, words=words)
    serve_waiting(part, by=by, now=now)


@writing
def promise(part: Part, job: Job, *, by: Person, now: datetime) -> Allotment:
    """
    Promise a free piece to a job, off the shelf before one of a donor.

    Where no piece is free the wish is kept as short: nothing is promised twice.
    """
    if not _locked(part).free:
        wish = want(part, job, by=by, now=now)
        _serve_from_donors(part)
        wish.refresh_from_db()
        return wish
    wish = Allotment.objects.create(
        part=part, job=job, state=Allotment.PROMISED, at=now
    )
    move_stock(part, "promised", 1, by=by, now=now, job=job)
    return wish


@writing
def want(part: Part, job: Job, *, by: Person, now: datetime) -> Allotment:
    """Keep that a piece is still to come for a job."""
    wish = Allotment.objects.create(part=part, job=job, state=Allotment.SHORT, at=now)
    append("stock", "short", part.ref, by=by, now=now, facts={"n": 1, "job": job.ref})
    return wish


@writing
def release(wish: Allotment, *, by: Person, now: datetime, words: str) -> None:
    """Take a promise back; the piece goes to whoever waits longest."""
    part = _locked(wish.part)
    wish = Allotment.objects.select_for_update().get(pk=wish.pk)
    given_by = wish.donor_part
    if given_by is not None and wish.state == Allotment.PROMISED:
        # It never lay on the shelf: only the donor's piece is free again.
        wish.donor_part, wish.state = None, Allotment.RELEASED
        wish.save()
        serve_from(given_by)
        return
    if wish.state not in {Allotment.PROMISED, Allotment.SHORT}:
        raise RefusedError(f"allotment: found {wish.state}, wanted one still promised")
    was_promised = wish.state == Allotment.PROMISED
    wish.state = Allotment.RELEASED
    wish.save()
    if was_promised:
        move_stock(part, "released", 1, by=by, now=now, job=wish.job, words=words)
        serve_waiting(part, by=by, now=now)


@writing
def release_all(job: Job, *, by: Person, now: datetime, words: str) -> None:
    """Free at once all that is meant for a device that will not be mended."""
    live = [Allotment.PROMISED, Allotment.SHORT]
    for wish in job.allotments.filter(state__in=live).select_related("part"):
        release(wish, by=by, now=now, words=words)


@writing
def want_anew(pieces: Iterable[DonorPart], *, by: Person, now: datetime) -> None:
    """Let whoever was promised a piece that is there no more wait for another."""
    wishes = Allotment.objects.select_for_update().filter(state=Allotment.PROMISED)
    gone = []
    for piece in pieces:
        wish = wishes.filter(donor_part=piece).first()
        if wish is None:
            continue
        gone.append(piece)
        wish.donor_part, wish.state = None, Allotment.SHORT
        wish.save()
        append(
            "stock", "short", piece.part.ref, by=by, now=now,
            facts={"n": 1, "job": wish.job.ref},
        )  # fmt: skip
    for part in {piece.part.pk: piece.part for piece in gone}.values():
        _serve_from_donors(part)
        serve_waiting(part, by=by, now=now)


def _serve_from_donors(part: Part) -> None:
    """Promise the good pieces of donors that nobody has yet to those who wait."""
    free = DonorPart.objects.filter(part=part, state=DonorPart.GOOD, allotment=None)
    for piece in free.select_related("part", "donor__job__batch"):
        serve_from(piece)


@writing
def take(part: Part, job: Job, *, by: Person, now: datetime) -> Allotment:
    """
    Take a piece off the shelf for a job.

    What hands did is always written: a piece more than the books know shows as a
    shortage until somebody counts the shelf.
    """
    _locked(part)
    wish = (
        Allotment.objects.select_for_update()
        .filter(part=part, job=job, donor_part=None)
        .filter(state__in=[Allotment.PROMISED, Allotment.SHORT])
        .order_by("state", "id")
        .first()
    )
    if wish is None:
        wish = Allotment(part=part, job=job, at=now)
    elif wish.state == Allotment.PROMISED:
        move_stock(part, "released", 1, by=by, now=now, job=job)
    wish.state, wish.used_at = Allotment.USED, now
    wish.save()
    move_stock(part, "used", 1, by=by, now=now, job=job)
    return wish


def serve_waiting(part: Part, *, by: Person, now: datetime) -> None:
    """Promise free pieces to those who wait, the earliest due first."""
    part.refresh_from_db()
    for wish in short_in_turn(part)[: part.free]:
        wish.state = Allotment.PROMISED
        wish.save()
        move_stock(part, "promised", 1, by=by, now=now, job=wish.job)


@writing
def order(
    part: Part,
    n: int,
    *,
    by: Person,
    now: datetime,
    cost_minor: int,
    batch: Batch | None = None,
    expected_on: date | None = None,
) -> OrderLine:
    """Write down that pieces were ordered."""
    if n < 1:
        raise RefusedError(f"{part.number}: found {n} pieces, wanted 1 or more")
    if part.retired_on is not None:
        raise RefusedError(
            f"{part.number}: found retired on {part.retired_on}, wanted one in use"
        )
    if part.is_sold_no_more:
        raise RefusedError(f"{part.number}: found sold no more, wanted one still sold")
    if not (cost_minor or part.cost_minor or part.is_free):
        raise RefusedError(
            f"{part.number}: found no cost, wanted it set right, or somebody to "
            "confirm that it costs nothing"
        )
    return expect(
        part, n, by=by, now=now, cost_minor=cost_minor, batch=batch,
        expected_on=expected_on,
    )  # fmt: skip


@writing
def expect(
    part: Part,
    n: int,
    *,
    by: Person,
    now: datetime,
    cost_minor: int,
    batch: Batch | None = None,
    expected_on: date | None = None,
) -> OrderLine:
    """Write down pieces as on their way, be the part bought no more: they come."""
    line = OrderLine.objects.create(
        part=part, batch=batch, n=n, cost_minor=cost_minor, supplier=part.supplier,
        ordered_on=now.date(), expected_on=expected_on,
    )  # fmt: skip
    append(
        "stock", "ordered", part.ref, by=by, now=now,
        facts={"n": n, "order": line.ref, "minor": cost_minor},
    )  # fmt: skip
    return line


@writing
def order_for_stock(
    part: Part, n: int, *, by: Person, now: datetime, expected_on: date | None = None
) -> OrderLine:
    """Write down at least so many pieces as ordered: by whole packs, the cheapest."""
    if expected_on is not None and expected_on < now.date():
        raise RefusedError(f"day: found {expected_on}, wanted {now.date()} or later")
    told = spare_part(part, 1, 0, part.lead_days)
    n_bought, cost = cheapest(told, n)
    return order(
        part, n_bought, by=by, now=now, cost_minor=cost, expected_on=expected_on
    )


@writing
def count(
    part: Part, n: int, *, by: Person, now: datetime, words: str,
    shown: int | None = None,
) -> int:  # fmt: skip
    """
    Write what somebody counted on the shelf; give what was missing or more.

    What came or went since the books were ``shown`` may be counted or not: who counted
    is to look again.
    """
    if n < 0:
        raise RefusedError(f"count: found {n}, wanted 0 or more")
    held = _locked(part)
    if shown is not None and held.on_hand != shown:
        raise RefusedError(
            f"count: found {held.on_hand} in the books by now, wanted the {shown} that "
            "the page showed; look whether what came or went is counted"
        )
    more = n - held.on_hand
    if more:
        verb = "found" if more > 0 else "lost"
        move_stock(part, verb, abs(more), by=by, now=now, words=words or "cycle count")
    append("stock", "counted", part.ref, by=by, now=now, facts={"n": n})
    Part.objects.filter(pk=part.pk).update(counted_on=now.date())
    serve_waiting(part, by=by, now=now)
    return more


@writing
def keep_reorder_point(part: Part, n: int, *, now: datetime) -> None:
    """Write at how many free pieces a part is to be bought again; 0 for never."""
    if n < 0:
        raise RefusedError(f"buy again at: found {n}, wanted 0 or more")
    held = _locked(part)
    held.reorder_point = n
    keep(held, now)


@writing
def keep_sold(part: Part, *, is_sold: bool, now: datetime) -> None:
    """Write whether anybody still sells a part: if not, nothing of it is ordered."""
    held = _locked(part)
    held.is_sold_no_more = not is_sold
    keep(held, now)


@writing
def confirm_free(part: Part, *, now: datetime) -> None:
    """Write that a cost of nothing is meant: until then no quote is made with it."""
    held = _locked(part)
    if held.cost_minor != 0:
        raise RefusedError(f"cost: found {held.cost_minor}, wanted 0 in minor units")
    held.is_free = True
    keep(held, now)


@writing
def retire(part: Part, *, by: Person, now: datetime, words: str) -> None:
    """Take a part out of use for good; all that was written of it stays readable."""
    held = _locked(part)
    reasons = []
    if not words.strip():
        reasons.append("why: found nothing, wanted why it is not used any more")
    if held.retired_on is not None:
        reasons.append(f"part: found retired on {held.retired_on}, wanted one in use")
    if held.on_hand or held.promised:
        reasons.append(
            f"pieces: found {held.on_hand} on hand and {held.promised} promised, "
            "wanted none"
        )
    n_open = sum(line.n_open for line in held.orders.all())
    if n_open:
        reasons.append(f"orders: found {n_open} pieces on their way, wanted none")
    n_back = held.returns.filter(end="").count()
    if n_back:
        reasons.append(f"returns: found {n_back} not ended, wanted none")
    n_short = held.allotments.filter(state=Allotment.SHORT).count()
    if n_short:
        reasons.append(f"wishes: found {n_short} pieces still wanted, wanted none")
    if reasons:
        raise RefusedError(*reasons)
    held.retired_on = now.date()
    keep(held, now)
    append("stock", "retired", part.ref, by=by, now=now, words=words)


@writing
def use_again(part: Part, *, by: Person, now: datetime, words: str) -> None:
    """Bring a retired part back into use."""
    held = _locked(part)
    if held.retired_on is None or not words.strip():
        raise RefusedError("part: found it in use or no reason, wanted both otherwise")
    held.retired_on = None
    keep(held, now)
    append("stock", "in use again", part.ref, by=by, now=now, words=words)


def _locked(part: Part) -> Part:
    return Part.objects.select_for_update().get(pk=part.pk)

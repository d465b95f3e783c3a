"""How do faulty pieces go back to the supplier, and how does each of them end?"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from turnscrew.core.ledger.entry import Fact
from turnscrew.web.records.models import (
    Job,
    OrderLine,
    Part,
    PartPhoto,
    Person,
    SupplierReturn,
)
from turnscrew.web.records.photo_copies import Prepared
from turnscrew.web.records.services import part_photos, stock
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.on_record import (
    require_job_on_record,
    words_about,
    words_about_order,
)
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

AT_GOODS_IN, FIRST_USE, ON_SHELF = "goods-in", "first use", "on the shelf"
STAGES = (FIRST_USE, ON_SHELF, AT_GOODS_IN)
CREDIT, EXCHANGE = "credit", "exchange"
ASKED = (CREDIT, EXCHANGE)
ENDS = (
    SupplierReturn.CREDITED, SupplierReturn.EXCHANGED, SupplierReturn.WRITTEN_OFF,
)  # fmt: skip


@dataclass(frozen=True)
class Faulty:
    """What is wrong with some pieces, what shows it, and what is asked for them."""

    n: int
    stage: str
    reason: str
    evidence: str = ""
    asked: str = CREDIT
    deadline: date | None = None
    expected_minor: int | None = None
    is_on_shelf: bool = False


@writing
def begin_return(
    part: Part,
    told: Faulty,
    *,
    by: Person,
    now: datetime,
    job: Job | None = None,
    order_line: OrderLine | None = None,
    photo: Prepared | None = None,
) -> SupplierReturn:
    """Write that pieces are faulty; what the books still count leaves the shelf."""
    require_job_on_record(job)
    reasons = _wrong(told, has_photo=photo is not None)
    if reasons:
        raise RefusedError(*reasons)
    expected = told.expected_minor
    if expected is None:
        expected = price_paid_minor(part, told.n, order_line)
    made = SupplierReturn.objects.create(
        part=part, order_line=order_line, job=job, n=told.n, stage=told.stage,
        reason=told.reason.strip(), evidence=told.evidence.strip(), asked=told.asked,
        expected_minor=expected, found_on=now.date(), deadline=told.deadline,
    )  # fmt: skip
    facts: dict[str, Fact] = {
        "n": told.n, "return": made.ref, "stage": told.stage, "asked": told.asked,
        "deadline": _day(told.deadline),
    }  # fmt: skip
    append("stock", "faulty", part.ref, by=by, now=now, facts=facts, words=made.reason)
    if told.is_on_shelf:
        stock.move_stock(
            part, "returned", told.n, by=by, now=now, job=job, words=made.reason
        )
    if photo is not None:
        part_photos.keep_part_photos(
            part, {PartPhoto.FAULT: photo}, by=by, now=now, supplier_return=made
        )
    return made


def _wrong(told: Faulty, *, has_photo: bool) -> list[str]:
    checks: Mapping[str, bool] = {
        f"number: found {told.n}, wanted 1 or more": told.n >= 1,
        f"stage: found {told.stage}, wanted one of {', '.join(STAGES)}": told.stage
        in STAGES,
        f"asked: found {told.asked}, wanted one of {', '.join(ASKED)}": told.asked
        in ASKED,
        "reason: found none, wanted what is wrong with it": bool(told.reason.strip()),
        "evidence: found none, wanted a photo, or in words what shows it": has_photo
        or bool(told.evidence.strip()),
    }
    return [reason for reason, is_right in checks.items() if not is_right]


def price_paid_minor(part: Part, n: int, line: OrderLine | None) -> int:
    """
    Give what was paid for some pieces: by their order, else by the last that came.

    Only where nothing was ever bought is the price of the list taken.
    """
    if line is None:
        came = part.orders.filter(n_received__gt=0, cost_minor__gt=0)
        line = came.order_by("id").last()
    if line is not None and line.n:
        return line.cost_minor * n // line.n
    return (part.cost_minor or 0) * n


@writing
def send_back(
    one: SupplierReturn, *, credit_by: date, by: Person, now: datetime
) -> None:
    """Write that pieces went off, and by which day the supplier should have settled."""
    one = _open(one)
    if credit_by < now.date():
        raise RefusedError(
            f"settled by: found {credit_by}, wanted {now.date()} or later"
        )
    if one.sent_on is not None:
        raise RefusedError(
            f"return: found sent on {one.sent_on}, wanted one still here"
        )
    one.sent_on, one.deadline = now.date(), credit_by
    one.save()
    facts: dict[str, Fact] = {
        "n": one.n,
        "return": one.ref,
        "deadline": _day(credit_by),
    }
    append("stock", "sent back", one.part.ref, by=by, now=now, facts=facts)


@writing
def settle_return(
    one: SupplierReturn, end: str, *, by: Person, now: datetime, minor: int = 0,
    words: str = "",
) -> None:  # fmt: skip
    """
    Write how a return ended.

    What comes in exchange is on its way from now on, and passes goods-in as any parcel.
    """
    one = _open(one)
    reasons = []
    if end not in ENDS:
        reasons.append(f"end: found {end}, wanted one of {', '.join(ENDS)}")
    if end == SupplierReturn.CREDITED and minor < 1:
        reasons.append("amount: found none, wanted what was credited")
    if end != SupplierReturn.CREDITED and minor:
        reasons.append(f"amount: found one with {end}, wanted none")
    if end == SupplierReturn.WRITTEN_OFF and not words.strip():
        reasons.append("why: found nothing, wanted why it is given up")
    if reasons:
        raise RefusedError(*reasons)
    words = words_about_return(one, words)
    one.end, one.ended_on, one.why_ended = end, now.date(), words.strip()
    one.credited_minor = minor
    one.save()
    facts: dict[str, Fact] = {"n": one.n, "return": one.ref, "minor": minor}
    append("stock", end, one.part.ref, by=by, now=now, facts=facts, words=words)
    if end == SupplierReturn.EXCHANGED:
        batch = one.order_line.batch if one.order_line else None
        stock.expect(one.part, one.n, by=by, now=now, cost_minor=0, batch=batch)


def words_about_return(one: SupplierReturn, words: str) -> str:
    """Give words to keep about a return, of a device or of an order's pieces."""
    if one.job is not None:
        return words_about(one.job.batch.customer_id, words)
    return words_about_order(one.order_line, words)


def _open(one: SupplierReturn) -> SupplierReturn:
    rows = SupplierReturn.objects.select_for_update(of=("self",))
    one = rows.select_related("part", "order_line__batch").get(pk=one.pk)
    if one.end:
        raise RefusedError(f"return: found {one.end} already, wanted one still open")
    return one


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None

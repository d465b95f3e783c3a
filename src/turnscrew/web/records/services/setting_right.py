"""How is an order, an accessory, a return or a line of waste set right?"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db.models import Q

from turnscrew.core.ledger.entry import Fact
from turnscrew.core.ledger.verbs import STOCK_SIGNS
from turnscrew.core.model.job_state import GIVEN_BACK
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import (
    Accessory,
    Entry,
    OrderLine,
    Person,
    SupplierReturn,
    Waste,
)
from turnscrew.web.records.queries.waste_page import KINDS
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.on_record import (
    require_job_on_record,
    require_on_record,
    words_about,
    words_about_order,
)
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.stock import move_stock, serve_waiting
from turnscrew.web.records.services.supplier import (
    AT_GOODS_IN,
    price_paid_minor,
    words_about_return,
)
from turnscrew.web.records.services.waste import MOST_G
from turnscrew.web.records.services.writing import writing


@dataclass(frozen=True)
class RightOrder:
    """What an order should say; what is not given is right as it is."""

    n: int | None = None
    cost_minor: int | None = None
    expected_on: date | None = None


@dataclass(frozen=True)
class RightCount:
    """How many of an accessory came, went back and were explained."""

    n_in: int | None = None
    n_out: int | None = None
    n_explained: int | None = None


@dataclass(frozen=True)
class RightReturn:
    """What a return should say; opened again, its end no longer holds."""

    n: int | None = None
    reason: str = ""
    evidence: str = ""
    expected_minor: int | None = None
    deadline: date | None = None
    is_open_again: bool = False


@dataclass(frozen=True)
class RightWaste:
    """What a line of waste should say; taken back, nothing was thrown away."""

    kind: str = ""
    mass_g: int | None = None
    what: str = ""
    receiver: str = ""
    receipt: str = ""
    is_taken_back: bool = False


@writing
def correct_order(
    line: OrderLine, right: RightOrder, *, by: Person, now: datetime, words: str
) -> None:
    """Set an order right by a new entry; with no piece left it is called off."""
    rows = OrderLine.objects.select_for_update(of=("self",)).select_related("part")
    line = rows.get(pk=line.pk)
    words = words_about_order(line, words)
    old = changed(
        line, n=right.n, cost_minor=right.cost_minor, expected_on=right.expected_on
    )
    came = line.n_received + line.n_rejected
    reasons = unfounded(old, words)
    if line.n < came:
        reasons.append(f"pieces: found {line.n}, wanted {came} or more, as they came")
    if reasons:
        raise RefusedError(*reasons)
    line.save()
    facts: dict[str, Fact] = {"order": line.ref, "n": line.n, "minor": line.cost_minor}
    facts |= _was(old, {"n": "n", "cost_minor": "minor", "expected_on": "expected"})
    # What came by it is not what was written wrongly.
    told = ("ordered", "order corrected")
    wrong = _last("stock", line.part.ref, "order", line.ref, *told)
    append(
        "stock", "order corrected", line.part.ref, by=by, now=now, facts=facts,
        words=words, corrects=wrong,
    )  # fmt: skip


@writing
def correct_accessory(
    one: Accessory, right: RightCount, *, by: Person, now: datetime, words: str
) -> None:
    """Set the count of an accessory right; none in means that it never came."""
    rows = Accessory.objects.select_for_update(of=("self",))
    one = rows.select_related("job", "batch").get(pk=one.pk)
    require_on_record(one.batch.customer_id)
    here = one.n_here
    old = changed(
        one, n_in=right.n_in, n_out=right.n_out, n_explained=right.n_explained
    )
    reasons = unfounded(old, words)
    is_gone = one.job is not None and one.job.state in GIVEN_BACK
    if one.n_here < 0 or (is_gone and one.n_here):
        wanted = "0, as the device was handed back" if is_gone else "0 or more"
        reasons.append(f"left here: found {one.n_here}, wanted {wanted}")
    if reasons:
        raise RefusedError(*reasons)
    one.save()
    subject = (one.job or one.batch).ref
    facts: dict[str, Fact] = {"kind": one.kind, "n": one.n_here - here}
    for key in old:
        facts[key.removeprefix("n_")] = getattr(one, key)
    facts |= _was(old, {key: key.removeprefix("n_") for key in old})
    append(
        "custody", "accessory corrected", subject, by=by, now=now, facts=facts,
        words=words, corrects=_last("custody", subject, "kind", one.kind),
    )  # fmt: skip


@writing
def correct_return(
    one: SupplierReturn, right: RightReturn, *, by: Person, now: datetime, words: str
) -> OrderLine | None:
    """
    Set a return right by a new entry; with no piece left it is taken back.

    What it took off the shelf, or off an order, is set right with it; opened again,
    what was to come in exchange is called off: that order is given, if it is known.
    """
    rows = SupplierReturn.objects.select_for_update(of=("self",))
    one = rows.select_related("part", "order_line", "job").get(pk=one.pk)
    if right.reason.strip() or right.evidence.strip():
        require_job_on_record(one.job)
    words = words_about_return(one, words)
    owed, credited, n_was = _owed(one), one.credited_minor, one.n
    was_end, was_why = one.end, one.why_ended
    old = changed(
        one, n=right.n, reason=right.reason.strip(), evidence=right.evidence.strip(),
        expected_minor=_right_credit(one, right), deadline=right.deadline,
    )  # fmt: skip
    swap = _swap_of(one) if right.is_open_again else None
    reasons = [*_wrong_return(one, right, old, words), *_against_calling_off(swap)]
    if reasons:
        raise RefusedError(*reasons)
    if swap is not None and swap.n:
        correct_order(swap, RightOrder(n=0), by=by, now=now, words=words)
    if right.is_open_again:
        one.end, one.ended_on, one.why_ended, one.credited_minor = "", None, "", 0
    elif one.n == 0:
        one.end, one.ended_on = SupplierReturn.TAKEN_BACK, now.date()
    one.save()
    begun = _last("stock", one.part.ref, "return", one.ref)
    facts: dict[str, Fact] = {
        "return": one.ref, "n": _owed(one) - owed,
        "minor": one.credited_minor - credited, "pieces": one.n,
    }  # fmt: skip
    if right.is_open_again:
        facts["end was"] = was_end
        old["why_ended"] = was_why
    names = {"n": "pieces", "expected_minor": "expected", "deadline": "deadline"}
    facts |= _was(old, names)
    append(
        "stock", "return corrected", one.part.ref, by=by, now=now, facts=facts,
        words=_with_old_words(words, old), corrects=begun,
    )  # fmt: skip
    _set_pieces_right(one, one.n - n_was, by=by, now=now, words=words)
    return swap


def _right_credit(one: SupplierReturn, right: RightReturn) -> int | None:
    """Give the credit to expect: reckoned from the pieces, it follows them."""
    if right.expected_minor is not None or right.n is None:
        return right.expected_minor
    paid = price_paid_minor(one.part, one.n, one.order_line)
    if one.expected_minor != paid:
        return None
    return price_paid_minor(one.part, right.n, one.order_line)


def _wrong_return(
    one: SupplierReturn, right: RightReturn, old: Mapping[str, Any], words: str
) -> list[str]:
    reasons = unfounded({**old, **({"end": ""} if right.is_open_again else {})}, words)
    if right.is_open_again and not one.end:
        reasons.append("return: found one still open, wanted one that ended")
    if one.end and not right.is_open_again and "n" in old:
        reasons.append(f"return: found {one.end} already, wanted it opened again first")
    if right.is_open_again and one.n == 0:
        reasons.append("pieces: found none, wanted how many are faulty")
    line = one.order_line
    if line and one.stage == AT_GOODS_IN and "n" in old:
        room = line.n - line.n_received - line.n_rejected + old["n"]
        if one.n > room:
            reasons.append(f"pieces: found {one.n}, wanted {room} at most, as ordered")
    return reasons


def _swap_of(one: SupplierReturn) -> OrderLine | None:
    """Give the order of what was to come in exchange, as the end wrote it."""
    if one.end != SupplierReturn.EXCHANGED:
        return None
    ended = _last("stock", one.part.ref, "return", one.ref, one.end)
    row = Entry.objects.filter(
        journal="stock", verb="ordered", subject=one.part.ref, sequence=ended + 1
    ).first()
    if not ended or row is None:
        return None
    order = ledger_entry(row).text("order")
    return OrderLine.objects.select_for_update().filter(ref=order).first()


def _against_calling_off(swap: OrderLine | None) -> list[str]:
    came = swap.n_received + swap.n_rejected if swap is not None else 0
    if not came:
        return []
    return [f"exchange: found {came} come in already, wanted none to open it again"]


def _set_pieces_right(
    one: SupplierReturn, more: int, *, by: Person, now: datetime, words: str
) -> None:
    """Let the shelf and the order follow the right number of faulty pieces."""
    if more == 0:
        return
    line = one.order_line
    if line is not None and one.stage == AT_GOODS_IN:
        line.n_rejected += more
        line.save()
    begun = _first_of(one)
    # What was taken back by itself came back to the shelf once, and comes not twice.
    if begun and _n_off_shelf(one, begun + 1) == one.n - more:
        verb = "returned" if more > 0 else "found"
        move_stock(
            one.part, verb, abs(more), by=by, now=now, job=one.job, words=words,
            corrects=begun + 1,
        )  # fmt: skip
        serve_waiting(one.part, by=by, now=now)


def _n_off_shelf(one: SupplierReturn, taken: int) -> int | None:
    """Count what a return took off the shelf, corrections in; ``None`` if nothing."""
    rows = Entry.objects.filter(journal="stock", subject=one.part.ref)
    about = rows.filter(
        Q(sequence=taken, verb="returned") | Q(corrects=taken), verb__in=STOCK_SIGNS
    ).order_by("sequence")
    counts = [STOCK_SIGNS[row.verb] * ledger_entry(row).n("n") for row in about]
    return -sum(counts) if rows.filter(sequence=taken, verb="returned") else None


def _first_of(one: SupplierReturn) -> int:
    """Give the number of the entry that began a return: its pieces follow at once."""
    begun = Entry.objects.filter(
        journal="stock", verb="faulty", subject=one.part.ref, facts__contains=one.ref
    )
    return begun.values_list("sequence", flat=True).first() or 0


@writing
def correct_waste(
    one: Waste, right: RightWaste, *, by: Person, now: datetime, words: str
) -> None:
    """Set a line of waste right by a new entry; what is taken back stays readable."""
    rows = Waste.objects.select_for_update(of=("self",)).select_related("job")
    one = rows.get(pk=one.pk)
    if right.what.strip() or right.receiver.strip() or right.receipt.strip():
        require_job_on_record(one.job)
    if one.job is not None:
        words = words_about(one.job.batch.customer_id, words)
    here_g = _here_g(one)
    old = changed(
        one, kind=right.kind, mass_g=right.mass_g, what=right.what.strip(),
        receiver=right.receiver.strip(), receipt=right.receipt.strip(),
    )  # fmt: skip
    reasons = _wrong_waste(one, right, old, words)
    if reasons:
        raise RefusedError(*reasons)
    if right.mass_g is not None:
        one.is_weighed = True
    if right.is_taken_back:
        one.taken_back_on = now.date()
    one.save()
    subject = one.job.ref if one.job else one.ref
    facts: dict[str, Fact] = {
        "waste": one.ref, "kind": one.kind, "g": _here_g(one) - here_g,
        "mass": one.mass_g, "taken back": right.is_taken_back or None,
    }  # fmt: skip
    facts |= _was(old, {"mass_g": "mass", "kind": "kind"})
    wrong = _last("custody", subject, "waste", one.ref)
    append(
        "custody", "waste corrected", subject, by=by, now=now, facts=facts,
        words=_with_old_words(words, old), corrects=wrong,
    )  # fmt: skip


def _wrong_waste(
    one: Waste, right: RightWaste, old: Mapping[str, Any], words: str
) -> list[str]:
    taken = {"taken": True} if right.is_taken_back else {}
    reasons = unfounded({**old, **taken}, words)
    if one.kind not in KINDS:
        reasons.append(f"kind: found {one.kind}, wanted one of {', '.join(KINDS)}")
    if not 1 <= one.mass_g <= MOST_G:
        reasons.append(f"mass: found {one.mass_g} g, wanted 1 to {MOST_G} g")
    if one.taken_back_on is not None:
        reasons.append("waste: found one taken back already, wanted one that holds")
    if one.gone_on is None and (right.receiver.strip() or right.receipt.strip()):
        reasons.append("receipt: found one of what is still here, wanted none")
    return reasons


def _here_g(one: Waste) -> int:
    return 0 if one.gone_on or one.taken_back_on else one.mass_g


def _owed(one: SupplierReturn) -> int:
    return 0 if one.end else one.n


def changed(row: Any, **right: object) -> dict[str, Any]:
    """Write what is right into a row, not yet kept; give what stood there before."""
    old = {}
    for key, value in right.items():
        was = getattr(row, key)
        if value is None or value in ("", was):
            continue
        old[key] = was
        setattr(row, key, value)
    return old


def _was(old: Mapping[str, Any], names: Mapping[str, str]) -> dict[str, Fact]:
    """Give those old values as facts that tell nothing of people."""
    return {
        f"{names[key]} was": value if isinstance(value, int) else str(value or "none")
        for key, value in old.items()
        if key in names
    }


def _with_old_words(words: str, old: Mapping[str, Any]) -> str:
    """Give the reason with the words that stood there: such words can be erased."""
    shown = {
        key: old[key]
        for key in ("reason", "evidence", "what", "receiver", "receipt", "why_ended")
        if old.get(key)
    }
    told = "; ".join(f"{key.split('_')[0]} was: {was}" for key, was in shown.items())
    return f"{words.strip()} ({told})" if told else words.strip()


def unfounded(old: Mapping[str, Any], words: str) -> list[str]:
    """Refuse what changes nothing, or says not why; ``old`` is what it changes."""
    reasons = []
    if not words.strip():
        reasons.append("why: found nothing, wanted why it was wrong")
    if not old:
        reasons.append("right value: found what stands there, wanted another")
    return reasons


def _last(journal: str, subject: str, fact: str, value: str, *verbs: str) -> int:
    """Give the number of the latest entry about something: the one set right."""
    about = Entry.objects.filter(journal=journal, subject=subject).order_by("-sequence")
    if verbs:
        about = about.filter(verb__in=verbs)
    for row in about.filter(facts__contains=value):
        if ledger_entry(row).text(fact) == value:
            return row.sequence
    return 0

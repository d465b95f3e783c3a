"""Ordering, goods-in, donors."""

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from turnscrew.core.model.amounts import counted
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import forms, supply_forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.records.queries import batch_page, find, stock_page, supplier_page
from turnscrew.web.records.queries.order_today import order_today
from turnscrew.web.records.queries.order_waits import not_counted
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.rights import allow
from turnscrew.web.records.services import goods, handing_back, kitting, waste
from turnscrew.web.records.services.batch_lines import job_at, jobs_at
from turnscrew.web.records.services.donor_fitted import came_from_donor
from turnscrew.web.records.services.part_photos import read_sent


def order(request: HttpRequest, ref: str) -> HttpResponse:
    """Show what a batch must buy, and write down what was ordered."""
    batch = find.batch_with_terms(ref)
    person = allow(request.person, "money")  # type: ignore[attr-defined]
    now = timezone.localtime()
    answer = reckoned(batch, now)
    needs = batch_page.order_needs(batch, answer)
    left = [
        (n.number, f"{n.n_left} × {n.number} {n.description}")
        for n in needs
        if n.n_left
    ]

    def place(entered: Entered) -> Done:
        numbers, shown = entered["numbers"], entered["shown"]
        placed = kitting.place_order(batch, numbers, by=person, now=now, shown=shown)
        return Done(f"{counted(len(placed), 'line')} written as ordered")

    # What no yes is in hand for, or only the open device shows, is left to them.
    initial = {
        "numbers": [n.number for n in needs if n.n_left and not n.waits],
        "shown": {n.number: (n.n_left, n.cost_minor) for n in needs},
    }
    acts = {
        "place": Act(
            place, "Write as ordered", forms.PartsToOrder, "counter", initial,
            {"chosen": left},
        )
    }  # fmt: skip

    left_minor = sum(need.cost_minor for need in needs)
    context = {
        "batch": batch,
        "answer": answer,
        "needs": needs,
        "is_all_ordered": not left,
        "left_minor": left_minor,
        "without_minor": left_minor
        + answer.supply.without_minor
        - answer.supply.cost_minor,
        "not_counted": not_counted(answer),
    }
    return page(request, "counter/order.html", lambda: context, acts)


def order_all(request: HttpRequest) -> HttpResponse:
    """Show what to order today for all open batches, and write down what was."""
    person = allow(request.person, "money")  # type: ignore[attr-defined]
    now = timezone.localtime()
    asked = order_today(now)
    listed = [
        (row.part.number, f"{row.purchase.n_bought} × {row.part}") for row in asked.due
    ]

    def place(entered: Entered) -> Done:
        numbers, shown = entered["numbers"], entered["shown"]
        placed = kitting.place_together(numbers, by=person, now=now, shown=shown)
        return Done(f"{counted(len(placed), 'line')} written as ordered")

    acts = {}
    if listed:
        due = {row.part.number: row.purchase for row in asked.due}
        initial = {
            "numbers": [row.part.number for row in asked.due if not row.waits],
            "shown": {
                name: (one.n_bought, one.cost_minor) for name, one in due.items()
            },
        }
        acts["place"] = Act(
            place, "Write as ordered", forms.PartsToOrder, "counter", initial,
            {"chosen": listed},
        )  # fmt: skip
    context = {"asked": asked, "today": now.date()}
    return page(request, "counter/order_today.html", lambda: context, acts)


def goods_in(request: HttpRequest) -> HttpResponse:
    """Open parcels: compare, then book in or send back."""
    person = request.person  # type: ignore[attr-defined]
    now = timezone.localtime()

    asked: list[str] = []

    def book(entered: Entered) -> Done:
        line = stock_page.order_line(entered["order"])
        asked.append(line.ref)
        goods.goods_in(line, _parcel(entered), by=person, now=now)
        pieces = written(f"{entered['n']} × {line.part.number}")
        return Done(f"{pieces}: {entered['outcome']}")

    def use(entered: Entered) -> Done:
        lot = supplier_page.lot_of(entered["lot"])
        is_good = entered["is_good"] == "yes"
        goods.write_first_use(
            lot, is_good=is_good, by=person, now=now, how=entered["how"]
        )
        number, name = written(lot.part.number), written(lot.name)
        if is_good:
            return Done(f"{number}, lot {name}: good at first use")
        return Done(
            f"{number}, lot {name}: failed; write here what is faulty",
            reverse("counter:returns"),
        )

    acts = {
        "book": Act(book, "Book in", supply_forms.GoodsIn, "stock"),
        "use": Act(use, "Write it", supply_forms.FirstUse, "look"),
    }

    def context() -> Mapping[str, Any]:
        orders = stock_page.open_orders(*asked)
        return {
            "orders": orders,
            "known": supplier_page.known_photos([line.part for line in orders]),
            "lots": supplier_page.lots_not_used(),
        }

    return page(request, "counter/goods_in.html", context, acts)


def _parcel(entered: Entered) -> goods.Parcel:
    sent = {side: entered[side] for side in ("front", "back") if entered[side]}
    return goods.Parcel(
        n=entered["n"], lot=entered["lot"], marks_seen=entered["marks_seen"],
        outcome=entered["outcome"], has_marks=not entered["no_marks"],
        photos={side: read_sent(file) for side, file in sent.items()},
        asked=entered["asked"] or "credit", send_by=entered["send_by"],
        shown=entered["shown"],
    )  # fmt: skip


def donors(request: HttpRequest, ref: str) -> HttpResponse:
    """Strip what is not worth mending, with the owner's consent and every data part."""
    batch = find.batch_with_terms(ref)
    person = request.person  # type: ignore[attr-defined]
    now = timezone.localtime()

    def declare(entered: Entered) -> Done:
        made = kitting.declare_donors(
            batch, entered["lines"], reckoned(batch, now), by=person, now=now,
            consent=entered["consent"],
        )  # fmt: skip
        return Done(counted(len(made), "donor"))

    def test(entered: Entered) -> Done:
        part = batch_page.donor_part(batch, entered["part"])
        is_good = entered["is_good"] == "yes"
        kitting.test_donor_part(
            part, is_good=is_good, by=person, now=now, how=entered["how"],
            was=entered["was"] or part.UNTESTED,
        )  # fmt: skip
        return Done(f"{written(part.part.number)}: {'good' if is_good else 'bad'}")

    def lay(entered: Entered) -> Done:
        part = batch_page.donor_part(batch, entered["part"])
        kitting.lay_donor_part(part, entered["place"], by=person, now=now)
        return Done(written(f"{part.part.number}: {entered['place']}"))

    def fitted(entered: Entered) -> Done:
        part = batch_page.donor_part(batch, entered["part"])
        job = job_at(batch, entered["lines"])
        came_from_donor(part, job, by=person, now=now)
        return Done(f"{written(part.part.number)}: fitted in device {job.line}")

    def end(entered: Entered) -> Done:
        part = batch_page.data_part(batch, entered["part"])
        kitting.end_data_part(
            part, entered["end"], by=person, now=now, verified_how=entered["how"]
        )
        return Done(f"{written(part.what)}: {entered['end']}")

    def dispose(entered: Entered) -> Done:
        from_line = jobs_at(batch, [entered["line"]])[0]
        receipt = waste.Receipt(entered["receiver"], entered["receipt"])
        handing_back.dispose(
            from_line, by=person, now=now, receipt=receipt, mass_g=entered["mass_g"]
        )
        return Done(f"device {entered['line']} disposed of")

    acts = {
        "declare": Act(
            declare, "Take as donors", forms.DonorDeclared, options={"batch": batch}
        ),
        "test": Act(test, "Write the test", forms.DonorTested, "look"),
        "lay": Act(lay, "Write the place", supply_forms.DonorLaid, "look"),
        "fitted": Act(
            fitted,
            "Write as fitted",
            forms.DonorFitted,
            "look",
            options={"batch": batch},
        ),
        "end": Act(end, "Write the end", forms.DataEnded, "look"),
        "dispose": Act(dispose, "Write as disposed of", supply_forms.CarcassGone),
    }

    def context() -> Mapping[str, Any]:
        answer = reckoned(batch, now)
        listed = batch_page.donors_of(batch)
        taken = {donor.job.line for donor in listed}
        return {
            "batch": batch,
            "answer": answer,
            "donors": [(donor, answer.by_name.get(donor.job.line)) for donor in listed],
            "data_parts": batch_page.data_parts_of(batch),
            "proposed": [
                device
                for device in answer.devices
                if not device.is_mended and device.name not in taken
            ],
        }

    return page(request, "counter/donors.html", context, acts)

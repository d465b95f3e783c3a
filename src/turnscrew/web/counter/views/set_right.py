"""Entries that set right what was written wrong; the old one stays readable."""

from collections.abc import Iterable, Mapping
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from turnscrew.papers.set_aside import written
from turnscrew.web.counter import set_right_forms as forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.records.queries import batch_page, find
from turnscrew.web.records.queries.item_page import journal_of_verb
from turnscrew.web.records.services import part_right, setting_right

SET_RIGHT = "set right by a new entry; the old one stays readable"
"""What every such act says once it is done."""


def order_act(person: Any, orders: Iterable[Any]) -> Mapping[str, Act]:
    """Give the act that sets an order of a part right, if there is one."""
    rows = {str(line.pk): line for line in orders}
    told = [(key, f"{one.ordered_on}: {one.n}") for key, one in rows.items()]
    return _act("order_right", partial(_order, person, rows), forms.OrderSetRight, told)


def part_act(person: Any, part: Any) -> Mapping[str, Act]:
    """Give the act that sets right what was written of a part."""
    do = partial(_part, person, part)
    return {"part_right": Act(do, "Set it right", forms.PartSetRight)}


def return_act(person: Any, rows: Iterable[Any]) -> Mapping[str, Act]:
    """Give the act that sets a return right, if there is one."""
    found = {row.ref: row for row in rows}
    told = [
        (
            ref,
            f"{written(f'{one.n} × {one.part.number}')}, found {one.found_on}, "
            f"{one.end or 'open'}",
        )
        for ref, one in found.items()
    ]
    return _act(
        "return_right", partial(_return, person, found), forms.ReturnSetRight, told
    )


def waste_act(person: Any, rows: Iterable[Any]) -> Mapping[str, Act]:
    """Give the act that sets a line of waste right, if there is one."""
    found = {row.ref: row for row in rows}
    told = [
        (ref, f"{one.on}: {one.kind} {written(f'{one.what} {one.mass_g}')} g")
        for ref, one in found.items()
    ]
    return _act(
        "waste_right", partial(_waste, person, found), forms.WasteSetRight, told
    )


def _act(name: str, do: Any, form: Any, told: list[tuple[str, str]]) -> dict[str, Act]:
    if not told:
        return {}
    return {name: Act(do, "Set it right", form, "stock", options={"chosen": told})}


def _order(person: Any, rows: Mapping[str, Any], entered: Entered) -> Done:
    right = setting_right.RightOrder(
        entered["n"], entered["minor"], entered["expected_on"]
    )
    setting_right.correct_order(
        rows[entered["row"]], right, by=person, now=timezone.localtime(),
        words=entered["why"],
    )  # fmt: skip
    return Done(SET_RIGHT)


def _part(person: Any, part: Any, entered: Entered) -> Done:
    right = part_right.RightPart(
        description=entered["description"], cost_minor=entered["minor"],
        lead_days=entered["lead_days"], pack=entered["pack"], breaks=entered["breaks"],
        supplier=entered["supplier"], place=entered["place"],
    )  # fmt: skip
    part_right.correct_part(
        part, right, by=person, now=timezone.localtime(), words=entered["why"]
    )
    return Done(SET_RIGHT)


def _return(person: Any, rows: Mapping[str, Any], entered: Entered) -> Done:
    one = rows[entered["row"]]
    right = setting_right.RightReturn(
        n=entered["n"], reason=entered["reason"], evidence=entered["evidence"],
        expected_minor=entered["expected_minor"], deadline=entered["deadline"],
        is_open_again=entered["is_open_again"],
    )  # fmt: skip
    swap = setting_right.correct_return(
        one, right, by=person, now=timezone.localtime(), words=entered["why"]
    )
    if right.is_open_again and one.end == one.EXCHANGED and swap is None:
        return Done(
            f"{SET_RIGHT}; call the order of the exchange off on the part's page"
        )
    return Done(SET_RIGHT)


def _waste(person: Any, rows: Mapping[str, Any], entered: Entered) -> Done:
    right = setting_right.RightWaste(
        kind=entered["kind"], mass_g=entered["mass_g"], what=entered["what"],
        receiver=entered["receiver"], receipt=entered["receipt"],
        is_taken_back=entered["is_taken_back"],
    )  # fmt: skip
    setting_right.correct_waste(
        rows[entered["row"]], right, by=person, now=timezone.localtime(),
        words=entered["why"],
    )  # fmt: skip
    return Done(SET_RIGHT)


def _accessory(person: Any, rows: Mapping[str, Any], entered: Entered) -> Done:
    right = setting_right.RightCount(
        entered["n_in"], entered["n_out"], entered["n_explained"]
    )
    setting_right.correct_accessory(
        rows[entered["row"]], right, by=person, now=timezone.localtime(),
        words=entered["why"],
    )  # fmt: skip
    return Done(SET_RIGHT)


def accessories(request: HttpRequest, ref: str) -> HttpResponse:
    """Show what came with the devices of a batch, and set a wrong count right."""
    batch = find.batch_with_terms(ref)
    person = request.person  # type: ignore[attr-defined]
    rows = batch_page.accessories_of(batch)
    found = {str(one.pk): one for one in rows}
    told = [
        (key, f"{_of(one)}: {written(one.kind)}, {one.n_in} in")
        for key, one in found.items()
    ]
    acts = _act(
        "accessory_right", partial(_accessory, person, found),
        forms.AccessorySetRight, told,
    )  # fmt: skip

    def context() -> Mapping[str, Any]:
        now = batch_page.accessories_of(batch)
        subjects = {batch.ref, *(one.job.ref for one in now if one.job)}
        return {
            "batch": batch,
            "rows": [(one, _of(one)) for one in now],
            "corrections": journal_of_verb("accessory corrected", subjects),
        }

    return page(request, "counter/accessories.html", context, acts)


def _of(one: Any) -> str:
    return f"device {one.job.line}" if one.job else "the batch"

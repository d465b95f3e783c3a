"""Faulty pieces on their way back to the supplier, and photos of parts."""

from collections.abc import Mapping
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from turnscrew.papers.set_aside import written
from turnscrew.web.counter import supply_forms as forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.views import set_right
from turnscrew.web.records.queries import find, supplier_page
from turnscrew.web.records.services import part_photos, supplier


def returns(request: HttpRequest) -> HttpResponse:
    """Show what suppliers still owe for faulty pieces, and bring each to its end."""
    person = request.person  # type: ignore[attr-defined]
    today = timezone.localdate()
    rows = supplier_page.open_returns(today)
    acts = {
        "begin": Act(partial(_begin, person), "Write it", forms.ReturnBegun, "stock")
    }
    for one in rows:
        acts |= _acts(one.row, person)
    ended, n_more = supplier_page.ended_returns()
    acts |= set_right.return_act(person, [*(one.row for one in rows), *ended])

    def context() -> Mapping[str, Any]:
        return {
            "rows": rows,
            "ended": ended,
            "n_more": n_more,
            "sums": supplier_page.return_sums(today),
        }

    return page(request, "counter/returns.html", context, acts)


def _acts(row: Any, person: Any) -> Mapping[str, Act]:
    acts = {
        f"settle-{row.ref}": Act(
            partial(_settle, row, person), "Write the end", forms.ReturnSettled, "money"
        )
    }
    if row.sent_on is None:
        acts[f"send-{row.ref}"] = Act(
            partial(_send, row, person), "Write as sent", forms.SentBack, "stock"
        )
    return acts


def _begin(person: Any, entered: Entered) -> Done:
    part = find.part_told(entered["number"])
    job = find.job_numbered(entered["job"])
    sent = entered["photo"]
    photo = None
    if sent is not None:
        photo = part_photos.looked_at({"photo": part_photos.read_sent(sent)})["photo"]
    told = supplier.Faulty(
        n=entered["n"], stage=entered["stage"], reason=entered["reason"],
        evidence=entered["evidence"], asked=entered["asked"],
        deadline=entered["deadline"], expected_minor=entered["expected_minor"],
        is_on_shelf=entered["on_shelf"],
    )  # fmt: skip
    supplier.begin_return(
        part, told, by=person, now=timezone.localtime(), job=job, photo=photo
    )
    return Done(f"{written(f'{told.n} × {part.number}')}: back to the supplier")


def _send(row: Any, person: Any, entered: Entered) -> Done:
    supplier.send_back(
        row, credit_by=entered["credit_by"], by=person, now=timezone.localtime()
    )
    return Done(f"{_pieces(row)}: sent")


def _settle(row: Any, person: Any, entered: Entered) -> Done:
    supplier.settle_return(
        row, entered["end"], by=person, now=timezone.localtime(),
        minor=entered["minor"] or 0, words=entered["why"],
    )  # fmt: skip
    return Done(f"{_pieces(row)}: {entered['end']}")


def _pieces(row: Any) -> str:
    return written(f"{row.n} × {row.part.number}")


@require_safe
@cache_control(private=True, no_cache=True)
def part_photo(_: HttpRequest, picture: str, copy: str) -> HttpResponse:
    """Give a copy of a part's photo."""
    content, content_type = supplier_page.part_picture(picture, copy)
    response = HttpResponse(content, content_type=content_type)
    response["X-Content-Type-Options"] = "nosniff"
    return response

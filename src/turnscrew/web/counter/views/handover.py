"""Open devices as they pass from one person to another."""

from collections.abc import Mapping
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone, translation
from django.views.decorators.http import require_safe

from turnscrew.papers.bench.handover import handover_sheet
from turnscrew.papers.page import Size
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.downloads import pdf
from turnscrew.web.counter.spoken import said
from turnscrew.web.records.queries import handover_page
from turnscrew.web.records.queries.handover_page import OpenJob
from turnscrew.web.records.queries.papers import paper_of
from turnscrew.web.records.services import handover as service


def every_open(request: HttpRequest) -> HttpResponse:
    """Show every open device, take one over by its counted tray, or cover it."""
    person = request.person  # type: ignore[attr-defined]
    rows = handover_page.open_jobs(person, timezone.localtime())
    acts: dict[str, Act] = {}
    for row in rows:
        acts |= _acts(row, person)

    def context() -> Mapping[str, Any]:
        bare = [row for row in rows if not row.is_covered]
        return {"rows": rows, "n_bare": len(bare)}

    return page(request, "counter/handover.html", context, acts)


def _acts(row: OpenJob, person: Any) -> Mapping[str, Act]:
    acts = {}
    if row.is_offered:
        button = "Confirm the tray; I hold it" if row.is_mine else "Take it over"
        acts[row.take] = Act(
            partial(_take, row, person), button, forms.TrayCounted, "bench",
            options={"compartments": [field[:2] for field in _fields(row)]},
        )  # fmt: skip
    if not row.is_covered:
        acts[row.cover] = Act(
            partial(_cover, row, person), "It is covered", forms.Covered, "bench"
        )
    return acts


def _fields(row: OpenJob) -> list[tuple[str, str, str]]:
    """Give for each compartment its field, its label, and what it is called."""
    tray = row.told.tray or (service.EMPTY,)
    return [
        (
            f"n{at}",
            said(f"Counted in {service.place_words(one)}"),
            handover_page.key_of(one),
        )
        for at, one in enumerate(tray)
    ]


def _take(row: OpenJob, person: Any, entered: Entered) -> Done:
    counted = {key: entered[name] for name, _, key in _fields(row)}
    is_passed = service.take_over(row.job, counted, by=person, now=timezone.localtime())
    if is_passed:
        return Done(f"{written(row.told.number)}: yours now, its tray is as written")
    return Done(
        f"{written(row.told.number)}: you hold it already; its tray is as written"
    )


def _cover(row: OpenJob, person: Any, entered: Entered) -> Done:
    service.cover(
        row.job, by=person, now=timezone.localtime(), reason=entered["reason"]
    )
    return Done(f"{written(row.told.number)}: covered until tomorrow")


@require_safe
def sheet(request: HttpRequest, size: Size) -> HttpResponse:
    """Give the sheet by which open devices pass on."""
    now = timezone.localtime()
    rows = handover_page.open_jobs(request.person, now)  # type: ignore[attr-defined]
    day = f"{timezone.localtime(now):%a %d %b %Y %H:%M}"
    told = [row.told for row in rows]
    content = handover_sheet(told, paper_of(size), day, translation.get_language())
    return pdf(content, f"handover-{size}.pdf")

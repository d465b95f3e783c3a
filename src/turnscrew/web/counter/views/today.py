"""The first page, and what a scan finds."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from turnscrew.web.records.queries import (
    again,
    batch_page,
    locks,
    money_page,
    sheet_told,
    stock_page,
    supplier_page,
    today,
    trial_restore,
)
from turnscrew.web.records.queries import find as finding
from turnscrew.web.records.queries.packs import packs_to_isolate
from turnscrew.web.records.queries.rights import may


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """Show what must be looked at this morning."""
    now = timezone.localtime()
    person = request.person  # type: ignore[attr-defined]
    batches = batch_page.batches()
    context: dict[str, Any] = {
        "batches": batches,
        "now": now,
        "written_later": today.written_later(now),
        "is_new": not batches and not batch_page.batches(is_open=False),
        "to_isolate": packs_to_isolate(batches, now),
        "waits": today.overdue_waits(now.date()),
        "open_devices": today.open_devices(),
        "rushed": sheet_told.rushed(),
        "locks": locks.requests_near(now.date()),
        "again": again.not_looked_into(),
        "safety": [due for due in today.safety_due(now) if due.is_overdue],
        "short": stock_page.short_on_shelf(),
        "returns": supplier_page.returns_near(now.date()),
        "parcels": stock_page.open_orders()[:20],
    }
    if may(person, "audit"):
        context["backup"] = trial_restore.asked_for(now)
    if may(person, "money"):
        context["owed"] = [one for one in money_page.owed(now.date()) if one.is_due]
        context["not_invoiced"] = money_page.not_invoiced()
    return render(request, "counter/home.html", context)


@require_safe
def find(request: HttpRequest) -> HttpResponse:
    """Open the one record a scan means, or list what it may mean."""
    text = request.GET.get("code", "")[:120].replace("\0", "")
    found = finding.found(text)
    if found.n == 1:
        if found.items:
            return redirect("counter:item", found.items[0].ref)
        if found.parts:
            return redirect("counter:part", found.parts[0].number)
        return redirect("counter:batch", found.batches[0].ref)
    context = {"found": found, "text": text, "back": reverse("counter:home")}
    return render(request, "counter/find.html", context)

"""Safety checks, incidents and the log of packs."""

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from turnscrew.papers.set_aside import written
from turnscrew.web.counter import forms, safety_forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.records.queries import find, safety_page, today
from turnscrew.web.records.services import people as service
from turnscrew.web.records.services import safety as safety_service


def safety(request: HttpRequest) -> HttpResponse:
    """Show every check with its next day, and write one made today."""
    person = request.person  # type: ignore[attr-defined]

    def check(entered: Entered) -> Done:
        kind = today.safety_kind(entered["kind"])
        service.check_safety(
            kind, entered["result"], by=person, now=timezone.localtime(),
            reading=entered["reading"],
        )  # fmt: skip
        return Done(f"{written(kind.name)}: {entered['result']}")

    def add(entered: Entered) -> Done:
        service.keep_safety_kind(entered["name"], entered["every_days"], entered["how"])
        return Done(f"{written(entered['name'])}: listed")

    def begin(_: Entered) -> Done:
        service.begin_safety()
        return Done("the usual checks are listed")

    def report(entered: Entered) -> Done:
        made = safety_service.report_incident(
            entered["kind"], entered["what"], by=person, now=timezone.localtime(),
            on=entered["on"], done=entered["done"],
            job=find.job_numbered(entered["job"]),
        )  # fmt: skip
        return Done(f"{made.kind}: written; close it with what was learnt")

    def close(entered: Entered) -> Done:
        safety_service.close_incident(
            safety_page.incident_of(entered["incident"]), by=person,
            now=timezone.localtime(), learnt=entered["learnt"],
        )  # fmt: skip
        return Done("closed")

    def pack(entered: Entered) -> Done:
        made = safety_service.log_pack(
            entered["pack"], entered["event"], by=person, now=timezone.localtime(),
            reading=entered["reading"], place=entered["place"],
            job=find.job_numbered(entered["job"]),
        )  # fmt: skip
        return Done(f"{written(made.pack)}: {made.event}")

    acts = {
        "report": Act(report, "Write it", safety_forms.IncidentMade, "look"),
        "close": Act(close, "Close it", safety_forms.IncidentClosed, "people"),
        "pack": Act(pack, "Write it", safety_forms.PackSeen, "look"),
        "check": Act(check, "Write it", forms.Check, "look"),
        "add": Act(add, "List it", forms.CheckKind, "people"),
        "begin": Act(begin, "List the usual checks", right="people"),
    }

    def context() -> Mapping[str, Any]:
        now = timezone.localtime()
        return {"due": today.safety_due(now), **safety_page.safety_page(now.date())}

    return page(request, "counter/safety.html", context, acts)

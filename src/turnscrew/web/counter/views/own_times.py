"""What the strokes at the benches tell of the time that work takes."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from turnscrew.papers.set_aside import written
from turnscrew.web.counter import forms, supply_forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.templatetags.house import stroke_words
from turnscrew.web.records.queries import own_times as queries
from turnscrew.web.records.services.descriptions import keep_times
from turnscrew.web.records.services.own_times import explain_time
from turnscrew.web.records.services.refusal import RefusedError


def times(request: HttpRequest) -> HttpResponse:
    """Show minutes of hands and own standards, and let a description use them."""
    person: Any = request.person  # type: ignore[attr-defined]
    record = queries.own_times_record(person, timezone.localdate())
    models = queries.models_timed(record)

    def use(entered: Entered) -> Done:
        fresh = queries.fresh_times(entered["model"])
        if not fresh:
            raise RefusedError("times: found none of five jobs, wanted at least one")
        kept = keep_times(entered["model"], fresh, by=person, now=timezone.localtime())
        to = reverse("counter:description", args=[kept.model])
        says = f"version {kept.number} reckons with {len(fresh)} own times"
        return Done(f"{kept.model}: {says}; {kept.state} as before", to)

    far = {str(one.one.tap.number): one for one in record.far}

    def explain(entered: Entered) -> Done:
        one = far[entered["stroke"]]
        explain_time(
            one.job,
            one.one.tap.number,
            entered["why"],
            by=person,
            now=timezone.localtime(),
        )
        return Done("kept with the time")

    acts = {}
    if far:
        told = [(number, _named(one)) for number, one in far.items()]
        acts["explain"] = Act(
            explain, "Keep it", supply_forms.TimeExplained, "people",
            options={"chosen": told},
        )  # fmt: skip
    if models:
        acts["use"] = Act(
            use,
            "Use these times",
            forms.TimesUsed,
            "people",
            options={"chosen": models},
        )
    return page(request, "counter/own_times.html", lambda: {"record": record}, acts)


def _named(one: queries.FarTime) -> str:
    tap = one.one.tap
    what = ", ".join(map(written, (tap.model, stroke_words(tap.action), one.name)))
    return (
        f"stroke {tap.number}, {what}: {one.one.seconds:.0f} s, "
        f"usual {one.one.usual_s:.0f} s"
    )

"""One body with its whole past."""

from collections.abc import Mapping
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone

from turnscrew.core.model.job_state import STATES, Standing
from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.records.queries import find
from turnscrew.web.records.queries.item_page import holders, item_record
from turnscrew.web.records.services import (
    custody,
    findings,
    handing_back,
    kitting,
)


def record(request: HttpRequest, ref: str) -> HttpResponse:
    """Show all that is known of a device, and change where it is."""
    item = find.item_named(ref)
    person = request.person  # type: ignore[attr-defined]
    known = item_record(item, timezone.now())
    job = known.current

    def move(entered: Entered) -> Done:
        to = Standing(
            entered["state"], entered["place"], entered["holder"], entered["until"],
            reason=entered["reason"],
        )  # fmt: skip
        custody.move(_here(job), to, by=person, now=timezone.now())
        return Done(f"{to.state}, {to.place}")

    def find_fault(entered: Entered) -> Done:
        findings.note_finding(
            _here(job), entered["stage"], by=person, now=timezone.now(),
            code=entered["code"].strip(), words=entered["said"],
            result=entered["result"],
        )  # fmt: skip
        return Done("written")

    def fit(_: Entered) -> Done:
        fitted = kitting.fit(_here(job), by=person, now=timezone.now())
        return Done(f"{len(fitted)} pieces written as fitted")

    def give_up(entered: Entered) -> Done:
        handing_back.return_unrepaired(
            _here(job), by=person, now=timezone.now(), reason=entered["reason"]
        )
        return Done("returned unrepaired")

    initial: dict[str, Any] = {"holder": person.ref}
    if job is not None:
        initial |= {"state": job.state, "place": job.place, "reason": job.reason}
    options = {"people": holders(), "states": known.next_states or STATES}
    acts = {}
    if job is not None:
        acts = {
            "move": Act(move, "Move it", forms.Move, "look", initial, options),
            "find": Act(find_fault, "Write the finding", forms.FindingMade, "look"),
            "fit": Act(fit, "Write its kit as fitted", right="bench"),
            "give_up": Act(give_up, "Return unrepaired", forms.Reason),
        }

    def context() -> Mapping[str, Any]:
        return {"record": known, "item": item}

    return page(request, "counter/item.html", context, acts)


def _here(job: Any) -> Any:
    if job is None:
        raise Http404
    return job

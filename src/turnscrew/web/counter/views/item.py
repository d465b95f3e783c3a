"""One body with its whole past."""

import re
from collections.abc import Mapping
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from turnscrew.core.model.amounts import counted
from turnscrew.core.model.job_state import BY_OWN_ACT, Standing
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.looks import look_at_device
from turnscrew.web.counter.recognition_forms import Saw, TakenFor
from turnscrew.web.counter.set_right_forms import DeviceSetRight
from turnscrew.web.counter.views.set_right import SET_RIGHT
from turnscrew.web.records.queries import find
from turnscrew.web.records.queries.item_page import (
    ItemRecord,
    finding_of,
    holders,
    item_record,
    journal_page,
)
from turnscrew.web.records.queries.recognition import (
    Recognised,
    recognition_of_job,
)
from turnscrew.web.records.queries.rights import allow, may
from turnscrew.web.records.queries.viewings import viewings_of_device
from turnscrew.web.records.services import (
    bench_moves,
    booking,
    custody,
    device_right,
    findings,
    handing_back,
    kitting,
    trials,
)
from turnscrew.web.records.services.recognition import note_sightings, take_for


def record(request: HttpRequest, ref: str) -> HttpResponse:
    """Show all that is known of a device, and change where it is."""
    item = find.item_named(ref)
    known = item_record(item, timezone.localtime())
    person = request.person  # type: ignore[attr-defined]
    look_at_device(request, item)
    context = _context(known, person)
    acts = {}
    if known.current is not None:
        told = recognition_of_job(known.current)
        context |= {
            "recognition": told.ranked,
            "seen": told.seen,
            "written": told.written,
        }
        acts = {**_acts(known, person), **_telling(known.current, person, told)}
    return page(request, "counter/item.html", lambda: context, acts)


@require_safe
def journal(request: HttpRequest, ref: str) -> HttpResponse:
    """Show all that happened to a device, a part or an invoice."""
    asked = request.GET.get("page", "1")
    told = journal_page(ref, int(asked) if re.fullmatch(r"[0-9]{1,6}", asked) else 0)
    if told.is_of_money:
        allow(request.person, "money")  # type: ignore[attr-defined]
    if told.item is not None:
        look_at_device(request, told.item)
    return page(request, "counter/entries.html", lambda: {"told": told})


def _context(known: ItemRecord, person: Any) -> dict[str, Any]:
    """Give the record, and to a lead who looked at it."""
    context: dict[str, Any] = {"record": known, "item": known.item}
    if may(person, "people"):
        context["viewed"], context["n_viewed"] = viewings_of_device(known.item)
    return context


def _acts(known: ItemRecord, person: Any) -> Mapping[str, Act]:
    job: Any = known.current
    first = {
        "holder": person.ref, "state": job.state, "place": job.place,
        "reason": job.reason,
    }  # fmt: skip
    by_own_act = BY_OWN_ACT
    if job.state == "isolated" and "disposed" in known.next_states:
        # A donor that was isolated goes back to what it was, without a new consent.
        by_own_act = by_own_act - {"donor"}
    states = [state for state in known.next_states if state not in by_own_act]
    options = {"people": holders(), "states": states}
    data = {
        "data_class": job.data_class, "allowed": job.data_allowed,
        "said_by": job.data_allowed_by, "until": job.data_allowed_until,
        "decision": job.data_decision,
    }  # fmt: skip

    def act(do: Any, button: str, form: Any = None, right: str = "look") -> Act:
        doing = partial(do, job, person)
        return (
            Act(doing, button, form, right) if form else Act(doing, button, right=right)
        )

    acts = {
        "move": Act(
            partial(_move, job, person), "Move it", forms.Move, "look", first, options
        ),
        "find": act(_find_fault, "Write the finding", forms.FindingMade),
        "isolate": act(_isolate, "Isolate it now", forms.Isolate),
        "decide": Act(
            partial(_decide_data, job, person), "Write the decision",
            forms.DataDecided, "look", data, is_whole=True,
        ),
        "withdraw": act(_withdraw, "Withdraw it", forms.Withdrawn),
        "data_part": act(_list_data_part, "List it", forms.DataPartListed),
        "bring": act(_bring, "Add it", forms.AccessoryBrought),
        "correct": act(_correct, "Set it right", DeviceSetRight, "counter"),
        "fit": act(_fit, "Write its kit as fitted", right="bench"),
        "give_up": act(
            _give_up, "Return unrepaired", forms.GivenBackAsItCame, "counter"
        ),
    }  # fmt: skip
    if known.again is not None and known.again.is_open:
        acts["again"] = act(_look_into, "Looked into it", forms.Reason, "people")
    if known.is_rushed:
        acts["rushed"] = act(_see_rushed, "Looked into it", forms.Reason, "people")
    return acts


def _telling(job: Any, person: Any, told: Recognised) -> Mapping[str, Act]:
    """Let looks from outside be written, and the revision that they tell."""
    acts = {}
    if told.ranked is not None:
        acts["saw"] = Act(partial(_saw, job, person), "Write it", Saw, "look")
    revisions = [(one, one) for one in told.revisions]
    if revisions:
        acts["take"] = Act(
            partial(_take_for, job, person), "Take it", TakenFor, "look",
            {"revision": job.revision}, {"chosen": revisions},
        )  # fmt: skip
    return acts


def _move(job: Any, person: Any, entered: Entered) -> Done:
    to = Standing(
        entered["state"], entered["place"], entered["holder"], entered["until"],
        reason=entered["reason"],
    )  # fmt: skip
    custody.move(job, to, by=person, now=timezone.localtime())
    return Done(f"{to.state}, {written(to.place)}")


def _saw(job: Any, person: Any, entered: Entered) -> Done:
    seen = {entered["look"]: entered["shows"]}
    note_sightings(job, seen, by=person, now=timezone.localtime())
    return Done("written")


def _take_for(job: Any, person: Any, entered: Entered) -> Done:
    is_open = entered["is_open"]
    take_for(
        job, entered["revision"], by=person, now=timezone.localtime(), is_open=is_open
    )  # fmt: skip
    seen = ", seen open" if is_open else ""
    return Done(f"taken for {written(f'{job.model} {job.revision}')}{seen}")


def _see_rushed(job: Any, person: Any, entered: Entered) -> Done:
    bench_moves.see_rushed(job, entered["reason"], by=person, now=timezone.localtime())
    return Done("written")


def _find_fault(job: Any, person: Any, entered: Entered) -> Done:
    findings.note_finding(
        job, entered["stage"], by=person, now=timezone.localtime(),
        code=entered["code"].strip(), words=entered["said"], result=entered["result"],
        wrong={name: entered[name] for name in ("part", "mode", "cause", "agrees")},
    )  # fmt: skip
    return Done("written")


def _look_into(job: Any, person: Any, entered: Entered) -> Done:
    trials.look_into_again(job, entered["reason"], by=person, now=timezone.localtime())
    return Done("written")


def _isolate(job: Any, person: Any, entered: Entered) -> Done:
    custody.isolate(job, by=person, now=timezone.localtime(), reason=entered["reason"])
    return Done("isolated: print the label, put it on, do not power it")


def _decide_data(job: Any, person: Any, entered: Entered) -> Done:
    terms = custody.DataTerms(
        entered["allowed"], entered["said_by"], entered["until"], entered["decision"]
    )
    custody.decide_data(
        job, entered["data_class"], terms, by=person, now=timezone.localtime()
    )
    return Done("written")


def _list_data_part(job: Any, person: Any, entered: Entered) -> Done:
    part = kitting.keep_data_part(
        job, by=person, now=timezone.localtime(), what=entered["what"],
        serial=entered["serial"], is_readable=not entered["is_dead"],
    )  # fmt: skip
    return Done(f"{written(part.what)}: listed, it needs an end")


def _bring(job: Any, person: Any, entered: Entered) -> Done:
    booking.bring_accessory(
        job.batch, job, entered["kind"].strip(), entered["n"],
        by=person, now=timezone.localtime(),
    )  # fmt: skip
    return Done(f"{entered['n']} {written(entered['kind'])} added")


def _correct(job: Any, person: Any, entered: Entered) -> Done:
    right = device_right.RightDevice(
        entered["serial"], entered["asset"], entered["model"], entered["site"],
        entered["due_day"],
    )  # fmt: skip
    device_right.correct_device(
        job, right, by=person, now=timezone.localtime(), words=entered["why"]
    )
    return Done(SET_RIGHT, reverse("counter:item", args=[job.item.ref]))


def _withdraw(job: Any, person: Any, entered: Entered) -> Done:
    finding = finding_of(job, entered["finding"])
    findings.withdraw_finding(
        finding, by=person, now=timezone.localtime(), words=entered["why"]
    )
    return Done("withdrawn; it stays readable")


def _fit(job: Any, person: Any, _: Entered) -> Done:
    fitted = kitting.fit(job, by=person, now=timezone.localtime())
    return Done(f"{counted(len(fitted), 'piece')} written as fitted")


def _give_up(job: Any, person: Any, entered: Entered) -> Done:
    handing_back.return_unrepaired(
        job, by=person, now=timezone.localtime(), reason=entered["reason"],
        taken_by=entered["taken_by"],
    )  # fmt: skip
    return Done("returned unrepaired")

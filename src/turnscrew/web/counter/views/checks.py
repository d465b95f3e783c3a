"""Beside the fault of a device: arrival, adapter, lock, trial, cleaning and charge."""

import secrets
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from turnscrew.core.electrics.cautions import MAINS_WORDS
from turnscrew.core.photo.faces import MISSING
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import checks_forms as forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.templatetags.house import known as in_words
from turnscrew.web.records.queries import find
from turnscrew.web.records.queries.adapters import NO_STANDARD
from turnscrew.web.records.queries.checks_page import Checks, checks_of, job_here
from turnscrew.web.records.queries.item_page import dangers_of
from turnscrew.web.records.queries.locks import PLAN
from turnscrew.web.records.services import (
    adapters,
    arrival,
    finishing,
    locks,
    photos,
    trials,
)
from turnscrew.web.records.services.refusal import RefusedError


def checks(request: HttpRequest, ref: str) -> HttpResponse:
    """Show what is written of a device beside its fault, and write more."""
    job = job_here(find.item_named(ref))
    known = checks_of(job, timezone.localtime())
    person = request.person  # type: ignore[attr-defined]

    def context() -> Mapping[str, Any]:
        holds, cautions = dangers_of(job)
        return {
            "holds": holds, "cautions": cautions,
            "checks": known, "job": job, "item": job.item, "plan": PLAN,
            "no_standard": NO_STANDARD, "mains": MAINS_WORDS,
            "customer": job.batch.customer,
        }  # fmt: skip

    return page(request, "counter/checks.html", context, _acts(known, person))


def _acts(known: Checks, person: Any) -> dict[str, Act]:
    def act(do: Callable[..., Done], button: str, form: Any, **more: Any) -> Act:
        return Act(partial(do, known, person), button, form, "look", **more)

    missing = {kind: n or 0 for kind, n in known.missing}
    return {
        "condition": act(
            _condition, "Write the condition", forms.ConditionSeen,
            initial={
                "gap_mm": known.job.gap_mm, "gap_seen": arrival.gap_words(known.job),
                **missing,
            },
        ),
        "damage": act(
            _damage, "Mark it", forms.DamageMarked, options=_faces_of(known)
        ),
        "face": act(
            _face, "Keep the photo", forms.FacePhotographed,
            initial={"key": secrets.token_hex(16)}, options=_faces_of(known),
        ),
        "clean": act(_clean, "Write the cleaning", forms.Cleaned),
        "charge": act(_charge, "Write the charge", forms.ChargedTo),
        **_lock_acts(known, act),
        **_trial_acts(known, act),
        **_adapter_acts(known, act),
    }  # fmt: skip


def _lock_acts(known: Checks, act: Callable[..., Act]) -> dict[str, Act]:
    acts = {
        "lock": act(
            _lock,
            "Write it",
            forms.LockNoted,
            initial={"lock": known.job.lock},
            is_whole=True,
        )
    }
    if known.open_request:
        acts["answer"] = act(_answer, "Write the answer", forms.AdministratorAnswered)
    elif known.is_barred:
        acts["ask"] = act(_ask, "Write the request", forms.AdministratorAsked)
    return acts


def _trial_acts(known: Checks, act: Callable[..., Act]) -> dict[str, Act]:
    if known.open_trial:
        return {"end_trial": act(_end_trial, "End the trial", forms.TrialEnded)}
    return {"plan_trial": act(_plan_trial, "Plan the trial", forms.TrialPlanned)}


def _adapter_acts(known: Checks, act: Callable[..., Act]) -> dict[str, Act]:
    acts = {}
    whole = [one for one in known.adapters if not one.is_cut]
    for name, do, button, form, stands in (
        ("adapter", _adapter, "Write the check", forms.AdapterChecked, whole),
        ("cut", _cut, "Write it as cut", forms.AdapterCut, known.bad_adapters),
    ):
        if stands:
            chosen = {"chosen": [(_key(one), _named(one)) for one in stands]}
            acts[name] = act(do, button, form, options=chosen)
    return acts


def _key(one: Any) -> str:
    return f"{one.accessory.pk}-{one.piece}"


def _named(one: Any) -> str:
    kind = written(in_words(one.accessory.kind))
    return f"{kind}, piece {one.piece} of {one.accessory.n_in}"


def _faces_of(known: Checks) -> dict[str, Any]:
    return {"chosen": [(one.face.name, one.face.name) for one in known.faces]}


def _adapter_of(known: Checks, key: str) -> Any:
    return next(one for one in known.adapters if _key(one) == key)


def _thousandths(value: Decimal | None) -> int | None:
    return None if value is None else int(value * 1000)


def _condition(known: Checks, person: Any, entered: Entered) -> Done:
    missing = {kind: entered[kind] for kind in MISSING}
    arrival.note_condition(
        known.job, entered["gap_mm"], missing, by=person, now=timezone.localtime(),
        gap_seen=entered["gap_seen"],
    )  # fmt: skip
    return Done("written")


def _damage(known: Checks, person: Any, entered: Entered) -> Done:
    told = arrival.Damage(
        entered["face"], entered["kind"], entered["x_percent"], entered["y_percent"],
        entered["about"],
    )  # fmt: skip
    arrival.mark_damage(known.job, told, by=person, now=timezone.localtime())
    return Done("marked")


def _face(known: Checks, person: Any, entered: Entered) -> Done:
    sent, most = entered["photo"], photos.limit_bytes()
    if sent.size > most:
        raise RefusedError(f"photo: found {sent.size} bytes, wanted {most} or fewer")
    kept = photos.add_photo(
        known.job, sent.read(most + 1), by=person, now=timezone.localtime(),
        client_key=entered["key"], caption=f"on arrival, {entered['face']}",
        face=entered["face"],
    )  # fmt: skip
    return Done(f"{entered['face']}: {kept.verdict}")


def _lock(known: Checks, person: Any, entered: Entered) -> Done:
    locks.note_lock(known.job, entered["lock"], by=person, now=timezone.localtime())
    return Done("written")


def _ask(known: Checks, person: Any, entered: Entered) -> Done:
    locks.ask_administrator(
        known.job, entered["asked_of"], entered["due_on"], by=person,
        now=timezone.localtime(), words=entered["request"],
    )  # fmt: skip
    return Done("written; it stands on the page of the morning when its day nears")


def _answer(known: Checks, person: Any, entered: Entered) -> Done:
    locks.answer_request(
        known.job, is_open=entered["is_open"] == "yes", by=person,
        now=timezone.localtime(), words=entered["answer"],
    )  # fmt: skip
    return Done("written")


def _plan_trial(known: Checks, person: Any, entered: Entered) -> Done:
    plan = trials.TrialPlan(
        int(entered["hours"] * 60), entered["load"], entered["position"],
        entered["temperature_c"], int((entered["ago"] or 0) * 60),
    )  # fmt: skip
    trials.plan_trial(known.job, plan, by=person, now=timezone.localtime())
    return Done("planned")


def _end_trial(known: Checks, person: Any, entered: Entered) -> Done:
    end = trials.TrialEnd(
        int(entered["hours"] * 60), entered["tried"], entered["result"], entered["told"]
    )
    trials.end_trial(known.job, end, by=person, now=timezone.localtime())
    return Done("written")


def _clean(known: Checks, person: Any, entered: Entered) -> Done:
    finishing.note_cleaning(
        known.job, entered["surface"], entered["agent"], by=person,
        now=timezone.localtime(), marks_left=entered["marks_left"],
        are_trims_right=entered["trims"] == "yes",
    )  # fmt: skip
    return Done("written")


def _charge(known: Checks, person: Any, entered: Entered) -> Done:
    told = finishing.Charged(**entered)
    row = finishing.note_charge(known.job, told, by=person, now=timezone.localtime())
    more = "; written as a finding" if row.will_not_reach else ""
    return Done(f"{row.charge_percent} %{more}")


def _adapter(known: Checks, person: Any, entered: Entered) -> Done:
    stand = _adapter_of(known, entered["adapter"])
    found = adapters.AdapterFound(
        piece=stand.piece,
        belongs=entered["belongs"],
        owner=entered["owner"],
        is_label_read=entered["label"] == "read",
        is_cable_whole=entered["cable"] == "whole",
        next_on=entered["next_on"],
        rated_mv=_thousandths(entered["rated_v"]),
        rated_ma=_thousandths(entered["rated_a"]),
        rated_mw=_thousandths(entered["rated_w"]),
        device_mv=_thousandths(entered["device_v"]),
        device_ma=_thousandths(entered["device_a"]),
        output_mv=_thousandths(entered["output_v"]),
        load_ma=_thousandths(entered["load_a"]),
        low_mv=_thousandths(entered["low_v"]),
        high_mv=_thousandths(entered["high_v"]),
    )
    adapters.check_adapter(stand.accessory, found, by=person, now=timezone.localtime())
    return Done("written")


def _cut(known: Checks, person: Any, entered: Entered) -> Done:
    stand = _adapter_of(known, entered["adapter"])
    adapters.cut_adapter(
        stand.accessory, stand.piece, by=person, now=timezone.localtime(),
        mass_g=entered["mass_g"],
    )  # fmt: skip
    return Done("written as cut; it lies with the waste")

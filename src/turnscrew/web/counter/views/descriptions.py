"""What is known of the models, who may work from it, and the cards for a bench."""

import re
from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from turnscrew.papers.bench.command_card import command_card
from turnscrew.papers.bench.emergency_card import emergency_card
from turnscrew.papers.bench.scale_card import scale_card
from turnscrew.papers.page import Page, Size
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import description_forms as forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.downloads import pdf
from turnscrew.web.records.queries import descriptions_page, find
from turnscrew.web.records.queries.descriptions_page import ModelRecord
from turnscrew.web.records.queries.papers import paper_of
from turnscrew.web.records.services import descriptions as service
from turnscrew.web.records.services.refusal import RefusedError

CARDS: Mapping[str, Callable[[Page, str], bytes]] = {
    "command-card": command_card,
    "length-scale": scale_card,
    "emergency-card": emergency_card,
}
"""Papers that lie at every bench, by name."""


def every_model(request: HttpRequest) -> HttpResponse:
    """Show what is known of each model, and take a description in."""
    person = request.person  # type: ignore[attr-defined]

    def bring(entered: Entered) -> Done:
        told = service.bring(
            entered["model"], entered["text"], by=person, now=timezone.localtime(),
            faults_text=entered["faults_text"],
        )  # fmt: skip
        return _brought(told)

    acts = {"bring": Act(bring, "Bring it in", forms.DescriptionBrought, "bench")}
    return page(
        request, "counter/descriptions.html",
        lambda: {"rows": descriptions_page.models_known()}, acts,
    )  # fmt: skip


def one_model(request: HttpRequest, model: str) -> HttpResponse:
    """Show the versions of one model, what is lacking, and who may work from it."""
    known = descriptions_page.model_record(model)
    person = request.person  # type: ignore[attr-defined]
    return page(
        request, "counter/description.html", lambda: {"known": known},
        _acts(known, person),
    )  # fmt: skip


def _acts(known: ModelRecord, person: Any) -> Mapping[str, Act]:
    filled = {
        "text": known.shown.text, "faults_text": known.shown.faults_text,
        "written_from": known.shown.number,
    }  # fmt: skip
    acts = {
        "edit": Act(
            partial(_edit, known, person), "Bring this text in", forms.TextEdited,
            "bench", filled,
        ),
    }  # fmt: skip
    if not known.standing:
        return acts
    acts["correct"] = Act(
        partial(_correct, known, person), "Correct it", forms.FactCorrected, "bench"
    )
    if plain := descriptions_page.parts_without_number(known.shown):
        acts["number"] = Act(
            partial(_number, known, person), "Say its number", forms.PartNumbered,
            "bench", options={"chosen": [(name, name) for name in plain]},
        )  # fmt: skip
    acts["let_try"] = Act(
        partial(_let_try, known, person), "Let them try it", forms.MayTry, "people",
        options={"chosen": descriptions_page.tryers(known.shown.by)},
    )  # fmt: skip
    acts["withdraw"] = Act(
        partial(_withdraw, known, person), "Withdraw it", forms.VersionWithdrawn,
        "people", options={"chosen": _versions(known)},
    )  # fmt: skip
    if known.is_tried:
        acts["release"] = Act(
            partial(_release, known, person), "Release it", right="people"
        )
    return acts


def _versions(known: ModelRecord) -> list[tuple[str, str]]:
    return [
        (one.ref, f"version {one.number}, {one.state}, {written(one.by.name)}")
        for one in known.standing
    ]


def _edit(known: ModelRecord, person: Any, entered: Entered) -> Done:
    told = service.bring(
        known.model, entered["text"], by=person, now=timezone.localtime(),
        faults_text=entered["faults_text"], written_from=entered["written_from"],
    )  # fmt: skip
    return _brought(told)


def _correct(known: ModelRecord, person: Any, entered: Entered) -> Done:
    told = service.correct_fact(
        known.model,
        entered["where"],
        entered["value"],
        by=person,
        now=timezone.localtime(),
    )
    return _brought(told)


def _number(known: ModelRecord, person: Any, entered: Entered) -> Done:
    part = find.part_told(entered["number"])
    told = service.correct_fact(
        known.model,
        f"parts.{entered['part']}.spare",
        part.number,
        by=person,
        now=timezone.localtime(),
    )
    return _brought(told)


def _brought(told: service.Brought) -> Done:
    kept = told.description
    to = reverse("counter:description", args=[kept.model])
    if not told.is_new:
        return Done(
            f"{kept.model}: nothing new in it, version {kept.number} stands", to
        )
    says = f"{kept.model}: version {kept.number}, {kept.state}"
    if told.changed:
        says += f"; changed: {', '.join(told.changed)}"
    return Done(says, to)


def _let_try(known: ModelRecord, person: Any, entered: Entered) -> Done:
    who = find.person_named(entered["who"])
    service.let_try(known.shown, who, by=person)
    return Done(f"{who.name} may try version {known.shown.number}")


def _release(known: ModelRecord, person: Any, _: Entered) -> Done:
    service.release(known.shown, by=person)
    return Done(f"version {known.shown.number} released")


def _withdraw(known: ModelRecord, person: Any, entered: Entered) -> Done:
    gone = {one.ref: one for one in known.standing}.get(entered["version"])
    if gone is None:
        raise RefusedError("version: found one withdrawn, wanted one that is not")
    service.withdraw(gone, by=person)
    left = descriptions_page.model_record(known.model).standing
    says = f"version {gone.number} withdrawn; "
    if not left:
        return Done(says + "nobody works from a description of this model any more")
    return Done(says + f"worked from now: version {left[0].number}, {left[0].state}")


@require_safe
def text(request: HttpRequest, ref: str) -> HttpResponse:
    """Give the text of one version, to be kept as a file."""
    version = descriptions_page.version_named(ref)
    stem = re.sub(r"[^A-Za-z0-9._-]+", "-", f"{version.model}-{version.number}")
    return HttpResponse(
        version.text,
        content_type="text/plain; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{stem}.device.yaml"'},
    )


@require_safe
def card(request: HttpRequest, name: str, size: Size) -> HttpResponse:
    """Give a paper that lies at every bench."""
    language: str = request.person.language  # type: ignore[attr-defined]
    return pdf(CARDS[name](paper_of(size), language), f"{name}-{size}.pdf")

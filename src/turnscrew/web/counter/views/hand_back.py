"""Giving devices back, tranche by tranche, against a signature."""

import re
from collections.abc import Mapping
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone

from turnscrew.core.model.amounts import counted
from turnscrew.core.model.job_state import ENDED
from turnscrew.errors import TurnscrewError
from turnscrew.papers.page import Size
from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.downloads import pdf
from turnscrew.web.records.queries import batch_page, find
from turnscrew.web.records.queries.papers import hand_back_bytes, paper_of
from turnscrew.web.records.services import handing_back
from turnscrew.web.records.services.refusal import RefusedError

_COUNTED = re.compile(r"(\d{1,6}) +(.+)", re.ASCII)


def hand_back(request: HttpRequest, ref: str) -> HttpResponse:
    """Hand packed devices back with all that came with them."""
    batch = find.batch_with_terms(ref)
    person = request.person  # type: ignore[attr-defined]

    def give(entered: Entered) -> Done:
        accessories = batch_page.accessories_of(batch)
        tranche = handing_back.hand_back(
            batch,
            entered["lines"],
            taken_by=entered["taken_by"],
            by=person,
            now=timezone.localtime(),
            strokes=entered["strokes"],
            explained=_explained(entered["explained"], accessories),
            note=entered["note"],
            with_strays=entered["strays"],
        )
        n = tranche.jobs.count()
        return Done(
            f"{counted(n, 'device')} handed back" if n else "the rest went back"
        )

    acts = {"give": Act(give, "Hand back", forms.HandBack, options={"batch": batch})}

    def context() -> Mapping[str, Any]:
        jobs = batch_page.to_hand_back(batch)
        stand = batch_page.batch_stand(batch, timezone.localtime())
        return {
            "batch": batch,
            "jobs": jobs,
            "strays": handing_back.strays_here(batch),
            "unwanted": batch_page.refused_among(stand.jobs),
            "tranches": batch_page.tranches_of(batch),
            "remaining": [
                job
                for job in stand.jobs
                if job.state not in ENDED and job.state != "packed"
            ],
            "n_all": stand.n_jobs,
            "n_gone": stand.n_ended,
        }

    return page(request, "counter/hand_back.html", context, acts)


def note(request: HttpRequest, ref: str, tranche: str) -> HttpResponse:
    """Give the note that goes with a tranche."""
    one = batch_page.tranche_of(find.batch_with_terms(ref), tranche)
    size: Size = "letter" if request.GET.get("paper") == "letter" else "a4"
    sheet = paper_of(size, request.person.language)  # type: ignore[attr-defined]
    try:
        content = hand_back_bytes(one, sheet)
    except TurnscrewError:
        # Of a signature from before the batch was booked nothing is known.
        raise Http404 from None
    return pdf(content, f"hand-back-{one.ref}.pdf")


def _explained(text: str, accessories: list[Any]) -> dict[int, handing_back.Stay]:
    """
    Read ``DEVICE KIND = why`` or ``DEVICE 1 KIND = why`` for what stays behind.

    One reason is kept for all pieces of a kind, so a second one is refused.
    """
    known = {
        (str(one.job.line), one.kind.casefold()): one.pk
        for one in accessories
        if one.job is not None
    }
    found: dict[int, handing_back.Stay] = {}
    for piece in filter(None, (p.strip() for p in text.split(";"))):
        name, _, why = piece.partition("=")
        line, _, kind = name.strip().partition(" ")
        kind, n = kind.strip().casefold(), None
        pk = known.get((line, kind))
        counted_kind = _COUNTED.fullmatch(kind)
        if pk is None and counted_kind:
            n = int(counted_kind[1])
            pk = known.get((line, counted_kind[2]))
        if pk is None or not why.strip():
            raise RefusedError(
                f"accessory: found {piece}, wanted DEVICE KIND = why, of this batch"
            )
        if pk in found:
            raise RefusedError(
                f"accessory: found two reasons for {name.strip()}, wanted one"
            )
        found[pk] = handing_back.Stay(why.strip(), n)
    return found

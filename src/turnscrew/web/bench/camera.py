"""A phone as the camera of a bench: joined by a code, without an account."""

import secrets

import segno
from django.core import signing
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.web.bench.telling import for_bench
from turnscrew.web.records.queries.bench_page import bench_named
from turnscrew.web.records.queries.rights import allow
from turnscrew.web.records.services import photos
from turnscrew.web.records.services.refusal import RefusedError

JOINED_S = 12 * 3600
"""How long a phone stays joined: a working day. [s]"""

_BOOK = Phrasebook(GERMAN)

_SIGNER = signing.TimestampSigner(salt="camera")


@require_safe
@for_bench
def join(request: HttpRequest) -> JsonResponse:
    """Give the code by which a phone becomes the camera of a bench."""
    name = request.GET.get("bench", "")[:40].replace("\0", "") or "bench"
    person = request.person  # type: ignore[attr-defined]
    token = _SIGNER.sign_object({"bench": name, "by": person.ref})
    address = request.build_absolute_uri(reverse("bench:camera", args=[token]))
    code = segno.make(address, error="m")
    svg = code.svg_inline(scale=4, border=4, omitsize=True)
    return JsonResponse({"address": address, "svg": svg})


@never_cache
def page(request: HttpRequest, token: str) -> HttpResponse:
    """Take a photo of what the bench has in hand."""
    try:
        joined = _SIGNER.unsign_object(token, max_age=JOINED_S)
    except signing.BadSignature as error:
        raise Http404 from error
    bench, by = bench_named(joined["bench"], joined["by"])
    allow(by, "bench")
    told, is_wrong = "", False
    if request.method == "POST":
        try:
            told = _keep(request, bench, by)
        except RefusedError as error:
            told, is_wrong = str(error), True
    language = by.language if by is not None else "en"
    says = _BOOK.says if language == "de" else str
    job = getattr(bench, "in_hand", None)
    context = {
        "job": job, "layer": says(getattr(bench, "layer", "")), "language": language,
        "title": says(f"Device {job.line}" if job else "No device in hand"),
        "choose": says("Choose one at the bench, then come back here."),
        "label": says("Photo of this device; nothing stays on the phone"),
        "keep": says("Keep it"), "told": says(told), "is_wrong": is_wrong,
        "key": secrets.token_hex(16),
    }  # fmt: skip
    return render(
        request, "bench/camera.html", context, status=422 if is_wrong else 200
    )


def _keep(request: HttpRequest, bench: object, by: object) -> str:
    sent = request.FILES.get("photo")
    job = getattr(bench, "in_hand", None)
    if job is None:
        raise RefusedError("device: found none in hand at the bench, wanted one chosen")
    seen = request.POST.get("device", job.ref)
    if seen != job.ref:
        # The page may stand since before the bench went to another one.
        raise RefusedError(
            f"photo: found one taken on the page of another device, wanted device "
            f"{job.line}, in hand at the bench now: nothing kept; look, and take it "
            "again"
        )
    if sent is None:
        raise RefusedError("photo: found none, wanted one")
    kept = photos.add_photo(
        job,
        sent.read(photos.limit_bytes() + 1),
        by=by,  # type: ignore[arg-type]
        now=timezone.localtime(),
        client_key=request.POST.get("key", "")[:64].replace("\0", "") or None,
        caption=getattr(bench, "layer", ""),
    )
    return f"Kept for device {job.line}: {kept.verdict or 'sharp and light enough'}"

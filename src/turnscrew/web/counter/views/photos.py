"""Photos of a device: taking, drawing, hiding, clearing, removing."""

import secrets
from collections.abc import Callable, Mapping
from functools import partial
from http import HTTPStatus
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import cache_control, never_cache

from turnscrew.core.photo.drawing import Mark, Mask
from turnscrew.web.counter import photo_forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.looks import look_at_photos, look_by_link
from turnscrew.web.records.photo_files import drawing_of
from turnscrew.web.records.queries import find
from turnscrew.web.records.queries import photos as queries
from turnscrew.web.records.queries.contact_page import contact_link
from turnscrew.web.records.services import photos
from turnscrew.web.records.services.refusal import RefusedError


def job_photos(request: HttpRequest, ref: str) -> HttpResponse:
    """Show the photos of a device, and take another."""
    job = find.job_named(ref)
    person = request.person  # type: ignore[attr-defined]
    look_at_photos(request, [one.ref for one in queries.photos_of(job)])
    add = Act(
        partial(_add, job, person),
        "Keep the photo",
        photo_forms.AddPhoto,
        "look",
        # Sent twice from one page it is kept once.
        {"key": secrets.token_hex(16)},
    )
    return page(
        request,
        "photos/job.html",
        lambda: {"job": job, "photos": queries.photos_of(job)},
        {"add": add},
    )


def photo(request: HttpRequest, ref: str) -> HttpResponse:
    """Show one photo, and change what is seen of it."""
    gone = queries.removed_photo(ref) if request.method == "POST" else None
    if gone is not None:
        # What was entered for it is told beside the photos that are left.
        answer = job_photos(request, gone.job.ref)
        is_shown = answer.status_code != HTTPStatus.FOUND
        return answer if is_shown else redirect("counter:job_photos", gone.job.ref)
    shown = queries.photo_named(ref)
    person = request.person  # type: ignore[attr-defined]
    look_at_photos(request, [shown.ref])

    def act(do: Callable[..., Done], button: str, form: Any) -> Act:
        drawing = {"looked_at": drawing_of(shown)}
        return Act(partial(do, shown, person), button, form, "look", drawing)

    acts = {
        "mark": act(_mark, "Add the mark", photo_forms.AddMark),
        "mask": act(_mask, "Add the mask", photo_forms.AddMask),
        "clear": act(_clear, "Clear it for the customer", photo_forms.Clear),
        "unmark": act(
            partial(_take_away, "marks"), "Take the mark away", photo_forms.Numbered
        ),
        "unmask": act(
            partial(_take_away, "masks"), "Take the mask away", photo_forms.Numbered
        ),
        "remove": act(_remove, "Remove the photo", photo_forms.Remove),
    }

    def context() -> Mapping[str, Any]:
        return {"photo": shown, "lost": queries.lost_words(shown)}

    return page(request, "photos/photo.html", context, acts)


@cache_control(private=True, no_cache=True)
def picture(request: HttpRequest, ref: str, copy: str) -> HttpResponse:
    """Give a copy of a photo to those who work here."""
    shown = queries.photo_named(ref)
    look_at_photos(request, [shown.ref])
    return _picture(shown, copy)


@never_cache
def preview(request: HttpRequest, ref: str) -> HttpResponse:
    """Show to those who work here what a customer would see, before it is cleared."""
    shown = queries.photo_named(ref)
    look_at_photos(request, [shown.ref])
    return HttpResponse(queries.preview(shown), content_type="image/webp")


@never_cache
def cleared(request: HttpRequest, address: str, ref: str) -> HttpResponse:
    """Give a customer's contact a photo that was cleared for them."""
    link = contact_link(address, timezone.localtime())
    shown = queries.cleared_photo(link.batch, ref)
    look_by_link(link, [shown.ref])
    return _picture(shown, "cleared")


def _picture(shown: Any, copy: str) -> HttpResponse:
    content, content_type = queries.picture(shown, copy)
    response = HttpResponse(content, content_type=content_type)
    # The original is what somebody sent: it is never shown as a page of ours.
    way = "attachment" if copy == "original" else "inline"
    suffix = content_type.removeprefix("image/")
    response["Content-Disposition"] = f'{way}; filename="{copy}.{suffix}"'
    response["X-Content-Type-Options"] = "nosniff"
    return response


def _add(job: Any, person: Any, entered: Entered) -> Done:
    sent = entered["photo"]
    limit_bytes = photos.limit_bytes()
    if sent.size > limit_bytes:
        raise RefusedError(
            f"photo: found {sent.size} bytes, wanted {limit_bytes} or fewer"
        )
    kept = photos.add_photo(
        job,
        sent.read(limit_bytes + 1),
        by=person,
        now=timezone.localtime(),
        client_key=entered["key"],
        caption=entered["caption"],
    )
    return Done(f"Kept: {kept.verdict}", reverse("counter:photo", args=[kept.ref]))


def _mark(shown: Any, person: Any, entered: Entered) -> Done:
    mark = Mark(
        kind=entered["kind"],
        x=entered["x"],
        y=entered["y"],
        to_x=entered["to_x"] or 0.0,
        to_y=entered["to_y"] or 0.0,
        says=entered["says"],
    )
    photos.draw(shown, [mark], by=person, now=timezone.localtime())
    return Done("Marked")


def _mask(shown: Any, person: Any, entered: Entered) -> Done:
    photos.hide(shown, [Mask(**entered)], by=person, now=timezone.localtime())
    return Done("Masked")


def _take_away(what: photos.Drawn, shown: Any, person: Any, entered: Entered) -> Done:
    photos.take_away(shown, what, **entered, by=person, now=timezone.localtime())
    return Done("Taken away")


def _clear(shown: Any, person: Any, entered: Entered) -> Done:
    photos.clear(
        shown,
        looked_at=entered["looked_at"],
        by=person,
        now=timezone.localtime(),
        is_nothing_private=entered["seen"] == "nothing",
    )
    return Done("Cleared: the customer may see it")


def _remove(shown: Any, person: Any, entered: Entered) -> Done:
    photos.remove(shown, by=person, now=timezone.localtime(), words=entered["why"])
    return Done("Removed", reverse("counter:job_photos", args=[shown.job.ref]))

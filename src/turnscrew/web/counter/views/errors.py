from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import reverse

from turnscrew.web.counter.gate import entered_in

_SIGNED_IN_ANEW = "Signed in anew meanwhile: press again; nothing told here is lost"


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Say that nothing is here, to a stranger as to a member."""
    return render(request, "counter/not_found.html", status=404)


def form_too_old(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Say that a form is older than the sign-in, and what was entered in it."""
    if request.content_type == "application/json":
        return JsonResponse({"reasons": [_SIGNED_IN_ANEW]}, status=403)
    # Whoever wanted to go out finds no page there.
    is_page = request.path != reverse("counter:sign_out")
    context = {"entered": entered_in(request), "is_page": is_page}
    return render(request, "counter/form_too_old.html", context, status=403)

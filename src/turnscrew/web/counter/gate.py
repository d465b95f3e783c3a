"""Who may come in, and who is it?"""

import re
from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone, translation

from turnscrew.web.records.queries.reckoning import LackingError
from turnscrew.web.records.queries.rights import MAY, may, person_of

_UNSEEN = {
    "act", "once", "was", "next", "again", "shown", "looked_at", "n_credits_shown",
}  # fmt: skip
_SECRET = re.compile("csrf|password|token")
"""Fields that are not shown again to whoever sits there now."""

_FORM_BYTES = 4_000_000
"""Room for the fields beside an upload."""

_MB = 1_000_000

Answer = Callable[[HttpRequest], HttpResponse]

_OPEN = (
    "/sign-in/", "/first/", "/answer/", "/api/", "/static/", "/bench/camera/",
)  # fmt: skip
"""Pages that ask for themselves who comes."""


def who(request: HttpRequest) -> dict[str, object]:
    """Tell every page who looks at it, what they may, and what day it is."""
    person = getattr(request, "person", None)
    return {
        "person": person,
        "may": {what: may(person, what) for what in MAY},
        "today": timezone.localdate(),
    }


def entered_in(request: HttpRequest) -> list[tuple[str, str]]:
    """List what a form brought, every value of it, to be entered once more."""
    return [
        (name, value)
        for name, values in request.POST.lists()
        for value in values
        if value and name not in _UNSEEN and not _SECRET.search(name)
    ]


class SizeGate:
    """Keeps out what is too large, before anything of it is read."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponse:
        n = _n_bytes(request)
        if n > settings.UPLOAD_LIMIT_BYTES + _FORM_BYTES:
            most = settings.UPLOAD_LIMIT_BYTES // _MB
            context = {"n": -(-n // _MB), "most": most}
            return render(request, "counter/too_large.html", context, status=413)
        return self.answer(request)


class StaffGate:
    """Lets members in; to anybody else nothing is there but the sign-in page."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if request.path.startswith(_OPEN):
            return self.answer(request)
        person = person_of(request.user)
        if person is None or not _is_second_factor_given(request):
            if request.path == "/":
                return redirect("counter:sign_in")
            context = {"entered": entered_in(request)}
            return render(request, "counter/not_found.html", context, status=404)
        request.person = person  # type: ignore[attr-defined]
        # Somebody known is spoken to as they chose, not as their browser says.
        translation.activate(person.language)
        return self.answer(request)


class LackGate:
    """Says what lacks where a page cannot be reckoned without it."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.answer(request)

    def process_exception(
        self, request: HttpRequest, error: Exception
    ) -> HttpResponse | None:
        """Give a page in place of one that records lost in a restore would break."""
        if not isinstance(error, LackingError):
            return None
        return render(request, "counter/lacking.html", {"lacks": error}, status=409)


def _n_bytes(request: HttpRequest) -> int:
    """Give the size a request says it has; without one nothing is read of it."""
    told = request.headers.get("Content-Length", "")
    return int(told) if told.isdecimal() else 0


def _is_second_factor_given(request: HttpRequest) -> bool:
    """Say whether whoever set a second factor up has also shown it."""
    if not request.session.get("second_factor"):
        return True
    return bool(request.user.is_verified())  # type: ignore[union-attr]

"""Who may come in, and who is it?"""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from turnscrew.web.records.queries.rights import MAY, may, person_of

Answer = Callable[[HttpRequest], HttpResponse]

_OPEN = ("/sign-in/", "/first/", "/answer/", "/api/", "/static/")
"""Pages that ask for themselves who comes."""


def who(request: HttpRequest) -> dict[str, object]:
    """Tell every page who looks at it, what they may, and what day it is."""
    person = getattr(request, "person", None)
    return {
        "person": person,
        "may": {what: may(person, what) for what in MAY},
        "today": timezone.localdate(),
    }


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
            return render(request, "counter/not_found.html", status=404)
        request.person = person  # type: ignore[attr-defined]
        return self.answer(request)


def _is_second_factor_given(request: HttpRequest) -> bool:
    """Say whether whoever set a second factor up has also shown it."""
    if not request.session.get("second_factor"):
        return True
    return bool(request.user.is_verified())  # type: ignore[union-attr]

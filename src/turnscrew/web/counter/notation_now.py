"""How do figures read on the page that is being made?"""

from collections.abc import Callable
from contextvars import ContextVar
from functools import cache

from django.http import HttpRequest, HttpResponse
from django.utils import translation

from turnscrew.core.model.notation import Notation
from turnscrew.web.records.queries import notation as queries

_now: ContextVar[Callable[[], Notation] | None] = ContextVar("notation", default=None)
"""As the framework keeps the language: for one request, asked for when first needed."""


class NotationGate:
    """Lets every page be made as the workshop reads figures."""

    def __init__(self, answer: Callable[[HttpRequest], HttpResponse]) -> None:
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponse:
        before = _now.set(cache(queries.notation))
        try:
            return self.answer(request)
        finally:
            _now.reset(before)


def notation() -> Notation:
    """Give how figures read here; what is usual outside of a page."""
    asked = _now.get()
    return asked() if asked is not None else Notation()


def has_comma() -> bool:
    """Tell whether the language that is spoken has a decimal comma."""
    return translation.get_language() == "de"


def is_sign_other() -> bool:
    """Tell whether the workshop's decimal sign is not that of the language."""
    return notation().uses_comma(has_comma=has_comma()) != has_comma()


def says(text: str) -> str:
    """Write the figures of a text as they are read here."""
    return notation().says(text, has_comma=has_comma())

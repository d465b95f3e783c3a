"""How does a page keep that somebody looked at it?"""

from collections.abc import Iterable
from typing import Any

from django.http import HttpRequest
from django.utils import timezone

from turnscrew.web.records.services.viewings import (
    ANSWER,
    CUSTOMER,
    DEVICE,
    PHOTO,
    note_viewings,
)


def look_at_device(request: HttpRequest, item: Any) -> None:
    """Keep that somebody who works here looked at a device."""
    _look(request, DEVICE, [item.ref])


def look_at_photos(request: HttpRequest, refs: Iterable[str]) -> None:
    """Keep that somebody who works here looked at photos."""
    _look(request, PHOTO, refs)


def look_at_contacts(request: HttpRequest, customer: Any) -> None:
    """Keep that somebody who works here looked at a customer and who answers there."""
    _look(request, CUSTOMER, [customer.ref])


def look_by_link(link: Any, photos: Iterable[str]) -> None:
    """Keep that a customer's contact looked at their own page, or at photos."""
    now = timezone.localtime()
    note_viewings(link.ref, ANSWER, [link.batch.ref], now=now)
    note_viewings(link.ref, PHOTO, photos, now=now)


def _look(request: HttpRequest, what: str, refs: Iterable[str]) -> None:
    who = request.person.ref  # type: ignore[attr-defined]
    note_viewings(who, what, refs, now=timezone.localtime())

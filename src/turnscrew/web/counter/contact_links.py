"""Under which address does a customer's contact answer?"""

from typing import Any

from django.http import HttpRequest
from django.urls import reverse

from turnscrew.web.records.services.people import contact_address


def address_of(request: HttpRequest, link: Any) -> str:
    """Give the whole address of an invitation."""
    signed = contact_address(link)
    return request.build_absolute_uri(reverse("counter:answer", args=[signed]))

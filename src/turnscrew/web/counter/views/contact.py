"""What a customer's contact sees and answers: their own devices, nothing else."""

import re
from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache

from turnscrew.web.counter.looks import look_by_link
from turnscrew.web.records.queries.contact_page import (
    ContactView,
    contact_link,
    contact_view,
)
from turnscrew.web.records.services import quoting
from turnscrew.web.records.services.refusal import RefusedError

_LINE = re.compile(r"line-(\d{1,7})", re.ASCII)


@never_cache
def answer(request: HttpRequest, address: str) -> HttpResponse:
    """Show what waits for an answer, and take answers for the devices named."""
    now = timezone.localtime()
    link = contact_link(address, now)
    look_by_link(link, [])
    problems: tuple[str, ...] = ()
    if request.method == "POST":
        told = _given(request)
        given = _not_said_before(told, contact_view(link))
        try:
            if not told:
                raise RefusedError("found no answer, wanted yes or no to one or more")
            if given:
                quoting.give_answers(
                    link.batch, given, name=link.name, by=link.made_by, now=now,
                    newest_seen=_newest_seen(request),
                )  # fmt: skip
            return redirect(f"{request.path}?sent=1")
        except RefusedError as error:
            problems = error.reasons
    view = contact_view(link)
    context: dict[str, Any] = {
        "view": view,
        "rows": [(one, _chosen(request, one)) for one in view.pending],
        "problems": problems,
        "address": address,
    }
    status = 422 if problems else 200
    return render(request, "counter/answer.html", context, status=status)


def _newest_seen(request: HttpRequest) -> int:
    """Read which question was the newest on the page that was answered."""
    sent = request.POST.get("seen", "")
    return int(sent) if sent.isdecimal() and len(sent) < 19 else 0


def _given(request: HttpRequest) -> dict[int, bool]:
    """Read the answers; what is left open stays open."""
    named = ((_LINE.fullmatch(name), word) for name, word in request.POST.items())
    return {
        int(found[1]): word == "yes"
        for found, word in named
        if found and word in {"yes", "no"}
    }


def _not_said_before(told: Mapping[int, bool], view: ContactView) -> dict[int, bool]:
    """Leave out what stands answered in just that way: it was sent twice."""
    answered = {one.job.line: one.answer == "yes" for one in view.answered}
    open_ = {one.job.line for one in view.pending}
    return {
        line: is_yes
        for line, is_yes in told.items()
        if line in open_ or answered.get(line) is not is_yes
    }


def _chosen(request: HttpRequest, question: Any) -> str:
    """Give what was chosen for a device, if its question was on that page already."""
    if question.pk > _newest_seen(request):
        return ""
    return request.POST.get(f"line-{question.job.line}", "")

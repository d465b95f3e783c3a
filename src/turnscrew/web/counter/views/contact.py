"""What a customer's contact sees and answers: their own devices, nothing else."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache

from turnscrew.web.counter.looks import look_by_link
from turnscrew.web.records.queries.contact_page import contact_link, contact_view
from turnscrew.web.records.services import quoting
from turnscrew.web.records.services.refusal import RefusedError


@never_cache
def answer(request: HttpRequest, address: str) -> HttpResponse:
    """Show what waits for an answer, and take answers for the devices named."""
    now = timezone.localtime()
    link = contact_link(address, now)
    look_by_link(link, [])
    problems: tuple[str, ...] = ()
    if request.method == "POST":
        view = contact_view(link, now)
        given = _given(request, [one.job.line for one in view.pending])
        try:
            if not given:
                raise RefusedError("found no answer, wanted yes or no to one or more")
            quoting.give_answers(
                link.batch, given, name=link.name, by=link.made_by, now=now,
                newest_seen=_newest_seen(request),
            )  # fmt: skip
            return redirect(f"{request.path}?sent=1")
        except RefusedError as error:
            problems = error.reasons
    context: dict[str, Any] = {
        "view": contact_view(link, now),
        "problems": problems,
        "address": address,
    }
    status = 422 if problems else 200
    return render(request, "counter/answer.html", context, status=status)


def _newest_seen(request: HttpRequest) -> int:
    """Read which question was the newest on the page that was answered."""
    sent = request.POST.get("seen", "")
    return int(sent) if sent.isdecimal() and len(sent) < 19 else 0


def _given(request: HttpRequest, lines: list[int]) -> dict[int, bool]:
    """Read the answers; what is left open stays open."""
    told = {line: request.POST.get(f"line-{line}", "") for line in lines}
    return {line: word == "yes" for line, word in told.items() if word in {"yes", "no"}}

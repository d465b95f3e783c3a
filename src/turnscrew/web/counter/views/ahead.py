"""What a batch will take, and what of it is promised for which day."""

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import get_language

from turnscrew.core.model.amounts import counted
from turnscrew.files.expected_text import expected_text, read_expected
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.expecting_forms import Ahead
from turnscrew.web.records.queries import batch_page, find
from turnscrew.web.records.queries.ahead import ahead_of, with_outcome
from turnscrew.web.records.queries.expecting import (
    expected_of,
    promise_gap,
    tranches_promised,
)
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.services import expecting


def ahead(request: HttpRequest, ref: str) -> HttpResponse:
    """Foretell what a batch takes, and once it is done show what it took."""
    batch = find.batch_with_terms(ref)
    person = request.person  # type: ignore[attr-defined]

    def expect(entered: Entered) -> Done:
        told = read_expected(entered["expected"], terms_of(batch).models)
        n = expecting.expect(batch, told, by=person, now=timezone.localtime())
        return Done(f"written; {counted(n, 'device')} here got a due day")

    def context() -> Mapping[str, Any]:
        now = timezone.localtime()
        jobs = batch_page.batch_stand(batch, now).jobs
        told = with_outcome(ahead_of(batch, now), reckoned(batch, now), jobs)
        expected = expected_of(batch)
        return {
            "batch": batch,
            "ahead": told,
            "gap": promise_gap(expected, jobs),
            "tranches": tranches_promised(expected, jobs, terms_of(batch)),
        }

    first = {"expected": expected_text(expected_of(batch), get_language() or "")}
    acts = {"expect": Act(expect, "Write what is to come", Ahead, initial=first)}
    return page(request, "counter/ahead.html", context, acts)

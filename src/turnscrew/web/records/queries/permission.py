"""Did the customer say yes where a yes is needed?"""

from collections.abc import Sequence
from datetime import datetime

from turnscrew.core.bench.run import Line
from turnscrew.core.bench.state import Stroke
from turnscrew.web.records.models import Approval, Job, Quote
from turnscrew.web.records.queries.answers import holds_for, is_refused, was_refused
from turnscrew.web.records.queries.bench_runs import only_closes, was_worked_on
from turnscrew.web.records.queries.skills import HANDS_ON

_NEEDS_YES = HANDS_ON | {"awaiting part"}
"""States in which the work goes on, or money is spent on it."""


def permission_refusal(job: Job, state: str) -> str:
    """Say which yes is missing; nothing if the work may go on, or is but closing up."""
    if state not in _NEEDS_YES or (state in HANDS_ON and only_closes(job)):
        return ""
    return missing_yes(job)


def missing_yes(job: Job) -> str:
    """Say which yes is missing to what is quoted now; nothing if none is."""
    quote, answer = job.quotes.last(), job.approvals.last()
    if is_refused(answer, quote):
        # What a promise covers wants no yes, and a no to a price ends no promise.
        is_free = quote is not None and quote.code == "comeback"
        return "" if is_free else _wanted("no")
    if quote is None:
        is_open = answer is not None and answer.answer == Approval.PENDING
        return _wanted("none yet") if is_open else ""
    return _not_agreed(quote, answer) if quote.code == "ask" else ""


def _not_agreed(quote: Quote, answer: Approval | None) -> str:
    """Say what is lacking to a yes to what is asked about, and was not refused."""
    if is_unpriced(quote):
        return "quote: found no price, wanted one, and the customer's yes to it"
    if answer is None or answer.answer == Approval.NO:
        return _wanted("none asked for")
    if answer.answer == Approval.PENDING:
        return _wanted("none yet")
    if not holds_for(answer, quote.code, quote.quote_minor):
        return "answer: found a yes to less, wanted the customer's yes to the new quote"
    return ""


def work_refusal(job: Job, lines: Sequence[Line], stroke: Stroke, at: datetime) -> str:
    """Say which yes was missing when a piece of work was done; nothing if none was."""
    is_work = stroke.act == "done" and 0 <= stroke.line < len(lines)
    if not is_work or lines[stroke.line].phase != "work":
        return ""
    refusal = missing_yes(job)
    # What hands did before anybody asked, or said no, is told later and stands.
    return refusal if refusal and at >= _barred_since(job) else ""


def _barred_since(job: Job) -> datetime:
    quote, answer = job.quotes.last(), job.approvals.last()
    times = [] if quote is None else [quote.at]
    if answer is not None:
        times.append(answer.answered_at or answer.asked_at)
    return max(times)


def _wanted(found: str) -> str:
    return f"answer: found {found}, wanted the customer's yes to the quote"


def waits_for(job: Job) -> str:
    """Say whether a device parked open waits for a price, an answer, or was said no."""
    if job.state != "parked open" or only_closes(job) or goes_on_free(job):
        return ""
    quote, last = job.quotes.last(), job.approvals.last()
    if is_refused(last, quote):
        return "no"
    if quote is not None and is_unpriced(quote):
        return "price"
    if last is None or last.answer == Approval.YES:
        return ""
    is_asked = quote is None or quote.code in {"ask", "comeback"}
    return "answer" if is_asked else ""


def is_unpriced(quote: Quote) -> bool:
    """Say whether there is a question to the customer, and no price to ask it with."""
    return quote.code == "ask" and quote.quote_minor is None


def goes_on_free(job: Job) -> bool:
    """Say whether it is mended at no charge though the last answer was no."""
    quote = job.quotes.last()
    return quote is not None and quote.code == "comeback" and was_refused(job)


def is_left(job: Job) -> bool:
    """Say whether nothing was mended of what its owner refused or never agreed to."""
    quote, answer = job.quotes.last(), job.approvals.last()
    if was_refused(job):
        wants_it = goes_on_free(job)
    else:
        is_yes = answer is not None and answer.answer == Approval.YES
        wants_it = quote is None or quote.code not in {"ask", "strip"} or is_yes
    return not wants_it and not was_worked_on(job)

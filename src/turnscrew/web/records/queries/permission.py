"""Did the customer say yes where a yes is needed?"""

from turnscrew.web.records.models import Approval, Job, Quote
from turnscrew.web.records.queries.batch_input import holds_for
from turnscrew.web.records.queries.bench_runs import only_closes
from turnscrew.web.records.queries.skills import HANDS_ON

_NEEDS_YES = HANDS_ON | {"awaiting part"}
"""States in which the work goes on, or money is spent on it."""


def permission_refusal(job: Job, state: str) -> str:
    """Say which yes is missing; nothing if the work may go on, or is but closing up."""
    if state not in _NEEDS_YES or (state in HANDS_ON and only_closes(job)):
        return ""
    quote = job.quotes.last()
    if quote is not None and quote.code == "comeback":
        # What the promise covers wants no yes, and a no to a price ends no promise.
        return ""
    answer = job.approvals.last()
    if answer is not None and answer.answer != Approval.YES:
        found = "no" if answer.answer == Approval.NO else "none yet"
        return f"answer: found {found}, wanted the customer's yes to the quote"
    if quote is None or quote.code != "ask":
        return ""
    if is_unpriced(quote):
        return "quote: found no price, wanted one, and the customer's yes to it"
    if answer is None:
        return "answer: found none asked for, wanted the customer's yes to the quote"
    if not holds_for(answer, quote.code, quote.quote_minor):
        return "answer: found a yes to less, wanted the customer's yes to the new quote"
    return ""


def waits_for(job: Job) -> str:
    """Say whether a device parked open waits for a price, an answer, or was said no."""
    if job.state != "parked open" or only_closes(job) or goes_on_free(job):
        return ""
    quote, last = job.quotes.last(), job.approvals.last()
    is_no = last is not None and last.answer == Approval.NO
    if quote is not None and is_unpriced(quote) and not is_no:
        return "price"
    if last is None or last.answer == Approval.YES:
        return ""
    return last.answer or "answer"


def is_unpriced(quote: Quote) -> bool:
    """Say whether there is a question to the customer, and no price to ask it with."""
    return quote.code == "ask" and quote.quote_minor is None


def goes_on_free(job: Job) -> bool:
    """Say whether it is mended at no charge though the last answer was no."""
    quote, answer = job.quotes.last(), job.approvals.last()
    is_no = answer is not None and answer.answer == Approval.NO
    return is_no and quote is not None and quote.code == "comeback"

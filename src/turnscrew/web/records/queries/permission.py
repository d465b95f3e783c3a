"""Did the customer say yes where a yes is needed?"""

from turnscrew.web.records.models import Approval, Job
from turnscrew.web.records.queries.skills import HANDS_ON

_NEEDS_YES = HANDS_ON | {"awaiting part"}
"""States in which the work goes on, or money is spent on it."""


def permission_refusal(job: Job, state: str) -> str:
    """Say which yes is missing; nothing if the work may go on."""
    if state not in _NEEDS_YES:
        return ""
    quote = job.quotes.last()
    answer = job.approvals.last()
    if answer is not None and answer.answer != Approval.YES:
        found = "no" if answer.answer == Approval.NO else "none yet"
        return f"answer: found {found}, wanted the customer's yes to the quote"
    if quote is not None and quote.code == "ask" and answer is None:
        return "answer: found none asked for, wanted the customer's yes to the quote"
    return ""

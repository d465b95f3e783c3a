"""What may be done with the data of a device, and does that still hold?"""

from collections.abc import Callable
from datetime import date

from turnscrew.web.records.models import Job

TEST_IMAGE, ACCOUNT, NO_START = "test image only", "given account", "no start"
ALLOWED = (
    (TEST_IMAGE, "may be started to a test image, no further"),
    (ACCOUNT, "may be logged in to with the account given"),
    (NO_START, "must not be started"),
)
"""What a customer may allow, the words beside each."""


def is_allowed(job: Job, today: date) -> bool:
    """Say whether a decision is on record and its last day has not passed."""
    until = job.data_allowed_until
    if until is not None and until < today:
        return False
    # Decisions of older records are words alone, without a day on which they end.
    return bool(job.data_allowed or job.data_decision)


def data_refusal(job: Job, today: date) -> str:
    """Say why a device is not begun at a bench for its data; nothing if it may be."""
    if job.data_class or is_allowed(job, today):
        return ""
    if job.data_allowed_until is not None:
        return (
            f"device: found a permission for its data that ended on "
            f"{job.data_allowed_until}, wanted a new decision on its page first"
        )
    return (
        "device: found nothing said of data of persons, wanted a decision on its "
        "page first"
    )


def terms_words(job: Job, today: date, written: Callable[[str], str] = str) -> str:
    """
    Give what is allowed, by whom and until when, in one line; nothing if nothing.

    What a person wrote is handed to ``written``, for papers that mark it.
    """
    words = dict(ALLOWED).get(job.data_allowed, "")
    if words and job.data_allowed_by:
        words += f", by word of {written(job.data_allowed_by)}"
    if words and job.data_allowed_until:
        words += f", until {job.data_allowed_until}"
        if not is_allowed(job, today):
            words += ": this has ended and allows nothing any more"
    return "; ".join(filter(None, [words, written(job.data_decision)]))

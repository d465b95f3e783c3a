"""What may be done with the data of a device, and does that still hold?"""

from collections.abc import Callable, Sequence
from datetime import date

from turnscrew.core.bench.run import Line
from turnscrew.core.bench.state import Stroke
from turnscrew.web.records.models import Job

TEST_IMAGE, ACCOUNT, NO_START = "test image only", "given account", "no start"
ALLOWED = (
    (TEST_IMAGE, "may be started to a test image, no further"),
    (ACCOUNT, "may be logged in to with the account given"),
    (NO_START, "must not be started"),
)
"""What a customer may allow, the words beside each."""

NO_DATA = "N"
"""Class of a device that holds no data of persons."""

NOT_ALLOWED = "the customer wants it not started"

MADE_FROM_OUTSIDE = frozenset({"adapter", "charge", "clean"})
"""Final lines that need neither a started device nor an opened lock."""


def is_allowed(job: Job, today: date) -> bool:
    """Say whether a decision is on record and its last day has not passed."""
    until = job.data_allowed_until
    if until is not None and until < today:
        return False
    # Decisions of older records are words alone, without a day on which they end.
    return bool(job.data_allowed or job.data_decision)


def may_not_start(job: Job) -> bool:
    """Say whether the customer wants a device not to be started at all."""
    return job.data_allowed == NO_START and job.data_class != NO_DATA


def data_lines(job: Job) -> list[str]:
    """Give what a bench must know of a device's data before it has power."""
    words = dict(ALLOWED).get(job.data_allowed)
    return [f"Data: {words}."] if words and job.data_class != NO_DATA else []


def start_refusal(job: Job, lines: Sequence[Line], stroke: Stroke) -> str:
    """Say why a test cannot have passed on a device that must not be started."""
    if not may_not_start(job) or stroke.text("answer") != "passed":
        return ""
    if not 0 <= stroke.line < len(lines) or not needs_start(lines[stroke.line]):
        return ""
    return (
        "test: found passed though the customer wants it not started, wanted not "
        "possible, because not allowed"
    )


def needs_start(line: Line) -> bool:
    """Say whether a test cannot be made on a device that is not started."""
    return is_final_inside(line) or (line.asks == "test" and line.does == "test open")


def is_final_inside(line: Line) -> bool:
    """Say whether a final test is made in the running device, not from outside."""
    is_final_test = line.phase == "final" and line.asks == "test"
    return is_final_test and line.name not in MADE_FROM_OUTSIDE


def data_refusal(job: Job, today: date) -> str:
    """Say why a device is not begun at a bench for its data; nothing if it may be."""
    if job.data_class == NO_DATA:
        return ""
    until = job.data_allowed_until
    if until is not None and until < today:
        return (
            f"device: found a permission for its data that ended on {until}, wanted a "
            "new decision on its page first"
        )
    if job.data_class or is_allowed(job, today):
        return ""
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

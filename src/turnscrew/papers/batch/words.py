"""How do money, days and devices read on the papers of a batch?"""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.device_number import device_number
from turnscrew.core.model.hold import Hold
from turnscrew.core.model.model_terms import FaultTerms
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.schedule.plan import Plan
from turnscrew.papers.batch.remarks import remark_written
from turnscrew.papers.batch.speech import speech_of
from turnscrew.papers.page import Page, head
from turnscrew.papers.set_aside import written

CODES_WORDS = "Follow local codes; leave mains parts to licensed people."

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = (
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
)  # fmt: skip

_A_YEAR = timedelta(days=365)
"""From then on a date without its year may be read as one of the year before."""

PACK_CAUTION = (
    "Swollen or unknown pack: never press, bend, pierce, charge or power it; eye "
    "protection, fire box open beside you, nothing sharp or metal near it; if it "
    "hisses, smokes or gets hot, leave it, warn everybody, call the fire service."
)
STRIP_CAUTION = (
    "Pack off first, before anything is warmed or levered: do not bend, pierce or heat "
    "it; if it is swollen, hot or smells, stop, isolate it and call the lead; boxed by "
    "itself once out."
)
LIQUID_CAUTION = (
    "Liquid inside: pack off first, gloves, no power; ventilate, and take away what "
    "smells of cleaning agents to the extraction."
)
GLASS_CAUTION = (
    "Cracked glass: eye protection and gloves, tape the front before anything else, "
    "splinters into the sharps box."
)
STATIC_CAUTION = "Strap on, on the mat, before any board is touched."

_CAUTIONS = {"pack": PACK_CAUTION, "liquid": LIQUID_CAUTION, "glass": GLASS_CAUTION}


def day_words(answer: BatchAnswer, day: int | None) -> str:
    """
    Write a workshop day with its date.

    Parameters
    ----------
    answer
        The batch.
    day
        Number of the day.

    Returns
    -------
    str
        Such as ``day 4, Thu 4 Feb``; words for no day and for a day gone by.
    """
    if day is None:
        return "no day agreed"
    if day < 1:
        return "too late already"
    return f"day {day}, {date_words(answer, day)}"


def latest_words(answer: BatchAnswer, day: int | None) -> str:
    """
    Write the latest day for something that is still to be done.

    Parameters
    ----------
    answer
        The batch.
    day
        Number of the day.

    Returns
    -------
    str
        The day; words for none, and where it is over when work begins.
    """
    is_over = day is not None and day < answer.what_if.start_day
    return day_words(answer, 0 if is_over else day)


def latest_after(lead: str, answer: BatchAnswer, day: int | None) -> str:
    """
    Write the latest day behind words that lead up to it.

    Parameters
    ----------
    lead
        The words, such as ``by the morning of``.
    answer
        The batch.
    day
        Number of the day.

    Returns
    -------
    str
        The words and the day; where there is no day to name, what is said instead.
    """
    words = latest_words(answer, day)
    is_day = day is not None and day >= answer.what_if.start_day
    return f"{lead} {words}" if is_day else words


def last_job_words(answer: BatchAnswer, plan: Plan) -> str:
    """
    Say when the last job of a plan is done.

    Parameters
    ----------
    answer
        The batch.
    plan
        The plan; it may hold no job.

    Returns
    -------
    str
        Such as ``day 4, Thu 4 Feb``.
    """
    return day_words(answer, plan.last_day) if plan.slots else "none planned"


def date_words(answer: BatchAnswer, day: int) -> str:
    """
    Write the date of a workshop day.

    Parameters
    ----------
    answer
        The batch.
    day
        Number of the day.

    Returns
    -------
    str
        Such as ``Thu 4 Feb``; with the year from a year after the batch came on.
    """
    terms = answer.batch.terms
    at = terms.date_of(day)
    return _dated(at, is_with_year=at - terms.received >= _A_YEAR)


def full_date(answer: BatchAnswer, day: int) -> str:
    """
    Write the date of a workshop day with its year.

    Parameters
    ----------
    answer
        The batch.
    day
        Number of the day.

    Returns
    -------
    str
        Such as ``Thu 4 Feb 2027``.
    """
    terms = answer.batch.terms
    return _dated(terms.date_of(day), is_with_year=True)


def _dated(at: date, *, is_with_year: bool) -> str:
    words = f"{_DAYS[at.weekday()]} {at.day} {_MONTHS[at.month - 1]}"
    return f"{words} {at.year}" if is_with_year else words


def number_of(answer: BatchAnswer, device: DecidedDevice) -> str:
    """
    Give the workshop's number of a device.

    Parameters
    ----------
    answer
        The batch.
    device
        The device.

    Returns
    -------
    str
        Day the batch came, number in the batch, check character.
    """
    return device_number(answer.batch.terms.received, device.name)


def short_number(answer: BatchAnswer, device: DecidedDevice) -> str:
    """
    Give the number people say aloud.

    Parameters
    ----------
    answer
        The batch.
    device
        The device.

    Returns
    -------
    str
        Number in the batch and check character.
    """
    return f"{device.name}-{number_of(answer, device)[-1]}"


def seen(device: DecidedDevice) -> str:
    """
    Write model and revision.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        Such as ``L240 A``.
    """
    return device.line.seen


def owner_number(device: DecidedDevice) -> str:
    """
    Write the owner's number.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        The number, or words for none.
    """
    return device.line.asset or "no owner's number"


def serial_number(device: DecidedDevice) -> str:
    """
    Write the serial number.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        The number, or ``unread``.
    """
    return device.line.serial or "unread"


def fault_words(answer: BatchAnswer, device: DecidedDevice) -> str:
    """
    Write the faults found.

    Parameters
    ----------
    answer
        The batch.
    device
        The device.

    Returns
    -------
    str
        In words, joined by a plus.
    """
    words = [fault.says for fault in answer.batch.terms.faults_of(device.line)]
    return " + ".join(words) or "not found yet"


def seen_written(device: DecidedDevice) -> str:
    """
    Write model and revision for a paper.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        Such as ``L240 A``, marked as it was written.
    """
    return written(seen(device))


def owner_written(device: DecidedDevice) -> str:
    """
    Write the owner's number for a paper.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        The number, marked as it was written, or words for none.
    """
    return written(device.line.asset) or owner_number(device)


def serial_written(device: DecidedDevice) -> str:
    """
    Write the serial number for a paper.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        The number, marked as it was written, or ``unread``.
    """
    return written(device.line.serial) or serial_number(device)


def faults_written(answer: BatchAnswer, device: DecidedDevice) -> str:
    """
    Write the faults found for a paper.

    Parameters
    ----------
    answer
        The batch.
    device
        The device.

    Returns
    -------
    str
        In the words of the terms, marked as they were written, or words for none.
    """
    words = fault_words(answer, device)
    is_found = bool(answer.batch.terms.faults_of(device.line))
    return written(words) if is_found else words


def hold_written(hold: Hold) -> str:
    """
    Write a hold for a paper.

    Parameters
    ----------
    hold
        The hold.

    Returns
    -------
    str
        What to observe, with the words of the remark marked as they were written.
    """
    return f"{hold.says} ({remark_written(hold.seen)})" if hold.seen else hold.says


def cautions_for(answer: BatchAnswer, device: DecidedDevice) -> list[str]:
    """
    Give the cautions that belong to the work on a device.

    Parameters
    ----------
    answer
        The batch.
    device
        The device.

    Returns
    -------
    list[str]
        Sentences; the one on static wherever the case is opened, the one on its pack
        wherever it is stripped.
    """
    words = cautions_of(answer.batch.terms.faults_of(device.line), device.holds)
    return words if device.is_mended else [STRIP_CAUTION, *words]


def cautions_of(faults: Iterable[FaultTerms], holds: Iterable[Hold]) -> list[str]:
    """
    Give the cautions that belong to faults and to what was seen.

    Parameters
    ----------
    faults
        What holds for the faults found.
    holds
        What must be observed.

    Returns
    -------
    list[str]
        Sentences; the one on static wherever the case is opened.
    """
    faults = tuple(faults)
    words = [_CAUTIONS[fault.hazard] for fault in faults if fault.hazard is not None]
    if any(hold.kind == "pack" for hold in holds):
        words.append(PACK_CAUTION)
    if any(fault.is_opened for fault in faults):
        words.append(STATIC_CAUTION)
    return list(dict.fromkeys(words))


def is_caution(hold: Hold) -> bool:
    """
    Say whether a hold only repeats what the cautions of the work say.

    Parameters
    ----------
    hold
        The hold.

    Returns
    -------
    bool
        True if so.
    """
    return hold.kind in {"glass", "liquid"} and not hold.seen


def batch_head(
    answer: BatchAnswer, title: str, page: Page, foot: str = ""
) -> dict[str, Any]:
    """
    Give head and foot of a paper of a batch.

    Parameters
    ----------
    answer
        The batch.
    title
        What the paper is, in English.
    page
        Size of the paper.
    foot
        Words at the foot of every page, in English.

    Returns
    -------
    dict
        The values the beginning of a sheet reads, in the language of the paper.

    Raises
    ------
    BadArgumentError
        If the size of the paper is not known.
    """
    says = speech_of(answer, page).says
    return head(says(title), page, device=answer.batch.terms.batch, foot=says(foot))

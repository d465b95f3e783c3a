"""Which quotes speak of a repair that the device did not get after all?"""

from collections.abc import Iterable, Mapping

from turnscrew.web.records.models import Job, Quote
from turnscrew.web.records.queries.answers import REPAIR
from turnscrew.web.records.queries.found_faults import found_by_job
from turnscrew.web.records.queries.terms_text import terms_of

DONOR_STATES = frozenset({"donor", "disposed"})

_IS_DONOR = "it was stripped"
_NOTHING = "what was found was withdrawn"
_NO_FAULT = "no fault was found"


def outdated(jobs: Iterable[Job], quotes: Mapping[int, Quote]) -> dict[int, str]:
    """
    Say by job why the quote it would be billed by is none of what was done.

    Parameters
    ----------
    jobs
        The devices.
    quotes
        The quote each is billed by, by job.

    Returns
    -------
    dict[int, str]
        Why; nothing of those whose quote speaks of what was done.
    """
    priced = [job for job in jobs if job.pk in quotes and quotes[job.pk].code in REPAIR]
    found = found_by_job(priced) if priced else {}
    told = {job.pk: _why(job, found[job.pk]) for job in priced}
    return {pk: why for pk, why in told.items() if why}


def _why(job: Job, found: tuple[str, ...]) -> str:
    if job.state in DONOR_STATES:
        return _IS_DONOR
    if not found:
        return _NOTHING
    faults = terms_of(job.batch).faults
    is_none = all(code in faults and faults[code].is_trial for code in found)
    return _NO_FAULT if is_none else ""

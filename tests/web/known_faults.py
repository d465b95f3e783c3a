"""What was said, seen and wrong with devices of the example batch, as at its bench."""

from collections.abc import Iterable, Mapping
from datetime import datetime

from turnscrew.web.records.models import Finding, Job, Person
from turnscrew.web.records.services import trials
from turnscrew.web.records.services.findings import note_finding

WRONG = {
    "part": "the part of its fault", "mode": "as it was seen", "cause": "wear",
    "agrees": "yes",
}  # fmt: skip
TRIAL = trials.TrialPlan(240, "pictures in a row", "base up", 23, ago_min=240)
NOT_SHOWN = trials.TrialEnd(
    240, "started twenty times, warmed and cooled", "not shown",
    "It worked for four hours; please write down what it did when it stops again.",
)  # fmt: skip
TRIED = "NFF"
"""Code of the example's terms for a trial."""


def codes_of(jobs: Iterable[Job]) -> Mapping[str, list[Job]]:
    """Give the devices by each code that was seen."""
    found: dict[str, list[Job]] = {}
    for job in jobs:
        for one in job.findings.filter(stage=Finding.SEEN).exclude(code=""):
            found.setdefault(one.code, []).append(job)
    return found


def all_is_known(jobs: Iterable[Job], *, by: Person, now: datetime) -> None:
    """Write all that is wanted of devices before they may be packed."""
    for code, some in codes_of(jobs).items():
        for job in some:
            if code == TRIED:
                trials.plan_trial(job, TRIAL, by=by, now=now)
                trials.end_trial(job, NOT_SHOWN, by=by, now=now)
            else:
                note_finding(
                    job, Finding.CONFIRMED, by=by, now=now, code=code, wrong=WRONG
                )

"""How is it written that a device was left to work until its fault shows, or not?"""

from dataclasses import dataclass
from datetime import datetime, timedelta

from turnscrew.web.records.models import Finding, Job, Person, Trial
from turnscrew.web.records.queries.again import third_time
from turnscrew.web.records.queries.found_faults import NOT_FOUND
from turnscrew.web.records.queries.power_bars import power_refusal
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, read_anew
from turnscrew.web.records.services.on_record import require_job_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

_MOST_MIN = 30 * 24 * 60
_ROUNDED_MIN = 6
"""A trial is told in tenths of an hour. [min]"""

_RESULTS = (Trial.SHOWN, Trial.NOT_SHOWN, Trial.BROKEN_OFF)
_LOW_C, _HIGH_C = -20, 60
"""Temperatures a trial may be planned at; what a device allows goes before them."""


@dataclass(frozen=True)
class TrialPlan:
    """
    For how long, under which load, in which position, at which temperature.

    One written down afterwards began ``ago_min`` minutes before.
    """

    planned_min: int
    load: str
    position: str
    temperature_c: int
    ago_min: int = 0


@dataclass(frozen=True)
class TrialEnd:
    """How long it ran, what was tried, what came of it, words for the customer."""

    ran_min: int
    tried: str
    result: str
    words: str


@writing
def plan_trial(job: Job, plan: TrialPlan, *, by: Person, now: datetime) -> Trial:
    """Write a trial as it is planned; one runs at a time."""
    require_job_on_record(job)
    reasons = _wrong_plan(plan)
    reasons += filter(None, [power_refusal(job, "a trial")])
    if job.trials.filter(result="").exists():
        reasons.append("trial: found one that runs, wanted it ended first")
    if reasons:
        raise RefusedError(*reasons)
    trial = Trial.objects.create(
        job=job, planned_min=plan.planned_min, load=plan.load, position=plan.position,
        temperature_c=plan.temperature_c, planned_by=by,
        planned_at=now - timedelta(minutes=plan.ago_min),
    )  # fmt: skip
    append(
        "bench", "trial", job.ref, by=by, now=now,
        facts={"min": plan.planned_min, "celsius": plan.temperature_c,
               "began min ago": plan.ago_min or None},
        words=f"{plan.load}; {plan.position}",
    )  # fmt: skip
    return trial


def _wrong_plan(plan: TrialPlan) -> list[str]:
    reasons = []
    if not 1 <= plan.planned_min <= _MOST_MIN:
        reasons.append(
            f"minutes: found {plan.planned_min}, wanted 1 to {_MOST_MIN} min"
        )
    if not 0 <= plan.ago_min <= _MOST_MIN:
        reasons.append(f"began: found {plan.ago_min}, wanted 0 to {_MOST_MIN} min ago")
    if not plan.load.strip():
        reasons.append("load: found none, wanted what the device does meanwhile")
    if not plan.position.strip():
        reasons.append("position: found none, wanted how it lies or stands")
    if not _LOW_C <= plan.temperature_c <= _HIGH_C:
        reasons.append(
            f"temperature: found {plan.temperature_c} °C, wanted {_LOW_C} to {_HIGH_C}"
        )
    return reasons


@writing
def end_trial(job: Job, end: TrialEnd, *, by: Person, now: datetime) -> Trial:
    """
    Write what came of the trial that runs; not shown, it says no fault found.

    For that it runs as long as it was planned; ended before, it is broken off.
    """
    require_job_on_record(job)
    trial = job.trials.select_for_update().filter(result="").first()
    reasons = [] if trial else ["trial: found none that runs, wanted one planned"]
    if end.result not in _RESULTS:
        wanted = ", ".join(_RESULTS)
        reasons.append(f"result: found {end.result or 'none'}, wanted one of {wanted}")
    if not end.tried.strip():
        reasons.append("tried: found nothing, wanted what was tried")
    if not end.words.strip():
        reasons.append("words: found none, wanted what the customer is told")
    if trial is not None:
        reasons += _wrong_time(trial, end, now)
    if reasons or trial is None:
        raise RefusedError(*reasons)
    trial.ran_min, trial.tried = end.ran_min, end.tried.strip()
    trial.result, trial.words = end.result, end.words.strip()
    trial.ended_by, trial.ended_at = by, now
    trial.save()
    append(
        "bench", "trial", job.ref, by=by, now=now,
        facts={"min": end.ran_min, "result": end.result},
        words=f"{end.tried}; {end.words}",
    )  # fmt: skip
    if end.result == Trial.NOT_SHOWN:
        note_finding(
            job, Finding.CONFIRMED, by=by, now=now, words=end.words.strip(),
            wrong={"mode": NOT_FOUND},
        )  # fmt: skip
    return trial


def _wrong_time(trial: Trial, end: TrialEnd, now: datetime) -> list[str]:
    """Hold how long a trial is said to have run against the clock and the plan."""
    ran, passed_s = end.ran_min, (now - trial.planned_at).total_seconds()
    most = min(_MOST_MIN, int(passed_s / 60) + _ROUNDED_MIN)
    least = trial.planned_min if end.result == Trial.NOT_SHOWN else 1
    reasons = []
    if not 1 <= ran <= most:
        reasons.append(f"minutes: found {ran}, wanted 1 to {most}, as it began then")
    if 1 <= ran < least:
        reasons.append(
            f"minutes: found {ran}, wanted {least} as planned to say that it did not "
            "show; ended before, it is broken off"
        )
    return reasons


@writing
def look_into_again(job: Job, words: str, *, by: Person, now: datetime) -> None:
    """Write that a lead looked into a device that came for the third time or more."""
    again = third_time(job)
    reasons = []
    if again is None:
        reasons.append("device: found it here less often, wanted the third time")
    if not words.strip():
        reasons.append("words: found none, wanted what is done another way this time")
    if reasons or again is None:
        raise RefusedError(*reasons)
    read_anew(job)
    job.again_seen_by, job.again_words = by, words.strip()
    keep(job, now)
    append(
        "bench", "looked into", job.ref, by=by, now=now, facts={"n": again.n},
        words=words,
    )  # fmt: skip

"""Why is a device not to be worked on at a bench, before anybody tries?"""

from datetime import datetime

from turnscrew.core.model.job_state import ENDED, MAIN_STATES, OPEN
from turnscrew.web.records.models import Allotment, Job, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.data_terms import data_refusal
from turnscrew.web.records.queries.descriptions import may_work_from, used_by

ON_BENCH = ("kitted", *OPEN, "closed", "final-tested")
"""States in which a device has work at a bench before it."""


def not_begun(job: Job, by: Person, now: datetime) -> str:
    """Say why somebody may not open a device, or go on with it; nothing if they may."""
    is_begun = bench_runs.latest(job) is not None
    why = unready(job, now, is_begun=is_begun)
    if why or is_begun:
        return why or gone_on(job)
    description = used_by(job)
    return may_work_from(description, by) if description else ""


def unready(job: Job, now: datetime, *, is_begun: bool) -> str:
    """Say why a device is not worked on at a bench, by whatever path."""
    if why := apart(job):
        return why
    is_refused = is_before_kit(job) and not is_begun
    if job.state in (*ENDED, "donor") or is_refused:
        return f"state: found {job.state}, wanted it kitted or further"
    return data_refusal(job, now.date())


def is_before_kit(job: Job) -> bool:
    """Say whether the kit of a device is not laid out yet."""
    return MAIN_STATES.index(job.main_state) < MAIN_STATES.index("kitted")


def kit_refusal(job: Job, state: str, reason: str) -> str:
    """Say why a device may not count as kitted: a part is wanted and not there yet."""
    if state != "kitted" or not is_before_kit(job) or reason.strip():
        return ""
    short = job.allotments.filter(state=Allotment.SHORT).order_by("part__number")
    named = ", ".join(short.values_list("part__number", flat=True).distinct())
    if not named:
        return ""
    return f"parts: found none for it yet of {named}; wanted them, or a reason"


def apart(job: Job) -> str:
    """Say of a device that lies apart why nothing is done to it; else nothing."""
    if job.state != "isolated":
        return ""
    return f"device: found it isolated, {job.reason}, wanted it moved out first"


def gone_on(job: Job) -> str:
    """Say why nobody goes on with a path that was begun: its device went on."""
    if job.state in ON_BENCH:
        return ""
    return (
        f"state: found {job.state}, wanted it on a bench: move it back on its page "
        "first"
    )

"""Is a device locked, who was asked to open it, and which tests does that bar?"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from turnscrew.core.bench.run import Line
from turnscrew.core.bench.sheet import NOT_TESTED, SheetLine, TestSheet
from turnscrew.core.bench.state import Stroke
from turnscrew.core.model.amounts import counted
from turnscrew.core.model.job_state import ENDED
from turnscrew.core.reconcile.remarks import remark_holds
from turnscrew.web.records.models import Job, LockRequest
from turnscrew.web.records.queries.data_terms import is_final_inside

LOCKED, ENROLLED, NEITHER, NOT_LOOKED = "locked", "enrolled", "neither", "not looked"
LOCKS = (
    (LOCKED, "locked: password not given"),
    (ENROLLED, "enrolled with an administrator"),
    (NEITHER, "neither"),
    (NOT_LOOKED, "nobody looked"),
)
"""What is asked at intake, the words beside each."""

NEAR_DAYS = 3
"""So long before its day a request stands on the page of the morning. [days]"""

BECAUSE = "locked"
"""Why a test is not possible."""

PLAN = (
    "start as far as the lock's own picture; never try a password",
    "picture: lines, stains and light on what it shows by itself",
    "touch or keys: each answers where something is to be entered",
    "charging: level and current rise; adapter checked by itself",
    "fan, heat and smell while it idles",
    "lid, buttons, sockets, trims: moved by hand",
)
"""Tests that need no opened lock; common practice, no source."""


def lock_in(remarks: str) -> str:
    """Say that a device is locked where a remark on arrival says so."""
    holds = remark_holds(remarks)
    return LOCKED if any(hold.kind == "locked" for hold in holds) else ""


def lock_gaps(jobs: Iterable[Job]) -> list[str]:
    """Say of how many devices that are here nobody asked whether they are locked."""
    n = sum(one.lock in {"", NOT_LOOKED} and one.state not in ENDED for one in jobs)
    if not n:
        return []
    return [f"{counted(n, 'device')} of which nobody knows whether they are locked"]


def is_barred(job: Job) -> bool:
    """Say whether a lock bars the full test."""
    return job.lock in {LOCKED, ENROLLED}


def lock_refusal(job: Job, lines: Sequence[Line], stroke: Stroke) -> str:
    """Say why a test of a locked device cannot have passed; nothing if it can."""
    if not is_barred(job) or stroke.text("answer") != "passed":
        return ""
    if not 0 <= stroke.line < len(lines) or not is_final_inside(lines[stroke.line]):
        return ""
    return (
        f"test: found passed while the device is {job.lock}, wanted not possible, "
        "because locked"
    )


def barred_sheet(job: Job, sheet: TestSheet, lines: Sequence[Line]) -> TestSheet:
    """Give a test sheet in which nothing passes that a lock bars."""
    if not is_barred(job):
        return sheet
    barred = {line.says for line in lines if is_final_inside(line)}
    told = tuple(
        _barred(one) if one.says in barred and not one.is_open else one
        for one in sheet.lines
    )
    return replace(sheet, lines=told)


def _barred(line: SheetLine) -> SheetLine:
    if line.answer not in {"passed", "read", NOT_TESTED}:
        return line
    return replace(
        line, answer="not possible", value="", is_within=None,
        reason="; ".join(filter(None, [BECAUSE, line.reason])),
    )  # fmt: skip


def requests_near(today: date) -> list[LockRequest]:
    """Give what was asked of administrators and is due soon or was due."""
    near = today + timedelta(days=NEAR_DAYS)
    rows = LockRequest.objects.filter(answered_on=None, due_on__lte=near)
    rows = rows.exclude(job__state__in=ENDED).select_related("job__item")
    return list(rows.order_by("due_on", "id")[:50])

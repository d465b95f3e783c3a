"""What lies in the tray of a device?"""

from collections import Counter

from turnscrew.core.ledger.verbs import FASTENER_SIGNS, tray_sign
from turnscrew.core.model.job_state import CLOSED
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import BenchRun, Entry, Job
from turnscrew.web.records.queries import bench_runs

_MOST_NAMED = 3
"""Parts and joints named of those that are off. [1]"""


def tray_of(job: Job) -> dict[str, int]:
    """Count the fasteners that were taken and are neither back nor accounted for."""
    counts: Counter[str] = Counter()
    rows = Entry.objects.filter(
        subject=job.ref, journal="bench", verb__in=[*FASTENER_SIGNS, "undone"]
    )
    for entry in map(ledger_entry, rows):
        sign = tray_sign(entry.verb, entry.facts)
        counts[entry.text("kind")] += sign * entry.n("n")
    return {kind: n for kind, n in counts.items() if n}


def tray_refusal(job: Job, state: str) -> str:
    """Say why a device may not be closed; nothing if its tray is empty."""
    if state not in CLOSED or job.state in CLOSED:
        return ""
    left = ", ".join(f"{n} of kind {kind}" for kind, n in tray_of(job).items())
    return f"tray: found {left}, wanted none left before it is closed" if left else ""


def off_refusal(job: Job, state: str, reason: str) -> str:
    """
    Say why a device may not be closed by hand; nothing if its path has nothing off.

    Who closed it without the bench gives a reason.
    """
    if state not in CLOSED or job.state in CLOSED or reason.strip():
        return ""
    row = bench_runs.latest(job)
    if row is None or row.kind == BenchRun.RECORDING:
        return ""
    off = sorted(bench_runs.told(row).state.off)
    if not off:
        return ""
    named = ", ".join(off[:_MOST_NAMED]) + (" and more" if off[_MOST_NAMED:] else "")
    return f"path: found off at the bench: {named}; wanted them told back, or a reason"


def knows_tray(job: Job, holder: str) -> bool:
    """
    Say whether who takes an open device out of isolation knows what its tray holds.

    That is who had it open when it was isolated, and who counted the tray since.
    """
    moves = Entry.objects.filter(subject=job.ref, journal="custody", verb="moved")
    since = None
    for entry in map(ledger_entry, moves.order_by("-sequence")):
        if entry.text("state") != "isolated":
            if entry.text("holder") == holder:
                return True
            break
        since = entry.at
    told = Entry.objects.filter(subject=job.ref, journal="bench", verb="action")
    counted = map(ledger_entry, told.filter(author=holder))
    return any(
        entry.text("does") == "handover" and (since is None or entry.at >= since)
        for entry in counted
    )

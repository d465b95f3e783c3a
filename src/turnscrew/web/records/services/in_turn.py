"""At what time is something written of a device, whatever the clock did meanwhile?"""

from datetime import datetime, timedelta

from django.db.models import Max

from turnscrew.web.records.models import BenchStroke, Entry, Job, PackLog


def in_turn(job: Job, now: datetime) -> datetime:
    """
    Give the time to write of a device: never before what was written of it last.

    A clock that was put back, be it by a minute, would turn round what came first: a
    quote would stand before the finding it speaks of. The journal keeps the clock's own
    time beside it, and marks it as doubtful.
    """
    if not Entry.objects.filter(subject=job.ref, at__gt=now).exists():
        return now
    of_it = BenchStroke.objects.filter(run__job=job)
    times = (
        *job.findings.aggregate(Max("at"), Max("withdrawn_at")).values(),
        *job.quotes.aggregate(Max("at")).values(),
        *job.approvals.aggregate(Max("asked_at"), Max("answered_at")).values(),
        *job.runs.aggregate(Max("at")).values(),
        *of_it.aggregate(Max("told_at")).values(),
        *PackLog.objects.filter(job=job).aggregate(Max("at")).values(),
    )
    last = max((at for at in times if at is not None), default=now)
    return max(now, last + timedelta(microseconds=1))

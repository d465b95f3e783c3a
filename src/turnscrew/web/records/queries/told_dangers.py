"""What was written of devices since they came that may tell of a danger?"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime

from django.db.models import Q, QuerySet

from turnscrew.core.reconcile.danger_words import ISOLATED
from turnscrew.web.records.models import Finding, Incident, Job, PackLog
from turnscrew.web.records.queries.as_of import stands_at, written_by
from turnscrew.web.records.queries.in_parts import among

BAD = frozenset({"swollen", "warm", "damaged"})
"""Words of the log of packs that speak of one that may harm."""

AWAY = frozenset({"taken out", "boxed", "gone"})
"""Words of it that say that a pack is in its device no more."""


def told_by_job(
    jobs: Iterable[Job],
    *,
    then: datetime | None = None,
    since: datetime | None = None,
) -> Mapping[int, tuple[str, ...]]:
    """
    Give the words that stand of each device: findings, packs, incidents not closed.

    Findings that are the answer of a test are left out, as their words name what was
    looked for. Of the log, a pack that was bad counts until it is away. What was
    written up to ``since``, if one is given, is left out, and with ``then`` what was
    written later.
    """
    jobs = list(jobs)
    reported = {job.pk: job.reported.strip() for job in jobs}
    listed = list(reported)
    told: dict[int, list[str]] = defaultdict(list)
    findings = Finding.objects.filter(written_by(then), result="", code="")
    logged = PackLog.objects.filter(written_by(then))
    stood = Q(closed_on=None)
    if then is not None:
        stood |= Q(closed_on__gt=then.date())
    open_ = Incident.objects.filter(stood, written_by(then, "written_at"))
    if since is not None:
        findings, logged = findings.filter(at__gt=since), logged.filter(at__gt=since)
        open_ = open_.filter(written_at__gt=since)
    spoken = (
        findings.filter(stands_at(then)).exclude(words="").values_list("job", "words")
    )
    for key, words in among(spoken, "job", listed):
        # What the customer said when it came is read by itself.
        if words.strip() != reported[key]:
            told[key].append(words)
    for (key, _), event in _last_words(logged, listed).items():
        if event in BAD:
            told[key].append(f"pack log: {event}")
    apart = [] if since else isolated_without_words(jobs)
    for key, words in (*among(open_.values_list("job", "what"), "job", listed), *apart):
        told[key].append(words)
    return {key: tuple(told[key]) for key in listed}


def _last_words(
    logged: QuerySet[PackLog], jobs: Iterable[int]
) -> dict[tuple[int, str], str]:
    """Give by device and pack the last word on whether it may harm there."""
    says = logged.filter(event__in=BAD | AWAY).order_by("id")
    rows = among(says.values_list("job", "pack", "event"), "job", jobs)
    return {(key, pack): event for key, pack, event in rows}


def is_bad_in(job: Job, pack: str) -> bool:
    """Say whether the log tells of a bad pack that is still in a device."""
    logged = PackLog.objects.filter(pack=pack)
    return _last_words(logged, [job.pk]).get((job.pk, pack)) in BAD


def device_with_bad(pack: str) -> Job | None:
    """Give the device that a pack is bad in by the log, if only the pack is named."""
    rows = PackLog.objects.filter(pack=pack).exclude(job=None)
    last = rows.select_related("job__batch").order_by("-id").first()
    if last is None or last.job is None or not is_bad_in(last.job, pack):
        return None
    return last.job


def logs_bad_pack(job: Job) -> bool:
    """Say whether the log tells of any bad pack that is still in a device."""
    return bool(BAD & set(_last_words(PackLog.objects.all(), [job.pk]).values()))


def was_isolated(job: Job, then: datetime | None = None) -> bool:
    """Say whether a device was isolated, and nobody said since that it need not be."""
    told = job.findings.filter(stands_at(then), written_by(then))
    told = told.filter(words__startswith=ISOLATED)
    return told.exists() or bool(isolated_without_words([job]))


def isolated_without_words(jobs: Iterable[Job]) -> list[tuple[int, str]]:
    """Give why devices lie apart of which an older version wrote no finding."""
    apart = {job.pk: job for job in jobs if job.state == "isolated"}
    if not apart:
        return []
    told = Finding.objects.filter(words__startswith=ISOLATED)
    known = set(among(told.values_list("job", flat=True), "job", apart))
    return [
        (key, f"{ISOLATED}{job.reason}")
        for key, job in apart.items()
        if key not in known
    ]

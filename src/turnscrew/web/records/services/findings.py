"""How is it written down what a device was found to have?"""

from collections.abc import Iterable, Mapping
from datetime import datetime

from turnscrew.core.model.nearest import wanted_name
from turnscrew.core.reconcile.danger_words import WRITTEN_PACK
from turnscrew.files.batch_folder import code_wanted
from turnscrew.web.records.models import Batch, Finding, Job, Person
from turnscrew.web.records.queries.closing import AGREES, CAUSES
from turnscrew.web.records.queries.free_stock import models_of_parts
from turnscrew.web.records.queries.power_bars import was_seen_to
from turnscrew.web.records.queries.skills import release_refusal
from turnscrew.web.records.queries.terms_text import danger_of, terms_of
from turnscrew.web.records.services.batch_lines import jobs_at
from turnscrew.web.records.services.donor_findings import keep_to_findings
from turnscrew.web.records.services.in_turn import in_turn
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import read_anew
from turnscrew.web.records.services.on_record import require_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@writing
def note_finding(
    job: Job,
    stage: str,
    *,
    by: Person,
    now: datetime,
    code: str = "",
    words: str = "",
    result: str = "",
    wrong: Mapping[str, str] | None = None,
) -> Finding:
    """
    Write what was reported, seen or confirmed; a code must be one of the terms.

    What was wrong has a part, a mode and a cause, and agrees with what was said or not.
    """
    require_on_record(job.batch.customer_id)
    told = {name: said.strip() for name, said in (wrong or {}).items()}
    _refuse_wrong(told)
    if code and job.batch.terms_text:
        _refuse_code(job, code)
    told |= {"code": code, "words": words, "result": result}
    if not any(one.strip() for one in told.values()):
        raise RefusedError("finding: found neither code nor words, wanted one of them")
    finding = _written(job, stage, told, by=by, now=now)
    if stage == Finding.CONFIRMED and was_seen_to(job, code):
        # Seen before the work that saw to it, it is there once more.
        _written(job, Finding.SEEN, {"code": code}, by=by, now=now)
    return finding


def _refuse_code(job: Job, code: str) -> None:
    terms = terms_of(job.batch)
    if code not in terms.faults:
        wanted = wanted_name(code, terms.faults)
    else:
        wanted = code_wanted(code, job.model, terms, models_of_parts(terms, code))
    if wanted:
        raise RefusedError(f"code: found {code}, wanted {wanted}")


@writing
def confirm_known(job: Job, codes: Iterable[str], *, by: Person, now: datetime) -> None:
    """Confirm faults that were seen: from here on those confirmed count alone."""
    for code in codes:
        _written(job, Finding.CONFIRMED, {"code": code}, by=by, now=now)


def _written(
    job: Job, stage: str, told: Mapping[str, str], *, by: Person, now: datetime
) -> Finding:
    finding = Finding.objects.create(
        job=job, stage=stage, by=by, at=in_turn(job, now), **told
    )
    kept = ("code", "result", "cause", "agrees")
    append(
        "bench", "found fault", job.ref, by=by, now=now,
        facts={"stage": stage} | {name: told.get(name, "") for name in kept},
        words=told.get("words", ""),
    )  # fmt: skip
    keep_to_findings(job, by=by, now=now)
    return finding


@writing
def confirm_several(
    batch: Batch,
    lines: Iterable[int],
    wrong: Mapping[str, str],
    *,
    by: Person,
    now: datetime,
    code: str = "",
) -> int:
    """Write the same confirmed fault for several devices: for all of them, or none."""
    jobs = jobs_at(batch, lines)
    for job in jobs:
        note_finding(job, Finding.CONFIRMED, by=by, now=now, code=code, wrong=wrong)
    return len(jobs)


def _refuse_wrong(told: Mapping[str, str]) -> None:
    known = {"cause": CAUSES, "agrees": AGREES}
    reasons = [
        f"{name}: found {told[name]}, wanted one of {', '.join(words)}"
        for name, words in known.items()
        if told.get(name) and told[name] not in words
    ]
    if reasons:
        raise RefusedError(*reasons)


def _tells_of_pack(finding: Finding) -> bool:
    """Say whether a finding tells of a bad pack."""
    is_code = danger_of(finding.job.batch, finding.code) == "pack"
    return is_code or not finding.result and WRITTEN_PACK.are_in(finding.words)


@writing
def withdraw_finding(
    finding: Finding, *, by: Person, now: datetime, words: str
) -> None:
    """Take a finding back; it stays readable with the reason."""
    read_anew(finding)
    require_on_record(finding.job.batch.customer_id)
    if finding.withdrawn_at is not None:
        raise RefusedError(
            "finding: found one withdrawn already, wanted one that holds"
        )
    reasons = []
    if not words.strip():
        reasons.append("reason: found none, wanted why it does not hold")
    if _tells_of_pack(finding):
        reasons.append(release_refusal(finding.job, by.ref, now))
    if any(reasons):
        raise RefusedError(*filter(None, reasons))
    finding.withdrawn_at = in_turn(finding.job, now)
    finding.save()
    append(
        "bench", "undone", finding.job.ref, by=by, now=now,
        facts={"stage": finding.stage, "code": finding.code}, words=words,
    )  # fmt: skip
    keep_to_findings(finding.job, by=by, now=now)

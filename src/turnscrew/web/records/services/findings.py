"""How is it written down what a device was found to have?"""

from datetime import datetime

from turnscrew.core.model.nearest import wanted_name
from turnscrew.web.records.models import Finding, Job, Person
from turnscrew.web.records.queries.batch_input import terms_of
from turnscrew.web.records.services.journal import append
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
) -> Finding:
    """Write what was reported, seen or confirmed; a code must be one of the terms."""
    if code and job.batch.terms_text:
        known = terms_of(job.batch).faults
        if code not in known:
            wanted = wanted_name(code, known)
            raise RefusedError(f"code: found {code}, wanted {wanted}")
    finding = Finding.objects.create(
        job=job, stage=stage, code=code, words=words, result=result, by=by, at=now
    )
    append(
        "bench", "found fault", job.ref, by=by, now=now,
        facts={"stage": stage, "code": code, "result": result}, words=words,
    )  # fmt: skip
    return finding


@writing
def withdraw_finding(
    finding: Finding, *, by: Person, now: datetime, words: str
) -> None:
    """Take a finding back; it stays readable with the reason."""
    if finding.withdrawn_at is not None:
        raise RefusedError(
            "finding: found one withdrawn already, wanted one that holds"
        )
    if not words.strip():
        raise RefusedError("reason: found none, wanted why it does not hold")
    finding.withdrawn_at = now
    finding.save()
    append(
        "bench", "undone", finding.job.ref, by=by, now=now,
        facts={"stage": finding.stage, "code": finding.code}, words=words,
    )  # fmt: skip

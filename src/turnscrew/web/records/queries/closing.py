"""May a device that was worked on be packed: is it known what was said, seen, wrong?"""

from turnscrew.core.reconcile.danger_words import ISOLATED
from turnscrew.web.records.models import Approval, Finding, Job, Trial
from turnscrew.web.records.queries.again import third_time_refusal
from turnscrew.web.records.queries.found_faults import NOT_FOUND
from turnscrew.web.records.queries.terms_text import terms_of

CAUSES = (
    "wear", "drop or knock", "liquid", "heat", "dirt", "cleaning agent",
    "material or making", "earlier work", "wrong use", "not known after looking",
)  # fmt: skip
"""Failure causes that can be confirmed."""

AGREES = ("yes", "no", "nothing said")
"""Whether what was confirmed is what the customer's words named."""


NOT_MENDED = "not mended"
"""As what a job ends with nothing done: closed up as it was, refused, or not agreed."""


def closing_refusals(job: Job, state: str) -> list[str]:
    """Say what keeps a device from being packed, or from going back as it came."""
    if state not in {"packed", "returned unrepaired"}:
        return []
    held = [one for one in job.findings.all() if one.withdrawn_at is None]
    if state == "returned unrepaired":
        return _trial_refusals(job) if _says_not_found(job, held) else []
    reasons = [*_not_told(job, held), *_not_answered(job)]
    again = third_time_refusal(job)
    return [*reasons, again] if again else reasons


def _not_answered(job: Job) -> list[str]:
    """Refuse to pack what the customer was asked about and has not answered."""
    asked, quote = job.approvals.last(), job.quotes.last()
    is_open = asked is not None and asked.answer == Approval.PENDING
    if not is_open or quote is None or quote.code != "ask":
        return []
    return [
        "answer: found none to what was asked, wanted a yes or no, or the device "
        "returned unrepaired"
    ]


def _not_told(job: Job, held: list[Finding]) -> list[str]:
    # Why it was isolated says nothing of what is wrong with it.
    stages = {one.stage for one in held if not one.words.startswith(ISOLATED)}
    reasons = []
    if Finding.REPORTED not in stages and not job.reported.strip():
        reasons.append(
            "said: found nothing, wanted what the customer said, or that nothing was"
        )
    if Finding.SEEN not in stages:
        reasons.append("seen: found nothing, wanted what was seen")
    confirmed = [one for one in held if one.stage == Finding.CONFIRMED]
    return reasons + _not_confirmed(job, confirmed)


def _not_confirmed(job: Job, confirmed: list[Finding]) -> list[str]:
    if not confirmed:
        return ["confirmed: found nothing, wanted part, mode and cause"]
    unfound = {one.pk for one in confirmed if is_not_found(one, _trial_codes(job))}
    reasons = _trial_refusals(job) if unfound else []
    faults = [one for one in confirmed if one.pk not in unfound]
    whole = {one.code for one in faults if not lacking(one)}
    for one in faults:
        # The bench writes a code alone; who knows part, mode and cause adds them.
        if not lacking(one) or one.code in whole - {""}:
            continue
        named = one.code or one.words or "without a code"
        reasons.append(f"confirmed, {named}: wanted {', '.join(lacking(one))} too")
    return reasons


def _says_not_found(job: Job, held: list[Finding]) -> bool:
    confirmed = [one for one in held if one.stage == Finding.CONFIRMED]
    codes = _trial_codes(job) if confirmed else frozenset()
    return any(is_not_found(one, codes) for one in confirmed)


def lacking(one: Finding) -> list[str]:
    """Name which of part, mode and cause a confirmed fault lacks."""
    told = {"part": one.part, "mode": one.mode, "cause": one.cause}
    return [name for name, words in told.items() if not words.strip()]


def is_not_found(one: Finding, trial_codes: frozenset[str]) -> bool:
    """Say whether a finding says that no fault was found."""
    return one.mode == NOT_FOUND or one.code in trial_codes


def _trial_codes(job: Job) -> frozenset[str]:
    """Give the codes of the terms that stand for a trial."""
    if not job.batch.terms_text:
        return frozenset()
    faults = terms_of(job.batch).faults
    return frozenset(code for code, fault in faults.items() if fault.is_trial)


def _trial_refusals(job: Job) -> list[str]:
    if any(one.result == Trial.NOT_SHOWN for one in job.trials.all()):
        return []
    return [
        "trial: found none on record in which the fault did not show, wanted one "
        "before no fault found is the end"
    ]


def confirmed_end(job: Job) -> str:
    """Say as what a job ends by what was confirmed; nothing if nothing was."""
    rows = job.findings.filter(stage=Finding.CONFIRMED, withdrawn_at=None)
    codes = _trial_codes(job)
    kinds = {is_not_found(one, codes) for one in rows}
    if not kinds:
        return ""
    return NOT_FOUND if kinds == {True} else "mended"

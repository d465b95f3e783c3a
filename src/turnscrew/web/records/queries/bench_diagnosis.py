"""What is known of the fault of a device, and what is tested next?"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any

from turnscrew.core.diagnose.advice import Advice, action_words
from turnscrew.core.diagnose.entry import evidence_from, finding_from
from turnscrew.core.diagnose.evidence import (
    CANNOT_TELL,
    CHECK_OUT,
    NO_WORD,
    NOT_APPLICABLE,
    NOT_TRIED,
    STILL_AT_FAULT,
    Evidence,
    belief_after,
)
from turnscrew.core.diagnose.hazards import LIKELY, faults_without_power
from turnscrew.core.diagnose.pose import Layering, reaches_of
from turnscrew.core.diagnose.problem import VERIFY
from turnscrew.core.model.faults import FaultTable
from turnscrew.core.model.faults import KnownGood as Item
from turnscrew.core.price.decide import worth_limit_minor
from turnscrew.errors import BadArgumentError
from turnscrew.flows.diagnosis import layering, next_step
from turnscrew.flows.open_repairs import PSEUDO_CASES
from turnscrew.flows.words import read_words
from turnscrew.web.records import convert
from turnscrew.web.records.models import Description, Finding, Job, KnownGood
from turnscrew.web.records.queries.bench_goal import dangers_of
from turnscrew.web.records.queries.bench_tried import (
    Said,
    open_layers,
    tried_at_bench,
)
from turnscrew.web.records.queries.data_terms import data_lines
from turnscrew.web.records.queries.descriptions import device_in, faults_in, used_by
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.queries.search_time import within
from turnscrew.web.records.queries.stock_page import tied_to
from turnscrew.web.records.queries.terms_text import terms_of

_LIKELY = 3
"""Faults named at the bench; more cannot be taken in at a glance. [1]"""

_LAYERS_S = 6.0
"""Time in which the layers are priced, once for each revision; then as found. [s]"""

WORKS = "works"
"""Answer to a repair or a check-out after which nothing is left to find."""

_NO_TEST = {
    "name": "", "says": "", "how": "",
    "why": [], "opens": [], "cautions": [], "known_good": [], "minutes": 0,
    "answers": [], "without": [], "unit": "",
}  # fmt: skip
"""What the bench is told where it is to test nothing."""

_WORKS_NOW = {
    **_NO_TEST,
    "says": "It works: confirm the fault, then go on.",
    "name": CHECK_OUT,
    "answers": [STILL_AT_FAULT],
}
"""What the bench is told once it works; that it does not after all may be told yet."""


def diagnosis_of(job: Job, is_time_up: Callable[[], bool]) -> dict[str, Any]:
    """
    Give what is known, the next test with its reason, and how it is answered.

    While something keeps power off the device no test is advised: that comes first.
    """
    description = used_by(job)
    if description is None or not description.faults_text:
        raise BadArgumentError(
            f"fault table: found none of {job.model}, wanted one beside its description"
        )
    table, layers = _table(description.ref, job.revision)
    signs, said = _signs(table, job.reported)
    told = job.findings.filter(stage="seen", withdrawn_at=None).exclude(words="")
    tests = _in_turn(_answers_in(table, told), tried_at_bench(job, table))
    known = [*said, *_in_other_words(table, told), *(one.words for one in tests)]
    if _works(tests):
        return {"known": known, "likely": [], "next": _WORKS_NOW, "is_guess": False}
    dangers = dangers_of(job)
    if bar := why_no_power(job):
        return {
            "known": known, "likely": [], "next": _barred(bar, dangers),
            "is_guess": False,
        }  # fmt: skip
    evidence = _evidence(table, signs, tests)
    proven = _worth_its_own(_without_withdrawn(table, job.model), job)
    advice = next_step(
        proven, layers, evidence, "block", is_time_up, open_now=open_layers(job, layers)
    )
    return {
        # The bench shows all that is known, of the reasons but the first.
        "known": [*known, *advice.belief.clash_words],
        "likely": _likely(advice),
        "next": _next(table, advice, [*dangers, *data_lines(job)]),
        "is_guess": advice.is_guess,
    }


def suspected(job: Job) -> list[str]:
    """
    Name the dangers that the last answer of a test made likely: pack, liquid.

    From there on nothing powers the device, whatever path its bench has.
    """
    description = used_by(job)
    assert description is not None
    device = device_in(description, job.revision)
    table, _ = _table(description.ref, job.revision)
    signs, _ = _signs(table, job.reported)
    told = job.findings.filter(stage="seen", withdrawn_at=None).exclude(words="")
    answers, tried = _answers_in(table, told), tried_at_bench(job, table)
    until, then = (
        _evidence(table, signs, _in_turn(known, tried))
        for known in (answers[:-1], answers)
    )
    dangers: dict[str, list[str]] = {}
    for name in faults_without_power(table, then):
        part = device.parts.get(table.faults[name].part)
        is_pack = part is not None and part.kind == "battery"
        dangers.setdefault("pack" if is_pack else "liquid", []).append(name)
    was, now = (
        belief_after(table, table.weights, known).after for known in (until, then)
    )
    return [
        kind
        for kind, names in dangers.items()
        if (p := sum(now[name] for name in names)) >= LIKELY
        and p > sum(was[name] for name in names)
    ]


def _answers_in(table: FaultTable, told: Iterable[Finding]) -> list[Said]:
    """Give the findings that answer a test, or say how a repair or check-out ended."""
    return [
        Said(one.at, one.words, one.result, f"{one.words}: {one.result}")
        for one in told
        if _is_answer(table, one.words, one.result)
    ]


def _in_turn(answers: list[Said], tried: list[Said]) -> list[Said]:
    """Put what was answered and what was done into the order of their times."""
    return sorted([*tried, *answers], key=lambda one: one.at)


def _in_other_words(table: FaultTable, told: Iterable[Finding]) -> list[str]:
    """Give what was written of a test in words that are no answer to it."""
    names = {*table.tests, *table.repairs, CHECK_OUT}
    return [
        f"said, in no words of the table: {one.words} {one.result}".strip()
        for one in told
        if one.words in names and not _is_answer(table, one.words, one.result)
    ]


def _is_answer(table: FaultTable, test: str, result: str) -> bool:
    """Say whether a finding is an answer; one written in other words is none."""
    try:
        _require_answer(table, test, result)
    except BadArgumentError:
        return False
    return True


def _require_answer(table: FaultTable, test: str, answer: str) -> None:
    if answer != WORKS or test not in (*table.repairs, CHECK_OUT):
        finding_from(table, f"{test}={answer}")


def _works(tests: Iterable[Said]) -> bool:
    """Say whether the last word was that it works."""
    words = [one.result for one in tests if one.result not in NO_WORD]
    return words[-1:] == [WORKS]


def _evidence(
    table: FaultTable, signs: tuple[str, ...], tests: Iterable[Said]
) -> Evidence:
    """Weigh the answers; of a repair after which it worked for a while none is sure."""
    answers = (
        f"{one.test}={CANNOT_TELL if one.result == WORKS else one.result}"
        for one in tests
    )
    return evidence_from(table, signs, tuple(answers))


def _barred(why: str, dangers: Sequence[str]) -> dict[str, Any]:
    """Give in place of a test what must be seen to before one."""
    return {
        **_NO_TEST,
        "says": f"No test, no power: {why}. See to that first.",
        "cautions": list(dangers),
    }


def checked_answer(job: Job, test: str, answer: str) -> str:
    """Give the answer to a test as it is kept; refuse what the table does not know."""
    description = used_by(job)
    if description is None or not description.faults_text:
        raise BadArgumentError(f"fault table: found none of {job.model}, wanted one")
    table, _ = _table(description.ref, job.revision)
    _require_answer(table, CHECK_OUT if test == VERIFY else test, answer)
    return answer


@lru_cache(maxsize=16)
def _table(ref: str, revision: str) -> tuple[FaultTable, Layering]:
    description = Description.objects.get(ref=ref)
    device = device_in(description, revision)
    table = faults_in(description, device)
    assert table is not None
    layers = layering({revision: (device, 1.0)}, reaches_of(table), within(_LAYERS_S))
    return table, layers


def _without_withdrawn(table: FaultTable, model: str) -> FaultTable:
    """Tell of a table's known-good items what the set of the workshop says of them."""
    rows = list(KnownGood.objects.all())
    return replace(
        table,
        known_good={
            name: _as_kept(item, tied_to(rows, model, name, item.what))
            for name, item in table.known_good.items()
        },
    )


def _worth_its_own(table: FaultTable, job: Job) -> FaultTable:
    """
    Let giving up cost what this very device is worth mending for, by its terms.

    The table knows one figure for all revisions; it stands where the terms know none.
    """
    terms = terms_of(job.batch) if job.batch.terms_text else None
    if terms is None or job.model not in terms.models:
        return table
    limit = worth_limit_minor(convert.batch_line(job, ()), terms)
    if limit is None:
        return table
    return replace(table, give_up=replace(table.give_up, price=limit))


def _as_kept(item: Item, row: KnownGood | None) -> Item:
    """Take day and withdrawal from the set; what it does not hold is told as such."""
    if row is None:
        return replace(item, what=f"{item.what} (not in the workshop's known-good set)")
    if row.withdrawn_on is not None:
        return replace(item, failed=True)
    if row.verified_on is None:
        return item
    return replace(item, verified=row.verified_on, on=row.verified_with)


def _signs(table: FaultTable, reported: str) -> tuple[tuple[str, ...], list[str]]:
    """Give the signs in what was reported, and how each part of it was read."""
    signs: list[str] = []
    said: list[str] = []
    for words in filter(None, (part.strip() for part in reported.split(";"))):
        has_letters = any(map(str.isalpha, words))
        read = (
            read_words(table, words, open_cases=PSEUDO_CASES) if has_letters else None
        )
        if read is None or not read.sign:
            said.append(f"said, in no words of the table: {words}")
            continue
        signs.append(read.sign)
        if read.is_exact:
            said.append(f"said: {read.sign}")
        else:
            by = ", ".join(read.by)
            p = _share(read.signs[read.sign])
            said.append(f"said: {words}; read as {read.sign}, {p} by {by}")
    return tuple(dict.fromkeys(signs)), list(dict.fromkeys(said))


def _likely(advice: Advice) -> list[str]:
    ranked = sorted(advice.belief.after.items(), key=lambda pair: -pair[1])
    return [f"{name} {_share(p)}" for name, p in ranked[:_LIKELY]]


def _share(p: float) -> str:
    """Say a probability; nothing short of proof is sure."""
    return f"{min(99, max(1, round(100 * p)))} %"


def _next(table: FaultTable, advice: Advice, heed: list[str]) -> dict[str, Any]:
    name = CHECK_OUT if advice.action == VERIFY else advice.action
    return {
        "name": name,
        "says": action_words(advice.action),
        "how": advice.how,
        "why": [*_also(advice), *_reasons(advice)],
        "opens": list(advice.opens),
        "cautions": [*heed, *advice.cautions],
        "known_good": list(advice.known_good),
        "minutes": _minutes(table, name),
        **_answers(table, name),
    }


def _also(advice: Advice) -> list[str]:
    if not advice.block:
        return []
    return [f"Then, before the same check-out: {', '.join(advice.block)}."]


def _reasons(advice: Advice) -> list[str]:
    clashes = advice.belief.clash_words
    return [one for one in advice.why if one not in clashes]


def _minutes(table: FaultTable, name: str) -> float:
    """Give how long a test or repair takes by itself."""
    what = table.tests.get(name) or table.repairs.get(name)
    return what.minutes if what is not None else 0


def _answers(table: FaultTable, name: str) -> dict[str, Any]:
    test = table.tests.get(name)
    if test is None:
        is_end = name not in (*table.repairs, CHECK_OUT)
        return {
            "answers": [] if is_end else [WORKS, STILL_AT_FAULT], "unit": "",
            "without": [NOT_APPLICABLE, CANNOT_TELL] if name in table.repairs else [],
        }  # fmt: skip
    without, reading = [NOT_APPLICABLE, CANNOT_TELL], test.reading
    if reading is None:
        answers = [*test.outcomes, NOT_TRIED]
        return {"answers": answers, "unit": "", "without": without}
    return {
        "answers": [], "unit": reading.unit, "low": reading.low, "high": reading.high,
        "source": reading.source, "without": without,
        "is_signed": reading.least is None or reading.least < 0,
    }  # fmt: skip

"""
What do signs and findings say about the faults?

Method: Bayes' rule over one fault at a time and "nothing wrong"; signs and tests are
independent once the fault is known. A reading is judged by the meter's stated accuracy
taken as a normal error: the chance that the true value lies on each side of a limit
weighs the outcomes (in the manner of JCGM 106:2012, section 7).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations
from math import erf, sqrt
from typing import TypeAlias, TypeVar

from turnscrew.core.diagnose.answer import FAILS
from turnscrew.core.model.faults import (
    NOTHING_WRONG,
    OTHERS,
    FaultRepair,
    FaultTable,
    Reading,
)

NOT_TRIED = "not tried"
NOT_APPLICABLE = "not applicable"
CANNOT_TELL = "could not tell"
NO_WORD = (NOT_TRIED, NOT_APPLICABLE, CANNOT_TELL)
"""
Three answers that say nothing about the fault, and are not the same.

That nobody could tell of a repair says that it was made: it may have mended.
"""

STILL_AT_FAULT = FAILS
CHECK_OUT = "check-out"

_MADE = (STILL_AT_FAULT, CANNOT_TELL)

FLOOR = 0.005
"""Chance put in place of 0 once findings have excluded everything [1]."""

CLASH_RATIO = 0.1
"""Two findings clash if together they are this much rarer than apart [1]."""

_COVERAGE = sqrt(3)

_Step: TypeAlias = tuple[str, dict[str, float] | FaultRepair]
"""What was said, and what it does to the chances."""

_Told = TypeVar("_Told", float, tuple[float, ...])


@dataclass(frozen=True)
class Finding:
    """
    What was found by one test, or by a repair that did not mend.

    Parameters
    ----------
    name
        Test, repair or check-out.
    outcome
        What came of it; one of three words if nothing did.
    reading
        The figure read, in the test's unit, if it was a reading.
    """

    name: str
    outcome: str
    reading: float | None = None

    @property
    def words(self) -> str:
        """Say it as it was entered."""
        shown = self.outcome if self.reading is None else f"{self.reading:g}"
        return f"{self.name}: {shown}"


@dataclass(frozen=True)
class Evidence:
    """
    What is known of the device on the bench.

    Parameters
    ----------
    signs
        Signs the customer told or that were seen.
    findings
        Findings, in the order they were made.
    """

    signs: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def is_none(self) -> bool:
        """True if only the priors speak."""
        return not self.signs and not any(
            finding.outcome not in NO_WORD for finding in self.findings
        )


@dataclass(frozen=True)
class Belief:
    """
    How likely each fault is.

    Parameters
    ----------
    before
        Probability of each fault, and of nothing wrong, before any sign. [1]
    after
        The same after all signs and findings. [1]
    likelihoods
        For each sign and finding that says something its chance under each. [1]
    clashes
        Pairs of signs or findings that speak against one another.
    is_floored
        True if everything was excluded, so that 0 was replaced by a small chance.
    """

    before: dict[str, float]
    after: dict[str, float]
    likelihoods: dict[str, dict[str, float]]
    clashes: tuple[tuple[str, str], ...]
    is_floored: bool

    @property
    def clash_words(self) -> list[str]:
        """Name what speaks against one another, a sentence for each pair."""
        return [
            f"These two speak against each other, and both are kept: {one} / {two}."
            for one, two in self.clashes
        ]


def belief_after(
    table: FaultTable, weights: Mapping[str, float], evidence: Evidence
) -> Belief:
    """
    Reckon the belief after signs and findings.

    Parameters
    ----------
    table
        The fault table.
    weights
        Probability of each fault given that something is wrong. [1]
    evidence
        Signs and findings, all known to the table.

    Returns
    -------
    Belief
        Belief before and after.
    """
    share = 1 - table.nothing_wrong
    total = sum(weights.values())
    before = {name: share * weight / total for name, weight in weights.items()}
    before[NOTHING_WRONG] = table.nothing_wrong
    steps = _steps(table, evidence)
    likelihoods: dict[str, dict[str, float]] = {}
    for words, step in steps:
        if not isinstance(step, FaultRepair):
            likelihoods.setdefault(words, step)
    after = _stepped(before, steps, floor=0.0)
    is_floored = not sum(after.values()) > 0
    if is_floored:
        after = _stepped(before, steps, floor=FLOOR)
    mass = sum(after.values())
    return Belief(
        before,
        {name: weight / mass for name, weight in after.items()},
        likelihoods,
        _clashes(before, likelihoods),
        is_floored,
    )


def told_of(named: Mapping[str, _Told], fault: str) -> _Told:
    """
    Look up what a table tells of a fault, where others share one line.

    Parameters
    ----------
    named
        A chance or a row of chances by fault.
    fault
        The fault, or nothing wrong.

    Returns
    -------
    float or tuple
        The chance or the row. [1]
    """
    return named[fault] if fault in named else named[OTHERS]


def shares_of_reading(reading: Reading, value: float) -> tuple[float, float, float]:
    """
    Reckon on which side of the limits the true value of a reading lies.

    The stated accuracy is the half width a of an even spread; its standard
    uncertainty is u = a / sqrt(3), and the true value is normal about the reading.

    Parameters
    ----------
    reading
        Limits and accuracy.
    value
        The figure read, in the reading's unit.

    Returns
    -------
    tuple
        Chance of lying below, within and above the limits. [1]
    """
    u = (abs(value) * reading.percent / 100 + reading.plus) / _COVERAGE
    below = 0.0 if reading.low is None else _normal(reading.low - value, u)
    above = 0.0 if reading.high is None else _normal(value - reading.high, u)
    return below, max(0.0, 1 - below - above), above


def _normal(distance: float, u: float) -> float:
    if u <= 0:
        return 1.0 if distance > 0 else 0.0
    return 0.5 * (1 + erf(distance / (u * sqrt(2))))


def _steps(table: FaultTable, evidence: Evidence) -> list[_Step]:
    """Give what each sign and finding does; a repair mends at its first try only."""
    findings = _without_retaken(table, evidence.findings)
    steps: list[_Step] = [(sign, _of_sign(table, sign)) for sign in evidence.signs]
    tried: set[str] = set()
    for finding in findings:
        known, is_again = finding, finding.name in tried
        if is_again and finding.outcome == STILL_AT_FAULT:
            known = Finding(CHECK_OUT, STILL_AT_FAULT)
        likelihood = _of_finding(table, known)
        if likelihood is not None:
            steps.append((finding.words, likelihood))
        elif finding.outcome == CANNOT_TELL and finding.name in table.repairs:
            if not is_again:
                steps.append((finding.words, table.repairs[finding.name]))
        if finding.name in table.repairs and finding.outcome in _MADE:
            tried.add(finding.name)
    return steps


def _without_retaken(
    table: FaultTable, findings: Iterable[Finding]
) -> Iterable[Finding]:
    """Leave out readings that were taken again before a repair may have mended."""
    retaken: set[str] = set()
    kept = []
    for finding in reversed([*findings]):
        if finding.reading is not None and finding.name in retaken:
            continue
        if finding.reading is not None:
            retaken.add(finding.name)
        elif finding.name in table.repairs and finding.outcome == CANNOT_TELL:
            retaken.clear()
        kept.append(finding)
    return reversed(kept)


def _of_sign(table: FaultTable, sign: str) -> dict[str, float]:
    chances = table.signs[sign].chances
    names = (*table.faults, NOTHING_WRONG)
    return {name: told_of(chances, name) for name in names}


def _of_finding(table: FaultTable, finding: Finding) -> dict[str, float] | None:
    if finding.outcome in NO_WORD:
        return None
    if finding.name == CHECK_OUT:
        return {**dict.fromkeys(table.faults, 1.0), NOTHING_WRONG: 0.0}
    repair = table.repairs.get(finding.name)
    if repair is not None:
        left = {name: 1 - repair.mends.get(name, 0.0) for name in table.faults}
        return {**left, NOTHING_WRONG: 0.0}
    test = table.tests[finding.name]
    shares = [float(outcome == finding.outcome) for outcome in test.all_outcomes]
    if test.reading is not None and finding.reading is not None:
        shares = list(shares_of_reading(test.reading, finding.reading))
    return {
        name: sum(
            share * p
            for share, p in zip(shares, told_of(test.means, name), strict=True)
        )
        for name in (*table.faults, NOTHING_WRONG)
    }


def _stepped(
    before: Mapping[str, float], steps: Iterable[_Step], *, floor: float
) -> dict[str, float]:
    # What a repair may have mended is a device of its own from there on: what is found
    # of it again tells something new, while of the others it was known.
    devices: list[tuple[dict[str, float], set[str]]] = [(dict(before), set())]
    for words, step in steps:
        if isinstance(step, FaultRepair):
            devices.append(({NOTHING_WRONG: _mended(devices, step)}, set()))
            continue
        for weights, said in devices:
            for name in weights if words not in said else ():
                weights[name] *= max(floor, step[name])
            said.add(words)
    return {
        name: sum(weights.get(name, 0.0) for weights, _ in devices) for name in before
    }


def _mended(
    devices: Iterable[tuple[dict[str, float], set[str]]], repair: FaultRepair
) -> float:
    """Take out what a repair made mends, whether or not anybody saw it."""
    moved = 0.0
    for weights, _ in devices:
        for name in weights.keys() & repair.mends.keys():
            moved += repair.mends[name] * weights[name]
            weights[name] *= 1 - repair.mends[name]
    return moved


def _clashes(
    before: Mapping[str, float], likelihoods: Mapping[str, dict[str, float]]
) -> tuple[tuple[str, str], ...]:
    def chance(*names: str) -> float:
        chosen = [(name, likelihoods[name]) for name in names]
        return sum(_stepped(before, chosen, floor=0.0).values())

    return tuple(
        (one, two)
        for one, two in combinations(likelihoods, 2)
        if one.partition(":")[0] == two.partition(":")[0]
        or chance(one, two) < CLASH_RATIO * chance(one) * chance(two)
        or not chance(one, two) > 0
    )

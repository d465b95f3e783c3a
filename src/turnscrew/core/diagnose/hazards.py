"""
May the device be switched on or charged yet?

With liquid inside or a swollen pack it may not, until work on that very fault was
done: the board cleaned and dried, the pack out; nor after it, if a later test speaks
for the fault again. While such a fault is likely, nothing powers the device; while it
is possible, a look without power comes first.
The three shares are common practice, no source.
"""

from collections.abc import Mapping
from dataclasses import replace

from turnscrew.core.diagnose.evidence import (
    CANNOT_TELL,
    NOT_APPLICABLE,
    NOT_TRIED,
    Evidence,
    belief_after,
    told_of,
)
from turnscrew.core.diagnose.problem import VERIFY
from turnscrew.core.model.faults import NOTHING_WRONG, FaultTable, FaultTest

LIKELY = 0.3
"""From here on nothing that powers the device is advised. [1]"""

POSSIBLE = 0.03
"""From here on a look without power comes first, if there is one. [1]"""

TELLS = 0.2
"""A look tells of a fault that gives at least this share of other answers. [1]"""

_EDGE = 1e-9
"""A chance that rises by less than this share stays as it is. [1]"""


def p_no_power(
    table: FaultTable, belief: Mapping[str, float], evidence: Evidence
) -> float:
    """
    Reckon how likely it is that the device must not be powered.

    Parameters
    ----------
    table
        The fault table.
    belief
        Probability of each fault. [1]
    evidence
        Signs and findings.

    Returns
    -------
    float
        The probability. [1]
    """
    return sum(belief[name] for name in faults_without_power(table, evidence))


def faults_without_power(table: FaultTable, evidence: Evidence) -> tuple[str, ...]:
    """
    Name the faults with which the device must not be powered.

    Parameters
    ----------
    table
        The fault table.
    evidence
        Signs and findings; a fault that a repair made may have mended is not among
        the answers, whether it did or not, unless tests made later speak for it.

    Returns
    -------
    tuple
        Their names.
    """
    worked_on = {
        name: n
        for n, finding in enumerate(evidence.findings)
        if finding.name in table.repairs
        and finding.outcome not in (NOT_TRIED, NOT_APPLICABLE)
        for name, chance in table.repairs[finding.name].mends.items()
        if chance > 0
    }
    return tuple(
        name
        for name, fault in table.faults.items()
        if fault.no_power
        and (name not in worked_on or _is_seen_again(table, evidence, name, worked_on))
    )


def _is_seen_again(
    table: FaultTable, evidence: Evidence, name: str, worked_on: Mapping[str, int]
) -> bool:
    """Tell whether the tests made after the work on a fault made it likelier."""
    n = worked_on[name] + 1
    until = evidence.findings[:n]
    later = tuple(one for one in evidence.findings[n:] if one.name in table.tests)
    then, now = (
        belief_after(table, table.weights, replace(evidence, findings=known)).after
        for known in (until, until + later)
    )
    return now[name] > then[name] * (1 + _EDGE)


def powers(table: FaultTable, action: str) -> bool:
    """
    Tell whether an action powers the device.

    Parameters
    ----------
    table
        The fault table.
    action
        Test, repair or power test.

    Returns
    -------
    bool
        True for a test that says so, and for the power test.
    """
    return action == VERIFY or (action in table.tests and table.tests[action].powers)


def looks_without_word(
    table: FaultTable, belief: Mapping[str, float], evidence: Evidence
) -> tuple[str, ...]:
    """
    Name the looks that could have told of such a fault and told nothing.

    Parameters
    ----------
    table
        The fault table.
    belief
        Probability of each fault. [1]
    evidence
        Signs and findings.

    Returns
    -------
    tuple[str, ...]
        Tests from outside, without power, whose last answer is no word; a test never
        tried is still open, so it is not among them.
    """
    wet = faults_without_power(table, evidence)
    last = {one.name: one.outcome for one in evidence.findings}
    return tuple(
        name
        for name, outcome in last.items()
        if outcome in (CANNOT_TELL, NOT_APPLICABLE)
        and name in table.tests
        and _is_look(test := table.tests[name])
        and _tells(belief, test, wet, _told(table, belief, test, wet))
    )


def power_limit(
    table: FaultTable, belief: Mapping[str, float], evidence: Evidence
) -> float:
    """
    Give the probability of such a fault from which on nothing is powered.

    Parameters
    ----------
    table
        The fault table.
    belief
        Probability of each fault. [1]
    evidence
        Signs and findings.

    Returns
    -------
    float
        What is possible, where a look that could tell has told nothing: what nobody
        could see is not excluded. What is likely elsewhere. [1]
    """
    is_open = bool(looks_without_word(table, belief, evidence))
    return POSSIBLE if is_open else LIKELY


def look_first(
    table: FaultTable,
    belief: Mapping[str, float],
    evidence: Evidence,
    open_tests: tuple[str, ...],
) -> str:
    """
    Choose the look from outside, without power, that tells most about such a fault.

    One of its answers must put the chance below what is possible, or make it likely, or
    the fault must change its answers often enough.

    Parameters
    ----------
    table
        The fault table.
    belief
        Probability of each fault. [1]
    evidence
        Signs and findings.
    open_tests
        Tests not yet made, by name.

    Returns
    -------
    str
        The test; empty if there is none.
    """
    wet = faults_without_power(table, evidence)
    told = {
        name: _told(table, belief, table.tests[name], wet)
        for name in open_tests
        if _is_look(table.tests[name])
    }
    telling = {
        name: much
        for name, much in told.items()
        if _tells(belief, table.tests[name], wet, much)
    }
    return max(telling, key=lambda name: telling[name], default="")


def _is_look(test: FaultTest) -> bool:
    return not test.powers and not test.reach


def _tells(
    belief: Mapping[str, float], test: FaultTest, wet: tuple[str, ...], much: float
) -> bool:
    """Tell whether a look says enough of such a fault to be worth while."""
    return much >= TELLS or _decides(belief, test, wet)


def _decides(
    belief: Mapping[str, float], test: FaultTest, wet: tuple[str, ...]
) -> bool:
    """Tell whether some answer of a test excludes such a fault or makes it likely."""
    for o in range(len(test.all_outcomes)):
        after = {name: p * told_of(test.means, name)[o] for name, p in belief.items()}
        mass, shown = sum(after.values()), sum(after[name] for name in wet)
        if mass > 0 and not POSSIBLE * mass <= shown < LIKELY * mass:
            return True
    return False


def _told(
    table: FaultTable,
    belief: Mapping[str, float],
    test: FaultTest,
    wet: tuple[str, ...],
) -> float:
    """Half the sum of differences between the outcomes with and without the fault."""
    dry = tuple(name for name in (*table.faults, NOTHING_WRONG) if name not in wet)
    with_it, without = _row(test, belief, wet), _row(test, belief, dry)
    return sum(abs(a - b) for a, b in zip(with_it, without, strict=True)) / 2


def _row(
    test: FaultTest, belief: Mapping[str, float], names: tuple[str, ...]
) -> list[float]:
    mass = sum(belief[name] for name in names) or 1.0
    return [
        sum(belief[name] / mass * told_of(test.means, name)[o] for name in names)
        for o in range(len(test.all_outcomes))
    ]

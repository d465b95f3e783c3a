"""
What did the person at the bench enter?

A reading is a number with its unit; nothing is converted by guess. Not tried, not
applicable and could not tell are answers of their own, and none of them is "passed".
"""

import re

from turnscrew.core.diagnose.evidence import (
    CHECK_OUT,
    NO_WORD,
    STILL_AT_FAULT,
    Evidence,
    Finding,
)
from turnscrew.core.diagnose.learning import MENDED
from turnscrew.core.model.faults import READING_OUTCOMES, FaultTable, FaultTest
from turnscrew.core.model.nearest import nearest, wanted_name
from turnscrew.errors import BadArgumentError

_READING = re.compile(r"([+-]?\d{1,9}(?:\.\d{1,9})?)\s*(\S*)")


_WITH_COMMA = re.compile(r"[+-]?\d{1,9},\d{1,9}\s*\S*")


def evidence_from(
    table: FaultTable, signs: tuple[str, ...], findings: tuple[str, ...]
) -> Evidence:
    """
    Read signs and findings as they were typed.

    Parameters
    ----------
    table
        The fault table.
    signs
        Names of signs, or the customer's words for them.
    findings
        Texts such as ``adapter volts=19.4 V`` or ``other adapter=as before``.

    Returns
    -------
    Evidence
        Signs and findings, in the order given.

    Raises
    ------
    BadArgumentError
        If any of them cannot be read, with every one that cannot.
    """
    wrong: list[str] = []
    read_signs: list[str] = []
    read_findings: list[Finding] = []
    for text in signs:
        try:
            read_signs.append(sign_from(table, text))
        except BadArgumentError as error:
            wrong.append(str(error))
    for text in findings:
        try:
            read_findings.append(finding_from(table, text))
        except BadArgumentError as error:
            wrong.append(str(error))
    if wrong:
        raise BadArgumentError("\n".join(wrong))
    return Evidence(tuple(dict.fromkeys(read_signs)), tuple(read_findings))


def sign_from(table: FaultTable, text: str) -> str:
    """
    Find the sign that a text names.

    Parameters
    ----------
    table
        The fault table.
    text
        Name of a sign, or the customer's words for it.

    Returns
    -------
    str
        The sign's name.

    Raises
    ------
    BadArgumentError
        If no sign bears that name or those words.
    """
    wanted = text.strip().lower()
    for name, sign in table.signs.items():
        if wanted in (name.lower(), *(words.lower() for words in sign.says)):
            return name
    known = [w for n, s in table.signs.items() for w in (n, *s.says)]
    hint = nearest(text, known) or "one of " + ", ".join(table.signs)
    raise BadArgumentError(f"sign: found {text}, wanted {hint}")


def finding_from(table: FaultTable, text: str) -> Finding:
    """
    Read one finding.

    Parameters
    ----------
    table
        The fault table.
    text
        ``TEST=OUTCOME``, ``TEST=READING`` with its unit, ``REPAIR=still at fault``.

    Returns
    -------
    Finding
        The finding.

    Raises
    ------
    BadArgumentError
        If there is no such test, no such outcome, or the unit is another one.
    """
    name, equals, said = (part.strip() for part in text.partition("="))
    if not equals or not said:
        raise BadArgumentError(f"finding: found {text}, wanted TEST=OUTCOME")
    if said in NO_WORD:
        _refuse_unknown(table, name)
        return Finding(name, said)
    if name in table.repairs or name == CHECK_OUT:
        if said != STILL_AT_FAULT:
            raise BadArgumentError(
                f"{name}: found {said}, wanted {STILL_AT_FAULT}"
                f" or one of {', '.join(NO_WORD)}"
            )
        return Finding(name, said)
    _refuse_unknown(table, name)
    test = table.tests[name]
    if test.reading is not None and said not in READING_OUTCOMES:
        return _reading(name, test, said)
    given = _outcomes(test)
    if said not in given:
        known = (*given, *NO_WORD)
        hint = wanted_name(said, known)
        raise BadArgumentError(f"{name}: found {said}, wanted {hint}")
    return Finding(name, said)


def _outcomes(test: FaultTest) -> tuple[str, ...]:
    """Give the outcomes that can be; on a side without a limit no reading lies."""
    if test.reading is None:
        return test.all_outcomes
    limits = (test.reading.low, 0.0, test.reading.high)
    return tuple(
        outcome
        for outcome, limit in zip(READING_OUTCOMES, limits, strict=True)
        if limit is not None
    )


def says_mended(table: FaultTable, text: str) -> bool:
    """
    Tell whether a finding says that the device works again.

    Parameters
    ----------
    table
        The fault table.
    text
        The finding, as typed.

    Returns
    -------
    bool
        True if a repair of the table mended, or the check-out after it says so.
    """
    name, _, said = (part.strip() for part in text.partition("="))
    return said == MENDED and (name in table.repairs or name == CHECK_OUT)


def _refuse_unknown(table: FaultTable, name: str) -> None:
    known = (*table.tests, *table.repairs, CHECK_OUT)
    if name not in known:
        hint = nearest(name, known) or "one of " + ", ".join(table.tests)
        raise BadArgumentError(f"finding: found the unknown test {name}, wanted {hint}")


def _reading(name: str, test: FaultTest, said: str) -> Finding:
    reading = test.reading
    assert reading is not None
    match = _READING.fullmatch(said)
    if match is None:
        such = f"a reading such as 1.5 {reading.unit}"
        if _WITH_COMMA.fullmatch(said):
            pointed = said.replace(",", ".")
            such = f"a reading such as {pointed}, if the comma means a point"
        raise BadArgumentError(f"{name}: found {said}, wanted {such}")
    if match[2] != reading.unit:
        found = f"the unit {match[2]}" if match[2] else "no unit"
        raise BadArgumentError(
            f"{name}: found {said} with {found}, wanted {reading.unit};"
            " say it in that unit, nothing is converted by guess"
        )
    value = float(match[1])
    for end, is_beyond in (
        (reading.least, reading.least is not None and value < reading.least),
        (reading.most, reading.most is not None and value > reading.most),
    ):
        if is_beyond:
            raise BadArgumentError(
                f"{name}: found {said}, wanted nothing beyond {end:g} {reading.unit};"
                f" {reading.beyond}"
            )
    side = READING_OUTCOMES[1]
    if reading.low is not None and value < reading.low:
        side = READING_OUTCOMES[0]
    if reading.high is not None and value > reading.high:
        side = READING_OUTCOMES[2]
    return Finding(name, side, value)

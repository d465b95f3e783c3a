"""What may be asked of a batch beside how it stands?"""

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass, field, replace

from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.person import Person
from turnscrew.errors import BadArgumentError


@dataclass(frozen=True)
class Absence:
    """
    Days somebody is away.

    Parameters
    ----------
    person
        Role or name.
    first
        First workshop day away.
    last
        Last workshop day away.
    """

    person: str
    first: int
    last: int


@dataclass(frozen=True)
class WhatIf:
    """
    One question.

    Parameters
    ----------
    away
        Who is away when.
    answers_on
        Workshop day on which the pending answers are in hand; if not said, the first
        day where no answer has come yet, and else not at all.
    answers
        Answers in hand, by device; devices not named stay pending.
    use_donors
        False if donors give nothing.
    late_parts
        Days by which a parcel is late, by part. [days]
    sign_offs
        Sign-offs given, by role or name.
    copies
        How often the batch comes at once.
    start_day
        Workshop day on which work and orders begin.
    """

    away: tuple[Absence, ...] = ()
    answers_on: int | None = None
    answers: Mapping[int, bool] = field(default_factory=dict)
    use_donors: bool = True
    late_parts: Mapping[str, int] = field(default_factory=dict)
    sign_offs: tuple[tuple[str, str], ...] = ()
    copies: int = 1
    start_day: int = 1

    @property
    def pending_day(self) -> int | None:
        """
        Give the day on which the pending answers are taken to be in hand.

        Returns
        -------
        int or None
            Workshop day; ``None`` if they are not waited for.
        """
        if self.answers_on is not None:
            return max(self.answers_on, self.start_day)
        return None if self.answers else self.start_day


def asked(batch: BatchInput, what_if: WhatIf) -> BatchInput:
    """
    Give the batch as it would be.

    Parameters
    ----------
    batch
        The batch.
    what_if
        The question.

    Returns
    -------
    BatchInput
        The batch with sign-offs given and copies made.

    Raises
    ------
    BadArgumentError
        If a person, sign-off, part or device is not known, or a day is none.
    """
    _refuse_unknown(batch, what_if)
    people = dict(batch.people)
    for who, skill in what_if.sign_offs:
        role = role_of(people, who)
        people[role] = replace(people[role], skills=(*people[role].skills, skill))
    step = max(line.line for line in batch.lines) if batch.lines else 0
    lines = tuple(
        replace(
            line,
            line=line.line + step * copy,
            serial=_again(line.serial, copy),
            asset=_again(line.asset, copy),
        )
        for copy in range(what_if.copies)
        for line in batch.lines
    )
    return replace(batch, people=people, lines=lines)


def role_of(people: Mapping[str, Person], who: str) -> str:
    """
    Find a person by role or name.

    Parameters
    ----------
    people
        People by role.
    who
        Role or name.

    Returns
    -------
    str
        The role.

    Raises
    ------
    BadArgumentError
        If nobody is called so.
    """
    for role, person in people.items():
        if who.casefold() in {role.casefold(), person.name.casefold()}:
            return role
    known = ", ".join(people)
    raise BadArgumentError(f"person: found {who}, wanted one of {known}")


def _again(text: str, copy: int) -> str:
    return f"{text} copy {copy + 1}" if copy and text else text


def _refuse_unknown(batch: BatchInput, what_if: WhatIf) -> None:
    for absence in what_if.away:
        role_of(batch.people, absence.person)
        if not 1 <= absence.first <= absence.last:
            found = f"{absence.first}-{absence.last}"
            raise BadArgumentError(f"days away: found {found}, wanted FROM-TO from 1")
    lines = {line.line for line in batch.lines}
    known = {fault.skill for fault in batch.terms.faults.values()} - {""}
    _refuse("late part", what_if.late_parts, batch.parts, "a part of the list")
    _refuse("answer", what_if.answers, lines, "a device of the batch")
    skills = [skill for _, skill in what_if.sign_offs]
    _refuse("sign-off", skills, known, "one of " + ", ".join(sorted(known)))
    least = min((what_if.copies, what_if.answers_on or 1))
    if least < 1 or min(what_if.late_parts.values(), default=0) < 0:
        raise BadArgumentError("days and copies: found less than 1, wanted 1 or more")


def _refuse(
    where: str, named: Iterable[object], known: Container[object], wanted: str
) -> None:
    for name in named:
        if name not in known:
            raise BadArgumentError(f"{where}: found {name}, wanted {wanted}")

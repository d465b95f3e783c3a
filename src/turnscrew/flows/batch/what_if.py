"""How does a batch look as it was asked about?"""

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import replace

from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.person import Person
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.errors import BadArgumentError

MOST_AHEAD_DAYS = 1000
"""Four years of work; common practice, no source. [workshop days]"""


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
        The batch with sign-offs given; who may open by which draft is said in it only
        if no more words are given, and is among their sign-offs then.

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
    by_draft = {} if what_if.is_word_given else batch.by_draft
    for model, roles in by_draft.items():
        for role in roles & people.keys():
            own = (*people[role].skills, skill_by_draft(model))
            people[role] = replace(people[role], skills=own)
    return replace(batch, people=people, by_draft=by_draft)


def skill_by_draft(model: str) -> str:
    """
    Name the sign-off that stands for the lead's word to open by a draft.

    Parameters
    ----------
    model
        The model described.

    Returns
    -------
    str
        The sign-off.
    """
    return f"the description of {model}"


def copied(devices: Sequence[DecidedDevice], copies: int) -> tuple[DecidedDevice, ...]:
    """
    Let a decided batch come several times at once.

    Parameters
    ----------
    devices
        The devices.
    copies
        How often.

    Returns
    -------
    tuple[DecidedDevice, ...]
        The devices, and copies with further numbers.
    """
    step = max((device.name for device in devices), default=0)
    return tuple(
        replace(device, line=replace(device.line, line=device.name + step * copy))
        for copy in range(copies)
        for device in devices
    )


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
    _refuse_far(what_if)
    answers_on = 1 if what_if.answers_on is None else what_if.answers_on
    least = min(what_if.copies, answers_on)
    if least < 1 or min(what_if.late_parts.values(), default=0) < 0:
        raise BadArgumentError("days and copies: found less than 1, wanted 1 or more")


def _refuse_far(what_if: WhatIf) -> None:
    """Refuse days so far ahead that no plan says anything of them."""
    last = what_if.start_day + MOST_AHEAD_DAYS
    days = [("answers in hand", what_if.answers_on or 0)]
    days += [("days away", absence.last) for absence in what_if.away]
    late = [("late part", n) for n in what_if.late_parts.values()]
    wrong = [
        f"{where}: found {n}, wanted {most} or less"
        for told, most in ((days, last), (late, MOST_AHEAD_DAYS))
        for where, n in told
        if n > most
    ]
    if wrong:
        raise BadArgumentError("; ".join(wrong))


def _refuse(
    where: str, named: Iterable[object], known: Container[object], wanted: str
) -> None:
    for name in named:
        if name not in known:
            raise BadArgumentError(f"{where}: found {name}, wanted {wanted}")

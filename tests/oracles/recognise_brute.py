"""What may it be, and which look parts it best? By listing all that could happen."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import log2

SLIP = Fraction(2, 100)
NUMBER_SLIP = Fraction(5, 100)
OTHER = "something else"

Kind = tuple[str, Mapping[str, str], str, int]
"""Name, marks, beginning of its serials (empty if none is known), met before."""


def options(kinds: Sequence[Kind], look: str) -> list[str]:
    shown = {marks[look] for _, marks, _, _ in kinds if look in marks}
    if shown <= {"yes", "no"}:
        return ["yes", "no"]
    return [*shown, OTHER]


def row(kind: Kind, look: str, answers: list[str]) -> dict[str, Fraction]:
    """Give the chance of every answer by giving out a whole of 1."""
    marks = kind[1]
    if look not in marks:
        return dict.fromkeys(answers, Fraction(1, len(answers)))
    wrong = [one for one in answers if one != marks[look]]
    chances = {one: SLIP / len(wrong) for one in wrong}
    return {**chances, marks[look]: 1 - sum(chances.values(), Fraction(0))}


def worlds(
    kinds: Sequence[Kind], seen: Mapping[str, str], number: str
) -> dict[str, Fraction]:
    """Give the joint chance of each kind with all that was seen."""
    joint = {}
    spans = {begins for _, _, begins, _ in kinds if begins}
    for kind in kinds:
        name, _, begins, n_before = kind
        chance = Fraction(n_before + 1)
        for look, said in seen.items():
            if said:
                answers = options(kinds, look)
                chances = row(kind, look, answers)
                assert sum(chances.values()) == 1
                chance *= chances[said]
        if number and spans:
            if not begins:
                chance *= Fraction(1, len(spans) + 1)
            elif number.startswith(begins):
                chance *= 1 - NUMBER_SLIP
            else:
                chance *= NUMBER_SLIP / len(spans)
        joint[name] = chance
    total = sum(joint.values())
    return {name: chance / total for name, chance in joint.items()}


def doubt(shares: Mapping[str, Fraction]) -> float:
    return -sum(float(p) * log2(p) for p in shares.values() if p)


def doubt_after(
    kinds: Sequence[Kind], shares: Mapping[str, Fraction], look: str
) -> float:
    """Sum over every answer: its chance times the doubt it leaves."""
    answers = options(kinds, look)
    left = 0.0
    for said in answers:
        joint = {
            kind[0]: shares[kind[0]] * row(kind, look, answers)[said] for kind in kinds
        }
        chance = sum(joint.values())
        left += float(chance) * doubt({name: p / chance for name, p in joint.items()})
    return left

"""Batches drawn at random from the example: other faults, remarks, days and terms."""

import random
import re
from dataclasses import replace
from decimal import Decimal

from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.terms import Tax, Terms

REMARKS = (
    "", "wet inside", "sharp splinter", "pack bulging and warm", "smells of mould",
    "locked by a password", "bent lid", "somebody's private letter inside",
    "wants the drive back", "came with a note", "spill; broken hinge",
)  # fmt: skip
"""One of each kind that is sorted, some of two, and one of none."""

BROKEN = re.compile(
    r": ?\.(?!\d)|, ?,|; ?[;.]|\bnan\b|\b1 (?:devices|days|faults|pieces|minutes)\b"
)
"""A sentence into which nothing was put, or a number that does not fit its noun."""

_FAULTS_OF = {"L240": "L", "V80": "T", "R50": "H"}


def drawn_batch(whole: BatchInput, seed: int) -> tuple[BatchInput, WhatIf]:
    """
    Draw some devices of the example and change what is known and agreed of them.

    Parameters
    ----------
    whole
        The example.
    seed
        Seed of chance.

    Returns
    -------
    tuple[BatchInput, WhatIf]
        A batch, and what is asked of it.
    """
    draw = random.Random(seed)
    chosen = draw.sample(whole.lines, draw.choice([1, 3, 8]))
    lines = tuple(_changed(line, chosen[0], whole.terms, draw) for line in chosen)
    listed = tuple(one for one in whole.listed if draw.random() < 0.5)
    terms = _terms(whole.terms, draw)
    return replace(whole, lines=lines, listed=listed, terms=terms), WhatIf(
        use_donors=draw.random() < 0.7,
        answers={
            line.line: draw.random() < 0.5 for line in lines if draw.random() < 0.3
        },
        late_parts={draw.choice(list(whole.parts)): draw.choice([1, 20])},
        answers_on=draw.choice([None, 1, 3, 40]),
        start_day=draw.choice([1, 1, 5]),
    )


def _changed(
    line: BatchLine, first: BatchLine, terms: Terms, draw: random.Random
) -> BatchLine:
    own = [
        code
        for code in terms.faults
        if code == "NFF" or code.startswith(_FAULTS_OF[line.model])
    ]
    some = tuple(draw.sample(own, draw.choice([0, 1, 2, 3])))
    return replace(
        line,
        found=draw.choice([line.found, some]),
        remarks=draw.choice([line.remarks, draw.choice(REMARKS)]),
        data=draw.choice([line.data, line.data, ""]),
        due_day=draw.choice([line.due_day, None, 1, 30]),
        revision=draw.choice([line.revision, line.revision, ""]),
        serial=draw.choice([line.serial, line.serial, "", first.serial]),
        asset=draw.choice([line.asset, line.asset, "", first.asset]),
    )


def _terms(terms: Terms, draw: random.Random) -> Terms:
    taxes = (
        (),
        (Tax("levy", Decimal(19)),),
        (Tax("levy", Decimal(7), ("parts",)), Tax("duty", Decimal(3))),
    )
    return replace(
        terms,
        ask_limit_minor=draw.choice([terms.ask_limit_minor, None, 0, 50_000]),
        batch_limit_minor=draw.choice([terms.batch_limit_minor, 0, 900_000]),
        day_limit_minor=draw.choice([terms.day_limit_minor, 0, 20_000]),
        limit_currency=draw.choice([terms.limit_currency, "other money"]),
        limits_with_tax=draw.choice([None, True, False]),
        worth_ratio=draw.choice([terms.worth_ratio, None, Decimal("0.2")]),
        taxes=draw.choice(taxes),
        tax_included=draw.random() < 0.3,
        promise_days=draw.choice([terms.promise_days, 0, 30]),
        strip_liquid=draw.random() < 0.7,
        donors=replace(terms.donors, use=draw.choice(["none", "same customer", "any"])),
    )

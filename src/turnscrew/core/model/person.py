"""Who works at the benches, how long, how fast and with which sign-offs?"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated

from turnscrew.core.model.model_terms import WorkMin
from turnscrew.core.model.quantities import (
    Bounds,
    Checked,
    Key,
    Minor,
    Spelling,
    decimal_from_text,
)


@dataclass(frozen=True)
class Person(Checked):
    """
    One person at a bench.

    Parameters
    ----------
    name
        Name.
    minutes_a_day
        Bench minutes of a working day. [min]
    pay_minor
        Pay of an hour. [minor units]
    pace
        Own minutes to a standard minute. [1]
    skills
        Sign-offs held.
    away
        Days away.
    """

    name: str
    minutes_a_day: WorkMin
    pay_minor: Annotated[Minor, Key("pay_per_hour")]
    pace: Annotated[
        Decimal, Bounds(0.2, 10, "1"), Spelling(decimal_from_text, "1.30")
    ] = Decimal(1)
    skills: tuple[str, ...] = ()
    away: tuple[date, ...] = ()


@dataclass(frozen=True)
class People(Checked):
    """
    Who works in the workshop.

    Parameters
    ----------
    people
        People by role; where two are free at once the first is served first.
    """

    people: dict[str, Person]

"""What was agreed with the customer, and with which figures is a batch reckoned?"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.calendar import Calendar
from turnscrew.core.model.model_terms import FaultTerms, ModelTerms
from turnscrew.core.model.quantities import (
    Bounds,
    Checked,
    Key,
    Minor,
    Share,
    Spelling,
    decimal_from_text,
)

Use = Literal["same customer", "any", "none"]


Ratio = Annotated[Decimal, Bounds(0, 100, "1"), Spelling(decimal_from_text, "1.30")]
Percent = Annotated[Decimal, Bounds(0, 100, "%"), Spelling(decimal_from_text, "20")]


# Council Directive 2006/112/EC, article 215: a prefix of the country as in ISO 3166
# alpha-2. 2 to 12 letters, digits, + and * after it: the form that the union's own
# system for looking numbers up takes, from memory.
_TAX_NUMBER = re.compile(r"[A-Z]{2}[0-9A-Z+*]{2,12}")


@dataclass(frozen=True)
class Customer(Checked):
    """
    Whose devices these are.

    Parameters
    ----------
    name
        Name of the customer.
    contact
        Who answers questions.
    order
        The customer's own number for this batch.
    address
        Address, a line each.
    contract
        The written contract on handling data; empty if there is none on file.
    tax_number
        The number under which the customer is taxed; empty if none is known.
    """

    name: str
    contact: str = ""
    order: str = ""
    address: tuple[str, ...] = ()
    contract: str = ""
    tax_number: str = ""

    def is_tax_number_odd(self) -> bool:
        """
        Tell whether there is a tax number that does not look like one.

        Returns
        -------
        bool
            True if it has not the form that numbers for value added tax have in the
            European Union: two letters of the country, then 2 to 12 characters. Others
            may be right; so it is a reason to look, not to refuse.
        """
        written = "".join(one for one in self.tax_number if one not in " .-")
        return bool(written) and not _TAX_NUMBER.fullmatch(written)


@dataclass(frozen=True)
class Tax(Checked):
    """
    One rate of tax and what it is charged on.

    Parameters
    ----------
    name
        Name of the rate.
    percent
        The rate. [%]
    on
        What it is charged on.
    """

    name: str
    percent: Percent
    on: tuple[Literal["labour", "parts"], ...] = ("labour", "parts")


@dataclass(frozen=True)
class LookAlike(Checked):
    """
    Spare parts that are easily taken for one another.

    Parameters
    ----------
    parts
        The parts.
    tell
        How to tell them apart.
    """

    parts: tuple[str, ...]
    tell: str


@dataclass(frozen=True)
class Donors(Checked):
    """
    What was agreed on parts of devices that are not worth mending.

    Parameters
    ----------
    use
        Whose devices may get them; without consent the same customer's only.
    chances
        Chance that a part passes its test, by part; 1 where nothing is said. [1]
    never
        Parts that are never harvested: packs and storage.
    """

    use: Use = "same customer"
    chances: dict[str, Share] = field(default_factory=dict)
    never: tuple[str, ...] = ()


@dataclass(frozen=True)
class Terms(Checked):
    """
    The terms of one batch.

    Parameters
    ----------
    batch
        Name of the batch.
    customer
        Whose it is.
    received
        The day it was received: workshop day 1.
    rate_minor
        Price of an hour of standard minutes. [minor units]
    markup
        Price of a part is its cost times this. [1]
    models
        Models by their short name.
    faults
        Faults by code.
    currency
        Sign of the currency, as printed.
    ask_limit_minor
        Up to this a device is mended without asking; ``None`` if not agreed.
        [minor units]
    batch_limit_minor
        Up to this the whole batch may cost without asking. [minor units]
    day_limit_minor
        Up to this the work of one day may cost without asking. [minor units]
    limit_currency
        Currency of the limits, where it is said apart; empty if it is the same.
    limits_with_tax
        Whether tax counts against the limits; ``None`` if nobody said.
    worth_ratio
        A device is worth mending up to this share of its value; ``None`` if not
        agreed. [1]
    strip_liquid
        True if devices with liquid inside are stripped whatever they are worth.
    promise_days
        Days after hand-back for which a repair is promised. [days]
    taxes
        Rates of tax; prices are without tax where there is none.
    tax_included
        True if the prices above hold the tax already.
    donors
        What was agreed on donor parts.
    calendar
        Days worked.
    look_alikes
        Spare parts easily taken for one another.
    spread
        Standard deviation of the logarithm of real times. [1]
    promise_probability
        Probability at which a day is promised. [1]
    """

    batch: str
    customer: Customer
    received: date
    rate_minor: Annotated[Minor, Key("rate_per_hour")]
    markup: Ratio
    models: dict[str, ModelTerms]
    faults: dict[str, FaultTerms]
    currency: str = "cu"
    ask_limit_minor: Annotated[Minor | None, Key("ask_limit")] = None
    batch_limit_minor: Annotated[Minor | None, Key("batch_limit")] = None
    day_limit_minor: Annotated[Minor | None, Key("day_limit")] = None
    limit_currency: str = ""
    limits_with_tax: bool | None = None
    worth_ratio: Ratio | None = None
    strip_liquid: bool = True
    promise_days: Annotated[int, Bounds(0, 3650, "days")] = 90
    taxes: tuple[Tax, ...] = ()
    tax_included: bool = False
    donors: Donors = field(default_factory=Donors)
    calendar: Calendar = field(default_factory=Calendar)
    look_alikes: tuple[LookAlike, ...] = ()
    spread: Annotated[float, Bounds(0, 3, "1")] = 0.3
    promise_probability: Annotated[float, Bounds(0.5, 0.999, "1")] = 0.8

    def faults_of(self, line: BatchLine) -> tuple[FaultTerms, ...]:
        """
        Give what holds for the faults found on a device.

        Parameters
        ----------
        line
            The device; its codes must be known.

        Returns
        -------
        tuple[FaultTerms, ...]
            In the order found.
        """
        return tuple(self.faults[code] for code in line.found)

    def models_mended(
        self, code: str, part_models: Mapping[str, str]
    ) -> tuple[str, ...]:
        """
        Give the models whose parts mend a fault.

        Parameters
        ----------
        code
            Its code, which must be known.
        part_models
            Model of each spare part, by its number.

        Returns
        -------
        tuple[str, ...]
            Their keys; empty where no part tells, so that any model may have it.
        """
        told = [part_models.get(part, "") for part in self.faults[code].parts]
        return tuple(dict.fromkeys(told)) if all(told) else ()

    def date_of(self, day: int) -> date:
        """
        Give the date of a workshop day of this batch.

        Parameters
        ----------
        day
            Number of the day; 1 is the first day worked from the arrival on.

        Returns
        -------
        date
            The date.

        Raises
        ------
        BadArgumentError
            If the calendar has no working day within the next year.
        """
        return self.calendar.date_of(day, self.received)

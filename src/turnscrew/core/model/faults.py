"""What can be wrong with a family of devices, how is it found and how is it mended?"""

from dataclasses import dataclass, field
from datetime import date
from typing import Annotated, Literal

from turnscrew.core.model.quantities import (
    BadFieldError,
    Bounds,
    Checked,
    Key,
    Minor,
    Share,
    ThingName,
)

TimeMin = Annotated[float, Bounds(0, 1440, "min")]
Weight = Annotated[float, Bounds(0, 1_000_000, "1")]
CautionKind = Literal["mains", "pack", "static", "hot", "glass", "fumes", "data"]

OTHERS = "others"
"""Stands in a table of chances for every fault not named in it."""

NOTHING_WRONG = "nothing wrong"
"""Stands in a table of chances for a device that works."""

READING_OUTCOMES = ("low", "within limits", "high")
"""What a reading may be, judged against its limits."""


@dataclass(frozen=True)
class Prior(Checked):
    """
    Where the weights of the faults come from, and how much they count.

    Parameters
    ----------
    source
        Source, in words.
    cases
        Number of own cases that count as much as the source. [1]
    counted_in
        Category of open records of repairs in which the family would be counted, as
        Laptop; needed if a fault says as what it is counted.
    """

    source: str
    cases: Weight = 30.0
    counted_in: str = ""


@dataclass(frozen=True)
class Fault(Checked):
    """
    One fault of the family.

    Parameters
    ----------
    weight
        How often it is behind a job, against the others. [1]
    part
        Part that is at fault.
    says
        What is wrong, in words.
    no_power
        True if the device must not be switched on or charged with it, as with liquid
        inside or a swollen pack.
    counted_as
        Sorts of fault as which open records of repairs count it.
    """

    weight: Weight
    part: str = ""
    says: str = ""
    no_power: bool = False
    counted_as: tuple[str, ...] = ()


@dataclass(frozen=True)
class Sign(Checked):
    """
    What a customer says, or what is seen at a glance.

    Parameters
    ----------
    chances
        For each fault the chance that it shows this sign. [1]
    says
        The customer's words for it.
    """

    chances: Annotated[dict[str, Share], Key("shown_by")]
    says: tuple[str, ...] = ()


@dataclass(frozen=True)
class KnownGood(Checked):
    """
    Something known to be good, for trying and comparing.

    Parameters
    ----------
    what
        What it is.
    verified
        When it was last seen to be good.
    on
        On what it was seen to be good.
    failed
        True if it failed last time; then it is withdrawn.
    """

    what: str
    verified: date | None = None
    on: str = ""
    failed: bool = False


@dataclass(frozen=True)
class Reading(Checked):
    """
    The limits of a reading and how accurate the meter is.

    Parameters
    ----------
    unit
        Unit of the reading and of the limits.
    low
        Lowest value within limits; none said means no lower limit.
    high
        Highest value within limits; none said means no upper limit.
    percent
        Accuracy as a share of the reading. [%]
    plus
        Accuracy as a fixed amount, in the unit; added to the share.
    source
        Where the limits come from.
    least
        Lowest value that can come up at all; below it the reading is not taken.
    most
        Highest value that can come up at all; above it the reading is not taken.
    beyond
        What a reading beyond them means, and what to do.
    """

    unit: str
    low: float | None = None
    high: float | None = None
    percent: Annotated[float, Bounds(0, 50, "%")] = 0.0
    plus: Annotated[float, Bounds(0, 1_000_000, "1")] = 0.0
    source: str = "common practice, no source"
    least: float | None = None
    most: float | None = None
    beyond: str = "look at the meter and its leads again"

    def __post_init__(self) -> None:
        """Refuse limits that leave no room, or none at all."""
        super().__post_init__()
        if self.low is None and self.high is None:
            raise BadFieldError("low", "no limit", "low, high or both")
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise BadFieldError(
                "low", self.low, f"less than high, which is {self.high}"
            )


@dataclass(frozen=True)
class FaultTest(Checked):
    """
    One test.

    Parameters
    ----------
    minutes
        Time it takes, without opening and closing. [min]
    means
        For each fault the chance of each outcome, in the order of the outcomes. [1]
    outcomes
        What may come of it; a reading has low, within limits and high.
    reading
        Limits, if the test is a reading.
    says
        How it is made.
    reach
        Parts and joints that must be off or undone.
    closed
        True if the case must be shut for it.
    powers
        True if the device is switched on or charged for it.
    known_good
        Things needed that are known to be good.
    cautions
        What may hurt somebody or harm the device.
    figure
        Name of the reckoning behind it, as shown with its equation and source.
    """

    minutes: Annotated[TimeMin, Key("min")]
    means: dict[str, tuple[Share, ...]]
    outcomes: tuple[str, ...] = ()
    reading: Reading | None = None
    says: str = ""
    reach: tuple[ThingName, ...] = ()
    closed: bool = False
    powers: bool = False
    known_good: tuple[str, ...] = ()
    cautions: tuple[CautionKind, ...] = ()
    figure: str = ""

    @property
    def all_outcomes(self) -> tuple[str, ...]:
        """Every outcome by name."""
        return READING_OUTCOMES if self.reading else self.outcomes


@dataclass(frozen=True)
class Damage(Checked):
    """
    The risk of harming something by a repair.

    Parameters
    ----------
    chance
        How likely it is. [1]
    price
        What it would cost. [minor units]
    """

    chance: Share
    price: Minor


@dataclass(frozen=True)
class FaultRepair(Checked):
    """
    One repair or exchange.

    Parameters
    ----------
    minutes
        Time it takes, without opening and closing. [min]
    mends
        For each fault it touches the chance that it mends it. [1]
    part
        Spare part it uses.
    price
        Price of what it uses. [minor units]
    keep
        True if the part is tried from stock: it is paid for only if it mends, else it
        goes back.
    says
        How it is made.
    reach
        Parts and joints that must be off or undone.
    closed
        True if the case must be shut for it.
    damage
        Risk of harming something.
    cautions
        What may hurt somebody or harm the device.
    """

    minutes: Annotated[TimeMin, Key("min")]
    mends: dict[str, Share]
    part: str = ""
    price: Minor = 0
    keep: bool = False
    says: str = ""
    reach: tuple[ThingName, ...] = ()
    closed: bool = False
    damage: Damage | None = None
    cautions: tuple[CautionKind, ...] = ()


@dataclass(frozen=True)
class CheckOut(Checked):
    """
    The function check-out that shows that the device works.

    Parameters
    ----------
    minutes
        Time it takes. [min]
    closed
        True if the case must be shut for it.
    says
        What is looked at.
    """

    minutes: Annotated[TimeMin, Key("min")]
    closed: bool = True
    says: str = ""


@dataclass(frozen=True)
class GiveUp(Checked):
    """
    Writing the device off or handing it on.

    Parameters
    ----------
    price
        What it costs the workshop. [minor units]
    minutes
        Time it takes. [min]
    closed
        True if the case is shut first.
    says
        What happens.
    """

    price: Minor
    minutes: Annotated[TimeMin, Key("min")] = 0.0
    closed: bool = False
    says: str = ""


@dataclass(frozen=True)
class FaultTable(Checked):
    """
    The fault table of one family of devices.

    Parameters
    ----------
    family
        The family, by the name in its device description.
    rate
        What an hour at the bench costs. [minor units]
    faults
        What may be wrong.
    repairs
        What mends it.
    check_out
        What shows that it works.
    give_up
        What is done if it does not pay.
    tests
        What can be tested.
    signs
        What customers say.
    known_good
        Things known to be good.
    nothing_wrong
        Share of jobs in which nothing is wrong. [1]
    prior
        Where the weights come from.
    """

    family: Annotated[str, Key("faults_of")]
    rate: Annotated[Minor, Key("rate_per_h")]
    faults: dict[str, Fault]
    repairs: dict[str, FaultRepair]
    check_out: CheckOut
    give_up: GiveUp
    tests: dict[str, FaultTest] = field(default_factory=dict)
    signs: dict[str, Sign] = field(default_factory=dict)
    known_good: dict[str, KnownGood] = field(default_factory=dict)
    nothing_wrong: Share = 0.0
    prior: Prior = field(default_factory=lambda: Prior("common practice, no source"))

    @property
    def weights(self) -> dict[str, float]:
        """Weight of each fault [1]."""
        return {name: fault.weight for name, fault in self.faults.items()}

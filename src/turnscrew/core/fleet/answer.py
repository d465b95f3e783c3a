"""What is told of a fleet?"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from turnscrew.core.fleet.advice import Advice, Of
from turnscrew.core.fleet.question import Wishes
from turnscrew.core.fleet.repeats import Repeats
from turnscrew.core.price.replace import Expected
from turnscrew.core.reliability.curves import SurvivalCurve
from turnscrew.core.reliability.fit import LifeFit, Limits
from turnscrew.core.reliability.prediction import CountPrediction
from turnscrew.core.reliability.rates import RateLimits
from turnscrew.core.reliability.recurrence import MeanCurve
from turnscrew.core.reliability.sites import SiteScreen
from turnscrew.core.stock.service import StockLevel

YEAR_DAYS = 365.25
"""Length of a year. [d]"""

Way = Literal["early", "by wear", "neither shown", "too few to tell"]
"""How parts fail: before they have run long, with age, or with no sign of either."""


@dataclass(frozen=True)
class CauseAnswer:
    """
    What is known of one cause in one model.

    Parameters
    ----------
    model
        The model.
    cause
        The fault.
    rate
        Failures a device-year, with limits.
    by_site
        The same by site, those without a failure among them.
    by_year
        The same by model-year; empty if there is but one.
    screen
        Whether a site differs from the others.
    year_screen
        Whether a model-year differs from the others; ``None`` if there is but one.
    ahead
        Failures to come in the next term.
    is_by_age
        Whether ages count: in what is to come, and in what a site or model-year is
        held against.
    years_ahead
        Time in service in the next term. [years]
    ahead_at
        The same by kind of group and its name. [years]
    devices_at
        Devices that failed, by kind of group and its name; those of which nobody knows
        are left out. [1]
    repeats_chance
        How likely the same devices would fail so often, were all alike. [1]
    cost_minor
        What those cost together whose cost is known. [minor units]
    n_costed
        How many those are. [1]
    """

    model: str
    cause: str
    rate: RateLimits
    by_site: tuple[tuple[str, RateLimits], ...]
    by_year: tuple[tuple[str, RateLimits], ...]
    screen: SiteScreen
    year_screen: SiteScreen | None
    ahead: CountPrediction
    is_by_age: bool
    years_ahead: float
    ahead_at: Mapping[Of, Mapping[str, float]]
    devices_at: Mapping[Of, Mapping[str, int]]
    repeats_chance: float
    cost_minor: int
    n_costed: int

    @property
    def cost_of_one_minor(self) -> float | None:
        """Give the mean cost of a failure; ``None`` if none is known. [minor units]."""
        return self.cost_minor / self.n_costed if self.n_costed else None


@dataclass(frozen=True)
class FleetAnswer:
    """
    What is known of a fleet.

    Parameters
    ----------
    causes
        Every model and cause that failed, the most frequent first.
    n_screened
        Faults with enough failures to compare sites or model-years. [1]
    n_compared
        Comparisons made; each chance is adjusted for all of them. [1]
    same
        Places that are one model-year and no others are of it: model, place and year.
    """

    causes: tuple[CauseAnswer, ...]
    n_screened: int
    n_compared: int
    same: frozenset[tuple[str, str, str]] = frozenset()


@dataclass(frozen=True, eq=False)
class FaultLife:
    """
    What is known of the life to the first failure of one cause in one model.

    Parameters
    ----------
    model
        The model.
    cause
        The cause.
    fit
        The Weibull law.
    shape
        Its shape, with Wald limits on the log scale. [1]
    tenth
        Age by which one in ten has failed, with the same limits. [d]
    curve
        Share running by age.
    way
        Early where limits of 90 % of the shape lie below 1, by wear where above.
    oldest_d
        Oldest age at which a unit was watched. [d]
    """

    model: str
    cause: str
    fit: LifeFit
    shape: Limits
    tenth: Limits
    curve: SurvivalCurve
    way: Way
    oldest_d: float


@dataclass(frozen=True)
class Fan:
    """
    Failures to come, added up from now on.

    Parameters
    ----------
    day
        Days from now, the first 0. [d]
    low
        Lower limits of 90 %. [1]
    lower
        Lower limits of 50 %. [1]
    middle
        Medians. [1]
    upper
        Upper limits of 50 %. [1]
    high
        Upper limits of 90 %. [1]
    """

    day: tuple[float, ...]
    low: tuple[int, ...]
    lower: tuple[int, ...]
    middle: tuple[int, ...]
    upper: tuple[int, ...]
    high: tuple[int, ...]


@dataclass(frozen=True)
class Shelf:
    """
    What to hold for one cause.

    Parameters
    ----------
    model
        The model.
    cause
        The cause, each failure of which takes one piece.
    level
        Pieces that cover the time at the service wanted.
    fan
        Pieces wanted by day of the time to be covered.
    beyond
        Pieces wanted by day of four such times.
    days
        The time to be covered. [d]
    """

    model: str
    cause: str
    level: StockLevel
    fan: Fan
    beyond: Fan
    days: float


@dataclass(frozen=True, eq=False)
class ModelTold:
    """
    What is known of one model as a whole.

    Parameters
    ----------
    model
        The model.
    n_units
        Units watched; ``None`` if only their time is known. [1]
    rate
        Failures of all causes a device-year, with limits; without a failure only the
        upper one tells something.
    number
        Mean number of failures of a unit by age; ``None`` if none failed, or ages are
        not known.
    cost
        Mean cost of them, of those whose cost is known; ``None`` if none is.
        [minor units]
    watched_d
        Youngest and oldest age at which a unit was watched; ``None`` if ages are not
        known. [d]
    needs
        What a unit needs in its first year, its second and so on, ``None`` where
        nobody was watched; empty unless what would replace it is known.
    """

    model: str
    n_units: float | None
    rate: RateLimits
    number: MeanCurve | None
    cost: MeanCurve | None
    watched_d: tuple[float, float] | None = None
    needs: tuple[Expected | None, ...] = ()

    @property
    def device_years(self) -> float:
        """Give the time under watch. [years]."""
        return self.rate.total_time


@dataclass(frozen=True)
class Paying:
    """
    Up to which price a repair pays for one more year.

    Parameters
    ----------
    model
        The model.
    age_years
        Age of the device. [years]
    most
        Lower limit, mean and upper limit of that price; below 0 a repair does not pay
        even for nothing. [minor units]
    """

    model: str
    age_years: int
    most: tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class FleetReport:
    """
    All that is told of a fleet.

    Parameters
    ----------
    wishes
        What was asked for.
    models
        Each model as a whole.
    answer
        Rates, places and model-years.
    advice
        What to change.
    repeats
        Faults of which some devices fail again and again.
    lives
        How long parts last, by model and cause, the most frequent first; those of
        models whose ages are known.
    shelf
        What to hold for the next term, in the same order.
    paying
        Up to which price a repair pays, for models whose replacement is known.
    """

    wishes: Wishes
    models: tuple[ModelTold, ...]
    answer: FleetAnswer
    advice: tuple[Advice, ...]
    repeats: tuple[Repeats, ...]
    lives: tuple[FaultLife, ...]
    shelf: tuple[Shelf, ...]
    paying: tuple[Paying, ...]

    @property
    def device_years(self) -> float:
        """Give the time under watch of all. [years]."""
        return sum(one.device_years for one in self.models)

    @property
    def n_failures(self) -> int:
        """Count the failures. [1]."""
        return int(sum(one.rate.failures for one in self.answer.causes))

    def is_age_open(self, one: CauseAnswer | Shelf) -> bool:
        """
        Say whether age is left out of what is foretold because nothing is known of it.

        Parameters
        ----------
        one
            A cause, or what to hold for it.

        Returns
        -------
        bool
            True where ages are not known or too few failures tell whether they matter.
        """
        ways = {(life.model, life.cause): life.way for life in self.lives}
        return ways.get((one.model, one.cause)) in (None, "too few to tell")

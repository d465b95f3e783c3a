"""What is asked about a fleet?"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from turnscrew.core.model.wanted import refuse, unlike
from turnscrew.core.price.replace import Replacement


@dataclass(frozen=True)
class FleetGroup:
    """
    Devices of one model and model-year at one site.

    Parameters
    ----------
    site
        The site.
    model
        The model.
    device_years
        Time under watch of all of them together. [years]
    years_ahead
        Their time in service in the next term, those retired left out. [years]
    model_year
        Year of the model; 0 if nobody knows. [1]
    n_devices
        How many they are; 0 if nobody knows. [1]
    years_squared
        Time under watch of each, squared and added up. [years²]
    """

    site: str
    model: str
    device_years: float
    years_ahead: float
    model_year: int = 0
    n_devices: float = 0.0
    years_squared: float = 0.0


@dataclass(frozen=True)
class FleetFailures:
    """
    Failures of one cause in one group during the time under watch.

    Parameters
    ----------
    site
        The site.
    model
        The model.
    cause
        The fault, by its code.
    n
        How many. [1]
    cost_minor
        What those cost together whose cost is known. [minor units]
    n_costed
        How many those are. [1]
    model_year
        Year of the model; 0 if nobody knows. [1]
    n_devices
        Of how many devices they are; ``None`` if nobody knows. [1]
    squares
        Failures of each device squared and added up. [1]
    by_years
        Failures of each device times its time under watch, added up. [years]
    """

    site: str
    model: str
    cause: str
    n: int
    cost_minor: int = 0
    n_costed: int = 0
    model_year: int = 0
    n_devices: int | None = None
    squares: float = 0.0
    by_years: float = 0.0


@dataclass(frozen=True)
class Wishes:
    """
    What the report is to tell.

    Parameters
    ----------
    term_days
        Length of a term. [d]
    confidence
        Level of limits. [1]
    q
        Share of false blame allowed among all that is singled out. [1]
    target
        Service wanted of the shelf. [1]
    replacements
        The device that would take the place of one, by model.
    """

    term_days: float = 91.0
    confidence: float = 0.9
    q: float = 0.05
    target: float = 0.95
    replacements: Mapping[str, Replacement] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse figures outside their ranges."""
        refuse(
            unlike("term_days", self.term_days, above=0, most=1e5),
            unlike("confidence", self.confidence, above=0, below=1),
            unlike("q", self.q, above=0, below=1),
            unlike("target", self.target, above=0, below=1),
        )


@dataclass(frozen=True)
class Counted:
    """
    What is counted of models whose ages nobody knows.

    Parameters
    ----------
    groups
        The devices.
    failures
        What failed in them.
    """

    groups: tuple[FleetGroup, ...] = ()
    failures: tuple[FleetFailures, ...] = ()

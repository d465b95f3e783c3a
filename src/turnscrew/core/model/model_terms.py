"""What do models and faults cost in minutes and parts?"""

from dataclasses import dataclass, field
from typing import Annotated, Literal

from turnscrew.core.model.quantities import Bounds, Checked, Key, Minor

WorkMin = Annotated[int, Bounds(0, 1440, "min")]
Hazard = Literal["pack", "liquid", "glass"]


@dataclass(frozen=True)
class StandardMinutes(Checked):
    """
    Standard minutes of a model, hands on.

    Parameters
    ----------
    receive
        Receiving, identifying and pre-check. [min]
    finish
        Final test, cleaning, charging and packing. [min]
    open_close
        Opening and closing once; ``None`` to take the computed opening. [min]
    strip
        Taking a donor apart. [min]
    storage
        Taking out and labelling its data-bearing part. [min]
    charge
        On charge after the work, with no hands on. [min]
    """

    receive: WorkMin
    finish: WorkMin
    open_close: WorkMin | None = None
    strip: WorkMin = 0
    storage: WorkMin = 0
    charge: WorkMin = 0


@dataclass(frozen=True)
class ModelTerms(Checked):
    """
    What holds for one model.

    Parameters
    ----------
    minutes
        Its standard minutes.
    name
        Name of the family, as in its description.
    device
        File of its description; empty if there is none.
    worth
        Residual value by revision; a revision that is missing has no known value.
        [minor units]
    worth_estimated
        Revisions whose value is an estimate, from list price and age.
    failures_a_year
        Failures of one device in a year, as the fleet report gives them; ``None`` if
        not known. [1/year]
    years_left
        Years a device is to serve on; ``None`` if not known. [years]
    opening_uses
        Spare parts used up by each opening.
    harvest
        Parts that a donor of this model may give.
    harvest_after_liquid
        Those it may give after liquid got in.
    """

    minutes: StandardMinutes
    name: str = ""
    device: str = ""
    worth: dict[str, Minor] = field(default_factory=dict)
    worth_estimated: tuple[str, ...] = ()
    failures_a_year: Annotated[float | None, Bounds(0, 100, "1/year")] = None
    years_left: Annotated[float | None, Bounds(0, 30, "years")] = None
    opening_uses: tuple[str, ...] = ()
    harvest: tuple[str, ...] = ()
    harvest_after_liquid: tuple[str, ...] = ()

    @property
    def failures_to_come(self) -> float | None:
        """
        Give the failures expected while a device serves on.

        Returns
        -------
        float or None
            Mean number; ``None`` if rate or years are not known. [1]
        """
        if self.failures_a_year is None or self.years_left is None:
            return None
        return self.failures_a_year * self.years_left


@dataclass(frozen=True)
class FaultTerms(Checked):
    """
    What holds for one fault code.

    Parameters
    ----------
    says
        The fault in words.
    minutes
        Exchange or trial, hands on; ``None`` to take the description's. [min]
    parts
        Spare parts exchanged: all of these that fit the device.
    is_opened
        False if the case stays shut.
    is_trial
        True for a trial that found no fault.
    skill
        Sign-off it needs; empty if none.
    hazard
        What is dangerous about it; empty if nothing out of the ordinary.
    reach
        Parts of the description that must be reached.
    """

    says: str
    minutes: WorkMin | None = None
    parts: tuple[str, ...] = ()
    is_opened: Annotated[bool, Key("opened")] = True
    is_trial: Annotated[bool, Key("trial")] = False
    skill: str = ""
    hazard: Hazard | None = None
    reach: tuple[str, ...] = ()

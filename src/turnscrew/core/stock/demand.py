"""Which device needs which part by when, and where may it come from?"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from turnscrew.core.model.given_piece import GivenPiece

From = Literal["stock", "donor", "order"]

FAR_DAY = 1_000_000
"""Stands for the due day of a device that has none."""


@dataclass(frozen=True)
class Demand:
    """
    One piece of a part for one device.

    Parameters
    ----------
    device
        Number of the device.
    part
        Part number.
    due_day
        Workshop day by whose end the device must be done.
    minutes
        Minutes of its job; longer jobs are served first on the same day. [min]
    order_day
        First day on which the part may be ordered for it.
    charge_days
        Days between fitting the part and the device being done, as it is on charge over
        night. [days]
    """

    device: int
    part: str
    due_day: int
    minutes: int
    order_day: int = 1
    charge_days: int = 0

    @property
    def needed_by(self) -> int | None:
        """
        Give the last day on which the part must be there.

        Returns
        -------
        int or None
            Workshop day; ``None`` if no day is agreed for the device.
        """
        return self.due_day - self.charge_days if self.due_day < FAR_DAY else None


@dataclass(frozen=True)
class Offer:
    """
    One piece of a part in a donor.

    Parameters
    ----------
    donor
        Number of the donor.
    part
        Part number.
    """

    donor: int
    part: str


@dataclass(frozen=True)
class Use:
    """
    Where a piece comes from.

    Parameters
    ----------
    demand
        What it is for.
    source
        Shelf, donor or supplier.
    ready_day
        First workshop day on which it can be fitted.
    donor
        Number of the donor; 0 if it comes from none.
    given
        The very piece, promised or fitted; ``None`` as long as it is only planned.
    """

    demand: Demand
    source: From
    ready_day: int
    donor: int = 0
    given: GivenPiece | None = None


def in_order(demands: Iterable[Demand]) -> list[Demand]:
    """
    Put demands in the order in which they are served.

    Parameters
    ----------
    demands
        The demands.

    Returns
    -------
    list[Demand]
        Earliest due day first, then the longer job, then the lower number.
    """
    return sorted(demands, key=lambda d: (d.due_day, -d.minutes, d.device, d.part))

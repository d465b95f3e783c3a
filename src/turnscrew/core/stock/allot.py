"""
Which piece goes to which device?

The shelf serves first, then donors, then the supplier; each serves the device due
earliest, then the longer job, then the lower number. A donor's piece is given to a
device only in time for it or where an ordered one would come no sooner.

A piece of the shelf makes no device late by lying in wait for another piece: where its
device waits for something else at least as long as an ordered piece takes, it goes to
the first device that would be late for want of it. No device is ready later by such an
exchange, and one is sooner.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace

from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.stock.demand import Demand, Offer, Use, in_order
from turnscrew.core.stock.lead import lead_of
from turnscrew.errors import BadArgumentError


def allotted(
    demands: Iterable[Demand],
    parts: Mapping[str, SparePart],
    offers: Iterable[Offer],
    donor_day: int,
    late_days: Mapping[str, int],
) -> tuple[Use, ...]:
    """
    Give every demand its source.

    Parameters
    ----------
    demands
        The demands.
    parts
        Spare parts by number, with free stock and lead.
    offers
        Pieces in donors that are to be stripped, in the order they are taken.
    donor_day
        Workshop day on which the donors' pieces are there.
    late_days
        Days by which a parcel is late, by part. [days]

    Returns
    -------
    tuple[Use, ...]
        One use for each demand, in order of serving.

    Raises
    ------
    BadArgumentError
        If a demand names a part that is not known.
    """
    free = {name: part.stock for name, part in parts.items()}
    given: dict[str, list[int]] = defaultdict(list)
    for offer in offers:
        given[offer.part].append(offer.donor)
    uses: list[Use] = []
    for demand in in_order(demands):
        if demand.part not in parts:
            raise BadArgumentError(f"part {demand.part}, wanted one of the parts list")
        if free[demand.part] > 0:
            free[demand.part] -= 1
            uses.append(Use(demand, "stock", 1))
            continue
        day = arrival_day(parts, demand.part, demand.order_day, late_days)
        if given[demand.part] and donor_day <= max(demand.due_day, day):
            uses.append(Use(demand, "donor", donor_day, given[demand.part].pop(0)))
        else:
            uses.append(Use(demand, "order", day))
    _Exchange(uses, parts, late_days).until_none_helps()
    return tuple(uses)


def arrival_day(
    parts: Mapping[str, SparePart],
    name: str,
    order_day: int,
    late_days: Mapping[str, int],
) -> int:
    """
    Give the day on which an ordered part arrives.

    Parameters
    ----------
    parts
        Spare parts by number.
    name
        The part.
    order_day
        Workshop day on which it is ordered.
    late_days
        Days by which a parcel is late, by part. [days]

    Returns
    -------
    int
        Workshop day; in time to be fitted that day.
    """
    lead = lead_of(parts[name], parts.values(), {})
    return order_day + lead.days + late_days.get(name, 0)


class _Exchange:
    """Gives pieces of the shelf from devices that wait anyway to those made late."""

    def __init__(
        self,
        uses: list[Use],
        parts: Mapping[str, SparePart],
        late_days: Mapping[str, int],
    ) -> None:
        """Note who uses what."""
        self.uses, self.parts, self.late_days = uses, parts, late_days
        self.of_device: dict[int, list[int]] = defaultdict(list)
        self.of_part: dict[str, list[int]] = defaultdict(list)
        for at, use in enumerate(uses):
            self.of_device[use.demand.device].append(at)
            self.of_part[use.demand.part].append(at)

    def until_none_helps(self) -> None:
        """Exchange; it ends, as each makes the sum of all days of readiness smaller."""
        while any([self._within(held) for held in self.of_part.values()]):
            pass

    def _within(self, held: list[int]) -> bool:
        """Exchange what can be of one part; say whether something was."""
        givers = list(reversed(held))
        is_done = False
        for taker in held:
            giver = self._giver_for(taker, givers) if self._is_held_up(taker) else None
            if giver is not None:
                given, got = self.uses[giver], self.uses[taker]
                day = self._day_by_order(giver)
                self.uses[giver] = Use(given.demand, "order", day)
                self.uses[taker] = replace(given, demand=got.demand)
                is_done = True
        return is_done

    def _giver_for(self, taker: int, among: Iterable[int]) -> int | None:
        """Find the last device that is ready no later if its piece is ordered."""
        own = self.uses[taker].demand.device
        return next(
            (
                at
                for at in among
                if self.uses[at].source == "stock"
                and self.uses[at].demand.device != own
                and self._else(at) >= self._comes(at)
            ),
            None,
        )

    def _is_held_up(self, at: int) -> bool:
        """Say whether a device is late for want of this very piece alone."""
        use = self.uses[at]
        if use.source != "order" or use.demand.needed_by is None:
            return False
        return self._there(at) > max(use.demand.needed_by, self._else(at))

    def _else(self, at: int) -> float:
        """Give the day on which all other pieces of the same device are there."""
        own = self.of_device[self.uses[at].demand.device]
        return max((self._there(other) for other in own if other != at), default=0)

    def _there(self, at: int) -> float:
        use = self.uses[at]
        is_gone = use.source == "order" and self.parts[use.demand.part].is_sold_no_more
        return math.inf if is_gone else use.ready_day

    def _comes(self, at: int) -> float:
        """Give the day on which an ordered piece would be there instead."""
        is_gone = self.parts[self.uses[at].demand.part].is_sold_no_more
        return math.inf if is_gone else self._day_by_order(at)

    def _day_by_order(self, at: int) -> int:
        demand = self.uses[at].demand
        return arrival_day(self.parts, demand.part, demand.order_day, self.late_days)

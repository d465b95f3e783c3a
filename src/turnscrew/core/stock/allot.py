"""
Which piece goes to which device?

The shelf serves first, then donors, then the supplier; each serves the device due
earliest, then the longer job, then the lower number. A donor's piece is given to a
device only in time for it or where an ordered one would come no sooner.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping

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

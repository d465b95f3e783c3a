"""
What is bought, how many, for how much, and when at the latest?

Where packs and price breaks allow it, more pieces are bought if the whole costs less.
What is ordered on one day is bought together.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.stock.demand import Use
from turnscrew.core.stock.lead import lead_of


@dataclass(frozen=True)
class OrderLine:
    """
    One part bought on one day.

    Parameters
    ----------
    part
        Part number.
    order_day
        Workshop day of the order.
    n_needed
        Pieces needed. [1]
    n_bought
        Pieces bought: whole packs. [1]
    cost_minor
        Cost of all; 0 if the price is not known. [minor units]
    latest_day
        Latest day to order so that no device is late by it; below 1 if it is too late
        already, ``None`` if no day is agreed for any of them.
    arrives_day
        Workshop day on which it arrives.
    devices
        The devices it is for.
    is_priced
        Its price is known.
    """

    part: str
    order_day: int
    n_needed: int
    n_bought: int
    cost_minor: int
    latest_day: int | None
    arrives_day: int
    devices: tuple[int, ...]
    is_priced: bool = True


def ordered(
    uses: Iterable[Use], parts: Mapping[str, SparePart]
) -> tuple[OrderLine, ...]:
    """
    Write the order.

    Parameters
    ----------
    uses
        Where every piece comes from.
    parts
        Spare parts by number.

    Returns
    -------
    tuple[OrderLine, ...]
        Lines by part number and day.
    """
    groups: dict[tuple[str, int], list[Use]] = defaultdict(list)
    for use in uses:
        if use.source == "order":
            groups[use.demand.part, use.demand.order_day].append(use)
    lines: list[OrderLine] = []
    for name, day in sorted(groups, key=lambda key: _place(parts, *key)):
        group = groups[name, day]
        n, cost = cheapest(parts[name], len(group))
        days = [use.demand.needed_by for use in group]
        needed_by = min((day for day in days if day is not None), default=None)
        lead = lead_of(parts[name], parts.values(), {}).days
        lines.append(
            OrderLine(
                part=name,
                order_day=day,
                n_needed=len(group),
                n_bought=n,
                cost_minor=cost,
                latest_day=None if needed_by is None else needed_by - lead,
                arrives_day=group[0].ready_day,
                devices=tuple(sorted(use.demand.device for use in group)),
                is_priced=parts[name].cost_minor is not None or cost > 0,
            )
        )
    return tuple(lines)


def _place(parts: Mapping[str, SparePart], name: str, day: int) -> tuple[int, str, int]:
    return (parts[name].row, name, day)


def cheapest(part: SparePart, n_needed: int) -> tuple[int, int]:
    """
    Give the cheapest purchase of at least some pieces.

    Parameters
    ----------
    part
        The part, with its pack and price breaks.
    n_needed
        Pieces needed. [1]

    Returns
    -------
    tuple[int, int]
        Pieces bought and cost of all; the fewest pieces of equal cost.
        [1, minor units]
    """
    counts = {_whole_packs(part, n_needed)}
    counts |= {_whole_packs(part, max(b.n, n_needed)) for b in part.breaks}
    return min(
        ((n, n * _each_minor(part, n)) for n in counts), key=lambda c: (c[1], c[0])
    )


def _whole_packs(part: SparePart, n: int) -> int:
    return -(-n // part.pack) * part.pack


def _each_minor(part: SparePart, n: int) -> int:
    reached: Sequence[int] = [b.cost_minor for b in part.breaks if b.n <= n]
    return reached[-1] if reached else part.cost_minor or 0

"""
What is bought today for all open batches at once?

Every batch's wants draw on one shelf and on what is on its way; what is left is
bought together, so that packs and price breaks are shared.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.stock.order import cheapest
from turnscrew.errors import BadArgumentError

SHELF = ""
"""Stands for the shelf where a batch is named: pieces to keep, for no batch."""


@dataclass(frozen=True)
class Want:
    """
    One piece that a device of some batch wants.

    Parameters
    ----------
    batch
        Name of the batch.
    part
        Part number.
    device
        Number of the device in its batch.
    latest_day
        Latest day to order so that the device is not late by it; ``None`` if the
        device has no day.
    waits_for_yes
        The customer was to be asked, and has not said yes: nothing is bought for it.
    """

    batch: str
    part: str
    device: int
    latest_day: date | None
    waits_for_yes: bool = False


@dataclass(frozen=True)
class Purchase:
    """
    One part to be bought for all who want it.

    Parameters
    ----------
    part
        Part number.
    n_wanted
        Pieces wanted by all open batches. [1]
    n_shelf
        Pieces of it the shelf gives. [1]
    n_coming
        Pieces of it that are on their way. [1]
    n_needed
        Pieces to be bought, those to keep on the shelf among them. [1]
    n_bought
        Pieces bought: whole packs. [1]
    cost_minor
        Cost of all. [minor units]
    alone_minor
        Cost if every batch bought its own. [minor units]
    latest_day
        Latest day to order; ``None`` if no device it is for has a day.
    is_late
        That day is over.
    by_batch
        Pieces bought for each batch, those to keep under no name, in the order of
        the batches' days.
    n_later
        Pieces more that wait for a yes. [1]
    """

    part: str
    n_wanted: int
    n_shelf: int
    n_coming: int
    n_needed: int
    n_bought: int
    cost_minor: int
    alone_minor: int
    latest_day: date | None
    is_late: bool
    by_batch: tuple[tuple[str, int], ...]
    n_later: int


def bought_together(
    wants: Iterable[Want],
    parts: Mapping[str, SparePart],
    coming: Mapping[str, int],
    keep: Mapping[str, int],
    today: date,
) -> tuple[Purchase, ...]:
    """
    Write what is to be bought today.

    Parameters
    ----------
    wants
        What devices want from shelf or supplier and do not have yet.
    parts
        Spare parts by number, with all pieces on the shelf, promised ones among them.
    coming
        Pieces on their way, by part. [1]
    keep
        Free pieces at or below which a part is bought again, by part; 0 for never.
    today
        The day.

    Returns
    -------
    tuple[Purchase, ...]
        One for each part of which something is to be bought or waits for a yes.

    Raises
    ------
    BadArgumentError
        If a part is on no list.
    """
    by_part: dict[str, list[Want]] = defaultdict(list)
    for want in wants:
        by_part[want.part].append(want)
    names = {*by_part, *(name for name, n in keep.items() if n)}
    if unknown := ", ".join(sorted(names - set(parts))):
        raise BadArgumentError(f"part {unknown}, wanted one of the parts list")
    made = [
        _purchase(
            parts[name], by_part[name], coming.get(name, 0), keep.get(name, 0), today
        )
        for name in sorted(names)
    ]
    return tuple(one for one in made if one.n_needed or one.n_later)


def _purchase(
    part: SparePart, wants: Sequence[Want], n_coming: int, keep: int, today: date
) -> Purchase:
    now = sorted((w for w in wants if not w.waits_for_yes), key=_urgency)
    later = [w for w in wants if w.waits_for_yes]
    n_shelf = min(part.stock, len(now))
    n_due = min(n_coming, len(now) - n_shelf)
    unmet = now[n_shelf + n_due :]
    left = part.stock + n_coming - n_shelf - n_due
    n_later = max(0, len(later) - left)
    n_keep = keep + 1 - left if keep and left <= keep else 0
    n_needed = len(unmet) + n_keep
    is_bought = n_needed > 0 and not part.is_sold_no_more
    n_bought, cost = cheapest(part, n_needed) if is_bought else (0, 0)
    counts = Counter(want.batch for want in unmet)
    if n_keep:
        counts[SHELF] = n_keep
    days = [want.latest_day for want in unmet if want.latest_day is not None]
    return Purchase(
        part=part.part,
        n_wanted=len(now),
        n_shelf=n_shelf,
        n_coming=n_due,
        n_needed=n_needed,
        n_bought=n_bought,
        cost_minor=cost,
        alone_minor=sum(cheapest(part, n)[1] for n in counts.values() if is_bought),
        latest_day=min(days, default=None),
        is_late=bool(days) and min(days) < today,
        by_batch=tuple(counts.items()),
        n_later=n_later,
    )


def _urgency(want: Want) -> tuple[date, str, int]:
    return (want.latest_day or date.max, want.batch, want.device)


def shares(purchase: Purchase) -> tuple[tuple[str, int, int], ...]:
    """
    Share a purchase out to who wants it; what the pack holds more goes to the shelf.

    Parameters
    ----------
    purchase
        What is bought.

    Returns
    -------
    tuple[tuple[str, int, int], ...]
        Batch, pieces and cost in minor units; the costs add up to the whole.
    """
    if not purchase.n_bought:
        return ()
    counts = Counter(dict(purchase.by_batch))
    more = purchase.n_bought - purchase.n_needed
    if more:
        counts[SHELF] += more
    shared, n_so_far, minor_so_far = [], 0, 0
    for batch, n in counts.items():
        n_so_far += n
        upto = purchase.cost_minor * n_so_far // purchase.n_bought
        shared.append((batch, n, upto - minor_so_far))
        minor_so_far = upto
    return tuple(shared)

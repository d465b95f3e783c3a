"""Which demands are served already, by what was promised or fitted?"""

from collections import Counter, defaultdict, deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from turnscrew.core.model.given_piece import GivenPiece
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.stock.demand import Demand, Offer, Use


@dataclass(frozen=True)
class Served:
    """
    What is settled of the supply, and what is still to be planned.

    Parameters
    ----------
    uses
        Demands that have their piece.
    demands
        Those that wait for one.
    parts
        Spare parts by number, with the stock that is left for these.
    offers
        Pieces of donors that are left.
    """

    uses: tuple[Use, ...]
    demands: tuple[Demand, ...]
    parts: Mapping[str, SparePart]
    offers: tuple[Offer, ...]


def served(
    demands: Iterable[Demand],
    parts: Mapping[str, SparePart],
    offers: Iterable[Offer],
    given: Iterable[GivenPiece],
) -> Served:
    """
    Serve demands by the pieces that their devices were given.

    A piece of the shelf counts as long as the stock lasts: what was promised and got
    lost is wanted anew. What was fitted is served, whatever was found since.

    Parameters
    ----------
    demands
        The demands.
    parts
        Spare parts by number.
    offers
        Pieces of donors.
    given
        Pieces given, those that were fitted first.

    Returns
    -------
    Served
        What is settled and what is left.
    """
    asked, offered = list(demands), list(offers)
    wanted = Counter((demand.device, demand.part) for demand in asked)
    stock = Counter({name: part.stock for name, part in parts.items()})
    free = Counter(offered)
    held: dict[tuple[int, str], deque[GivenPiece]] = defaultdict(deque)
    for piece in given:
        named = piece.device, piece.part
        # What nothing asks for any more is free for whoever waits.
        if wanted[named] and (_is_there(piece, stock, free) or piece.is_fitted):
            wanted[named] -= 1
            held[named].append(piece)
    uses, waiting = [], []
    for demand in asked:
        own = held[demand.device, demand.part]
        if own:
            uses.append(_use(demand, own.popleft()))
        else:
            waiting.append(demand)
    return Served(
        tuple(uses),
        tuple(waiting),
        {name: replace(part, stock=stock[name]) for name, part in parts.items()},
        tuple(offer for offer in offered if free[offer]),
    )


def _is_there(piece: GivenPiece, stock: Counter[str], free: Counter[Offer]) -> bool:
    """Take a piece off the stock, or off what donors offer, if it is there."""
    if piece.donor:
        offer = Offer(piece.donor, piece.part)
        is_there = free[offer] > 0
        free[offer] -= is_there
    else:
        is_there = stock[piece.part] > 0
        stock[piece.part] -= is_there
    return is_there


def _use(demand: Demand, piece: GivenPiece) -> Use:
    return Use(demand, "donor" if piece.donor else "stock", 1, piece.donor, piece)

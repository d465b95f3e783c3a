"""What does the workshop buy and keep, and what does it fit?"""

import re
from dataclasses import dataclass
from typing import Annotated

from turnscrew.core.model.quantities import Bounds, Checked, Minor

_STORAGE = re.compile(r"\b(storage|drive|memory card|data carrier)\b", re.IGNORECASE)


def is_storage_by_name(description: str) -> bool:
    """
    Say whether the name of a part alone tells that it holds data.

    Parameters
    ----------
    description
        What the part is called.

    Returns
    -------
    bool
        True if so.
    """
    return _STORAGE.search(description) is not None


@dataclass(frozen=True)
class PriceBreak(Checked):
    """
    A lower cost from some number on.

    Parameters
    ----------
    n
        Number from which it holds. [1]
    cost_minor
        Cost of each piece then. [minor units]
    """

    n: Annotated[int, Bounds(1, 1_000_000, "1")]
    cost_minor: Minor


@dataclass(frozen=True)
class SparePart(Checked):
    """
    A spare part or consumable item the workshop buys and keeps.

    Parameters
    ----------
    part
        Its own number.
    description
        What it is.
    model
        Model it fits.
    revisions
        Revisions it fits; empty if it fits all.
    cost_minor
        Cost of one piece; ``None`` if not known. [minor units]
    lead_days
        Workshop days from order to arrival; ``None`` if not known.
    stock
        Free pieces on the shelf.
    pack
        Pieces in the smallest pack that can be bought.
    breaks
        Lower costs for larger numbers, from the smallest on.
    supplier
        Who sells it.
    place
        Where it lies.
    row
        Line of the file it was read from; 0 if none.
    is_free
        Somebody confirmed that it costs nothing.
    unit
        What one of it is: piece, set, metre and so on.
    reorder_point
        Free pieces at or below which it is bought again; 0 for never. [1]
    is_sold_no_more
        Nobody sells it any more: what is on the shelf is all there will be.
    """

    part: str
    description: str
    model: str
    revisions: tuple[str, ...] = ()
    cost_minor: Minor | None = None
    lead_days: Annotated[int, Bounds(0, 1000, "workshop days")] | None = None
    stock: Annotated[int, Bounds(0, 1_000_000, "1")] = 0
    pack: Annotated[int, Bounds(1, 100_000, "1")] = 1
    breaks: tuple[PriceBreak, ...] = ()
    supplier: str = ""
    place: str = ""
    row: int = 0
    is_free: bool = False
    unit: str = "piece"
    reorder_point: Annotated[int, Bounds(0, 1_000_000, "1")] = 0
    is_sold_no_more: bool = False

    def fits(self, model: str, revision: str) -> bool:
        """
        Say whether the part fits a device.

        Parameters
        ----------
        model
            Model of the device.
        revision
            Its revision; empty if not known.

        Returns
        -------
        bool
            True if so. With an unknown revision only a part for all revisions fits.
        """
        return self.model == model and (
            not self.revisions or revision in self.revisions
        )

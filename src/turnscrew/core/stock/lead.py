"""How long does a part take to come, and how is that known?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from turnscrew.core.model.spare_part import SparePart

KnownBy = Literal["its own", "longest of its supplier", "longest of all", "not known"]


@dataclass(frozen=True)
class Lead:
    """
    The lead of a part.

    Parameters
    ----------
    days
        Workshop days from order to arrival; 0 if nothing at all is known. [days]
    known_by
        Whether it is the part's own, the longest seen of its supplier, or of all.
    """

    days: int
    known_by: KnownBy


def lead_of(
    part: SparePart, parts: Iterable[SparePart], seen: Mapping[str, int]
) -> Lead:
    """
    Give the lead of a part; where none is known, the longest seen of its supplier.

    Parameters
    ----------
    part
        The part.
    parts
        All parts, with the leads that are said of them.
    seen
        Longest time a parcel took, by supplier. [workshop days]

    Returns
    -------
    Lead
        The lead, and how it is known.
    """
    if part.lead_days is not None:
        return Lead(part.lead_days, "its own")
    known = [
        (one.supplier, one.lead_days) for one in parts if one.lead_days is not None
    ]
    known += list(seen.items())
    alike = [days for name, days in known if part.supplier and name == part.supplier]
    if alike:
        return Lead(max(alike), "longest of its supplier")
    if known:
        return Lead(max(days for _, days in known), "longest of all")
    return Lead(0, "not known")

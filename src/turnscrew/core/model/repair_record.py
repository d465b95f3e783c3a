"""What is told of one repair attempt in an open record of repairs?"""

from dataclasses import dataclass
from datetime import date
from typing import Literal, get_args

RepairStatus = Literal["Fixed", "Repairable", "End of life", "Unknown"]
Barrier = Literal[
    "Spare parts not available",
    "Spare parts too expensive",
    "No way to open the product",
    "Repair information not available",
    "Lack of equipment",
    "Product too worn out",
]
AgeSource = Literal["reported", "derived", "implausible", "none"]

STATUSES: tuple[RepairStatus, ...] = get_args(RepairStatus)
BARRIERS: tuple[Barrier, ...] = get_args(Barrier)


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairRecord:
    """
    One row of the Open Repair Data Standard 0.3, or of a table mapped to it.

    Parameters
    ----------
    ref
        Its identifier, as written.
    category
        Category of the product; the one the customer's words were sorted into.
    status
        What came of the attempt.
    barrier
        Why it came to the end of its life; ``None`` if that is not told.
    event
        Day of the attempt; the first of a month where only that is told.
    country
        Three capitals of ISO 3166-1.
    age_years
        Age of the product; ``None`` if nobody told. [years]
    age_source
        How the age is known.
    year_made
        Year of manufacture; ``None`` if nobody told.
    fault
        Sort of fault somebody read from the text; empty if nobody did. The standard
        has no such field.
    problem
        The fault in free text, or what is left of it.
    signs
        Signs found in the text. The standard has no such field.
    brand
        As written; empty or "Unknown" if not told.
    partner_category
        Category as the provider sorts, as written.
    category_id
        Number of the category; ``None`` if not told.
    provider
        Who provided it, as written.
    group
        Where it was attempted, as written.
    changed
        Day of the last change; ``None`` if not told.
    """

    ref: str
    category: str
    status: RepairStatus
    barrier: Barrier | None = None
    event: date | None = None
    country: str = ""
    age_years: float | None = None
    age_source: AgeSource = "none"
    year_made: int | None = None
    fault: str = ""
    problem: str = ""
    signs: tuple[str, ...] = ()
    brand: str = ""
    partner_category: str = ""
    category_id: int | None = None
    provider: str = ""
    group: str = ""
    changed: date | None = None

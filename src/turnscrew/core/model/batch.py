"""What is known of each device of a batch before anything is decided?"""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Literal

from turnscrew.core.model.quantities import Bounds, Checked

DayNumber = Annotated[int, Bounds(1, 10_000, "workshop days")]
DataClass = Literal["P", "N", ""]
"""P: may hold data of persons. N: holds none. Empty: nobody said, so the strictest."""


ComebackClass = Literal["ours", "part", "other", "user"]


@dataclass(frozen=True)
class BatchLine(Checked):
    """
    One device as it was received and found.

    Parameters
    ----------
    line
        Its number in the batch.
    serial
        Serial number on the body; empty if there is none or it cannot be read.
    model
        Short name of the model.
    asset
        Owner's number; empty if there is none.
    revision
        Revision as seen on the body; empty if not known.
    site
        Place of the owner it comes from.
    due_day
        Workshop day by whose end it must be ready; ``None`` if none was agreed.
    reported
        What the customer says.
    found
        Codes of the faults found; empty while nobody has looked.
    accessories
        What came with it.
    data
        Whether it may hold data of persons.
    remarks
        What was seen on arrival, in words.
    row
        Line of the file it was read from; 0 if none.
    comeback_class
        What the lead settled of a comeback; ``None`` if nothing is settled.
    gap_mm
        Widest gap of the case; ``None`` if nobody measured it. [mm]
    told
        What was written of it since it came, in words: findings, packs, incidents.
    came
        The day it came; ``None`` if with the batch.
    """

    line: Annotated[int, Bounds(1, 1_000_000, "1")]
    serial: str
    model: str
    asset: str = ""
    revision: str = ""
    site: str = ""
    due_day: DayNumber | None = None
    reported: str = ""
    found: tuple[str, ...] = ()
    accessories: tuple[str, ...] = ()
    data: DataClass = ""
    remarks: str = ""
    row: int = 0
    comeback_class: ComebackClass | None = None
    gap_mm: Annotated[float, Bounds(0, 99, "mm")] | None = None
    told: tuple[str, ...] = ()
    came: date | None = None

    @property
    def seen(self) -> str:
        """
        Give model and revision as seen on the body.

        Returns
        -------
        str
            Such as ``L240 A``; the model alone if the revision is not known.
        """
        return f"{self.model} {self.revision}".strip()


@dataclass(frozen=True)
class ListedDevice:
    """
    One device on the customer's own list.

    Parameters
    ----------
    row
        Line of the list.
    asset
        Owner's number; empty if the list gives none.
    serial
        Serial number; empty if the list gives none.
    model
        Model in the customer's words; empty if not said.
    revision
        Revision; empty if not said.
    site
        Place; empty if not said.
    """

    row: int
    asset: str = ""
    serial: str = ""
    model: str = ""
    revision: str = ""
    site: str = ""

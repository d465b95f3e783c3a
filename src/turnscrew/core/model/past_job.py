"""What is remembered of a job once it is closed?"""

from dataclasses import dataclass
from datetime import date
from typing import Literal

End = Literal["mended", "no fault found", "not mended", "written off"]


@dataclass(frozen=True)
class PastJob:
    """
    One closed job.

    Parameters
    ----------
    family
        Family of the device.
    end
        How it ended.
    confirmed
        The confirmed fault; empty if none was confirmed.
    signs
        Signs, by name.
    findings
        Tests and repairs in the order made, each with what came of it.
    revision
        Revision of the device; empty if not known.
    site
        Where the device was used; empty if not known.
    day
        When the job was closed.
    asset
        The owner's number.
    serial
        Serial number; empty if not known.
    parts
        Spare parts fitted.
    besides
        Further faults that were confirmed in the same job.
    line
        Its line if it was of the very batch it is asked about for; 0 if not.
    left
        Confirmed faults that were left, as the owner did not agree to them.
    """

    family: str
    end: End
    confirmed: str = ""
    signs: tuple[str, ...] = ()
    findings: tuple[tuple[str, str], ...] = ()
    revision: str = ""
    site: str = ""
    day: date | None = None
    asset: str = ""
    serial: str = ""
    parts: tuple[str, ...] = ()
    besides: tuple[str, ...] = ()
    line: int = 0
    left: tuple[str, ...] = ()

    @property
    def faults(self) -> tuple[str, ...]:
        """
        Give every fault that was confirmed.

        Returns
        -------
        tuple[str, ...]
            Fault codes; none if none was confirmed.
        """
        return tuple(filter(None, (self.confirmed, *self.besides)))

    @property
    def mended(self) -> tuple[str, ...]:
        """
        Give every fault that was confirmed and not left.

        Returns
        -------
        tuple[str, ...]
            Fault codes; none if none is known to have been mended.
        """
        return tuple(code for code in self.faults if code not in self.left)

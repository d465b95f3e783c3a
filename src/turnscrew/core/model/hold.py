"""What must be observed or settled before work on a device?"""

from dataclasses import dataclass
from typing import Literal

HoldKind = Literal[
    "pack", "liquid", "glass", "wet", "contaminated", "locked", "damaged", "private",
    "returned", "unsorted", "data", "list", "due day", "quote", "faults", "comeback",
    "closing", "part gone",
]  # fmt: skip


@dataclass(frozen=True)
class Hold:
    """
    One thing to be observed or settled.

    Parameters
    ----------
    kind
        What it is about.
    says
        What to observe or settle, in words.
    seen
        The words of the remark it comes from; empty if it comes from none.
    """

    kind: HoldKind
    says: str
    seen: str = ""

    def __str__(self) -> str:
        """Give the hold in words."""
        return f"{self.says} ({self.seen})" if self.seen else self.says

"""What comes out when a batch is compared with the customer's list?"""

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from turnscrew.core.model.batch import ListedDevice

Field = Literal["serial", "asset", "model", "revision"]


@dataclass(frozen=True)
class Match:
    """
    A device of the batch found on the list.

    Parameters
    ----------
    line
        Number in the batch.
    row
        Line of the list.
    """

    line: int
    row: int


@dataclass(frozen=True)
class Difference:
    """
    One field that reads differently.

    Parameters
    ----------
    field
        The field.
    batch
        Text in the batch.
    listed
        Text on the list.
    kind
        How they differ, in words; empty if plainly.
    """

    field: Field
    batch: str
    listed: str
    kind: str = ""

    def __str__(self) -> str:
        """Give the difference in words."""
        kind = f" ({self.kind})" if self.kind else ""
        return (
            f"{self.field} {self.batch or 'blank'}, on the list "
            f"{self.listed or 'blank'}{kind}"
        )


@dataclass(frozen=True)
class Differing:
    """
    A device found on the list that reads differently there.

    Parameters
    ----------
    line
        Number in the batch.
    row
        Line of the list.
    differences
        What differs.
    """

    line: int
    row: int
    differences: tuple[Difference, ...]


@dataclass(frozen=True)
class Near:
    """
    Two serials so alike that one may be a slip of the other.

    Parameters
    ----------
    lines
        Numbers in the batch: two, or one beside a row of the list.
    row
        Line of the list; 0 if both are in the batch.
    kind
        How they differ.
    """

    lines: tuple[int, ...]
    row: int
    kind: str

    def __str__(self) -> str:
        """Give the pair in words."""
        if self.row:
            return f"{self.lines[0]} and row {self.row} of the list: {self.kind}"
        return f"{self.lines[0]} and {self.lines[1]}: {self.kind}"


@dataclass(frozen=True)
class Blank:
    """
    A device without a number.

    Parameters
    ----------
    line
        Number in the batch.
    fields
        The fields that are blank.
    """

    line: int
    fields: tuple[Field, ...]


@dataclass(frozen=True)
class Reconciliation:
    """
    The batch against the list, both ways.

    Every device is in exactly one of matched, differing and extra; every row of the
    list in exactly one of matched, differing and missing.

    Parameters
    ----------
    matched
        On both, and equal.
    differing
        On both, but not equal.
    missing
        On the list, but not here.
    extra
        Here, but not on the list.
    duplicate_serials
        Groups of devices with the very same serial.
    duplicate_assets
        Groups of devices with the very same owner's number.
    listed_twice
        Groups of rows of the list with the very same serial or owner's number.
    near_serials
        Pairs of serials that may be slips of one another.
    blanks
        Devices without a number.
    """

    matched: tuple[Match, ...]
    differing: tuple[Differing, ...]
    missing: tuple[ListedDevice, ...]
    extra: tuple[int, ...]
    duplicate_serials: tuple[tuple[int, ...], ...]
    duplicate_assets: tuple[tuple[int, ...], ...]
    listed_twice: tuple[tuple[int, ...], ...]
    near_serials: tuple[Near, ...]
    blanks: tuple[Blank, ...]

    @property
    def is_list_empty(self) -> bool:
        """
        Say whether there was nothing to compare the batch with.

        Returns
        -------
        bool
            True if the list has no row, so that every device is extra.
        """
        return not (self.matched or self.differing or self.missing)

    @cached_property
    def listed_again(self) -> dict[int, int]:
        """
        Give the rows that no device answers to, but one does to a row of their number.

        Returns
        -------
        dict[int, int]
            The first such row, by the row that repeats its number.
        """
        missing = {row.row for row in self.missing}
        again: dict[int, int] = {}
        for rows in self.listed_twice:
            here = [row for row in rows if row not in missing]
            again |= {row: here[0] for row in rows if here and row in missing}
        return again

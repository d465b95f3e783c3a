"""Where is the first entry of a journal that is missing, changed or out of place?"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from turnscrew.core.ledger.entry import START, Entry


@dataclass(frozen=True)
class Break:
    """
    One thing that does not hold.

    Parameters
    ----------
    where
        Journal and number, or what does not add up.
    found
        What is there.
    wanted
        What should be there.
    """

    where: str
    found: str
    wanted: str

    def __str__(self) -> str:
        """Give it in one line."""
        return f"{self.where}: found {self.found}, wanted {self.wanted}"


class ChainCheck:
    """
    Walks one journal, entry by entry.

    Parameters
    ----------
    journal
        Its name.
    lost
        Numbers of entries that are known to lack since a restore in part.
    """

    def __init__(self, journal: str, lost: Collection[int] = ()) -> None:
        self.journal = journal
        self.lost = lost
        self.n = 0
        self.last = 0
        self.digest = START
        self.first_break: Break | None = None

    def take(self, entry: Entry, sealed: str) -> None:
        """
        Look at the next entry.

        Parameters
        ----------
        entry
            The entry.
        sealed
            The digest written beside it.
        """
        is_after_gap = self._skips_to(entry.sequence)
        if self.first_break is None:
            self.first_break = self._break_at(entry, sealed, is_after_gap=is_after_gap)
        self.n += 1
        self.last += 1
        self.digest = sealed

    def _skips_to(self, sequence: int) -> bool:
        before = self.last
        while self.last + 1 < sequence and self.last + 1 in self.lost:
            self.last += 1
        return self.last > before

    def _break_at(
        self, entry: Entry, sealed: str, *, is_after_gap: bool
    ) -> Break | None:
        where = f"{self.journal} entry {entry.sequence}"
        if entry.sequence != self.last + 1:
            return Break(
                f"{self.journal} after entry {self.last}",
                f"entry {entry.sequence}",
                f"entry {self.last + 1}",
            )
        # The digest of a lost entry is lost with it; the entry's own still counts.
        if not is_after_gap and entry.previous != self.digest:
            return Break(where, "another digest before it", "that of the entry before")
        if entry.digest != sealed:
            return Break(where, "changed contents", "those that were sealed")
        return None

    def end(self, sequence: int, digest: str) -> None:
        """
        Compare with what is remembered of the last entry, so that none was cut off.

        Parameters
        ----------
        sequence
            Number of the last entry as remembered.
        digest
            Its digest as remembered.
        """
        is_after_gap = self._skips_to(sequence + 1)
        is_same = self.last == sequence and (is_after_gap or self.digest == digest)
        if self.first_break is None and not is_same:
            self.first_break = Break(
                f"{self.journal} end",
                f"entry {self.last}",
                f"entry {sequence} as sealed",
            )


def first_break(
    journal: str,
    entries: Iterable[tuple[Entry, str]],
    sequence: int,
    digest: str,
    *,
    lost: Collection[int] = (),
) -> Break | None:
    """
    Find the first break of a journal.

    Parameters
    ----------
    journal
        Its name.
    entries
        Entries with the digests written beside them, in the order of their numbers.
    sequence
        Number of the last entry as remembered apart.
    digest
        Digest of the last entry as remembered apart.
    lost
        Numbers of entries that are known to lack since a restore in part.

    Returns
    -------
    Break or None
        The break, or ``None`` if the journal is whole.
    """
    check = ChainCheck(journal, lost)
    for entry, sealed in entries:
        check.take(entry, sealed)
    check.end(sequence, digest)
    return check.first_break

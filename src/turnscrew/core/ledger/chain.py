"""Where is the first entry of a journal that is missing, changed or out of place?"""

from collections.abc import Iterable
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
    """

    def __init__(self, journal: str) -> None:
        self.journal = journal
        self.n = 0
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
        if self.first_break is None:
            self.first_break = self._break_at(entry, sealed)
        self.n += 1
        self.digest = sealed

    def _break_at(self, entry: Entry, sealed: str) -> Break | None:
        where = f"{self.journal} entry {entry.sequence}"
        if entry.sequence != self.n + 1:
            return Break(
                f"{self.journal} after entry {self.n}",
                f"entry {entry.sequence}",
                f"entry {self.n + 1}",
            )
        if entry.previous != self.digest:
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
        if self.first_break is None and (self.n, self.digest) != (sequence, digest):
            self.first_break = Break(
                f"{self.journal} end", f"entry {self.n}", f"entry {sequence} as sealed"
            )


def first_break(
    journal: str, entries: Iterable[tuple[Entry, str]], sequence: int, digest: str
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

    Returns
    -------
    Break or None
        The break, or ``None`` if the journal is whole.
    """
    check = ChainCheck(journal)
    for entry, sealed in entries:
        check.take(entry, sealed)
    check.end(sequence, digest)
    return check.first_break

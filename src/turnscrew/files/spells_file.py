"""
How is a table of spells read: which device had which accessory, place or person?

One row a spell: ``device``, ``carrier``, ``failures`` in it, and ``days`` if its length
is known for every row.
"""

from dataclasses import dataclass

from turnscrew.files.columns_file import Columns
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.row_text import Row
from turnscrew.files.table_text import Wanted, read_table

WANTED = Wanted(needed=("device", "carrier", "failures"), optional=("days",))

_MOST_DAYS = 100_000


@dataclass(frozen=True)
class Spells:
    """
    Spells of devices with carriers.

    Parameters
    ----------
    devices
        The device of each.
    carriers
        What was with it.
    failures
        Failures in it. [1]
    days
        Its length; ``None`` if the table tells none. [days]
    """

    devices: tuple[str, ...]
    carriers: tuple[str, ...]
    failures: tuple[int, ...]
    days: tuple[int, ...] | None


def read_spells(
    content: bytes, name: str = "spells.csv", columns: Columns | None = None
) -> Spells:
    """
    Read spells.

    Parameters
    ----------
    content
        Bytes of the table.
    name
        Its name.
    columns
        What is remembered of its headings.

    Returns
    -------
    Spells
        The spells, in the order of the table.

    Raises
    ------
    BadFileError
        If anything does not fit, with every problem and its line.
    """
    table = read_table(content, name, WANTED, columns)
    problems = list(table.problems)
    has_days = "days" in table.columns
    rows: list[tuple[str, str, int, int]] = []
    for cells, line in zip(table.rows, table.lines, strict=True):
        row = Row(cells, line, problems)
        days = row.whole("days", 1, _MOST_DAYS) if has_days else 1
        if has_days and not row.text("days"):
            row.note("days", "nothing", "its days, as in the other rows")
        n = row.whole("failures", 0, 1_000_000)
        if not row.text("failures"):
            row.note("failures", "nothing", "a number, 0 if there was none")
        rows.append((row.needed("device"), row.needed("carrier"), n or 0, days or 1))
    refuse_if_any(problems)
    devices, carriers, failures, lengths = (
        zip(*rows, strict=True) if rows else ((),) * 4
    )
    return Spells(devices, carriers, failures, lengths if has_days else None)

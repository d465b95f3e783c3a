"""How do the rows of a customer's list read that no device answers to?"""

from turnscrew.core.model.batch import ListedDevice
from turnscrew.core.reconcile.answer import Reconciliation
from turnscrew.papers.set_aside import written


def missing_written(found: Reconciliation, row: ListedDevice) -> str:
    """
    Name a row that no device answers to, by its number.

    Parameters
    ----------
    found
        What the list tells.
    row
        The row.

    Returns
    -------
    str
        The number and the row; and the row whose number it repeats, if it does.
    """
    number = written(row.asset or row.serial) or "no number"
    again = again_written(found, row)
    return f"{number} (row {row.row}{again and f', {again}'})"


def again_written(found: Reconciliation, row: ListedDevice) -> str:
    """
    Say of a row that no device answers to whose number it repeats.

    Parameters
    ----------
    found
        What the list tells.
    row
        The row.

    Returns
    -------
    str
        The words; empty if it repeats none.
    """
    first = found.listed_again.get(row.row)
    return "" if first is None else f"the number of row {first} again"


def twice_written(found: Reconciliation) -> list[str]:
    """
    Name the rows of the list that bear one number.

    Parameters
    ----------
    found
        What the list tells.

    Returns
    -------
    list[str]
        A line a number.
    """
    groups = dict.fromkeys(found.listed_twice)
    return [f"rows {', '.join(map(str, rows))}" for rows in groups]

"""What is a table before its headings are known, and how large may it be?"""

from typing import NoReturn

from turnscrew.errors import BadFileError, Problem

MAX_BYTES = 20_000_000
MAX_ROWS = 200_000
MAX_COLUMNS = 200

Grid = list[tuple[int, list[str]]]
"""Line and cells of each row, blank ones too; cells without blanks around them."""


def refuse(
    where: str, found: str, wanted: str, line: int = 1, column: int = 1
) -> NoReturn:
    """
    Refuse a file for one reason.

    Parameters
    ----------
    where
        What is wrong.
    found
        What stands there.
    wanted
        What would be right.
    line
        Its line.
    column
        Its column.

    Raises
    ------
    BadFileError
        Always.
    """
    raise BadFileError((Problem(where, found, wanted, line, column),))

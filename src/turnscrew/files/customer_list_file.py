"""How is a customer's own list of devices read, whatever its headings?"""

from turnscrew.core.model.batch import ListedDevice
from turnscrew.core.model.serials import number_read
from turnscrew.files.columns_file import OTHER_WORDS, Columns
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.row_text import Row
from turnscrew.files.table_text import Wanted, read_table

WANTED = Wanted(
    needed=(),
    optional=("asset", "serial", "model", "rev", "site"),
    also=OTHER_WORDS,
    any_of=("serial", "asset"),
    allows_others=True,
)


def read_customer_list(
    content: bytes, name: str, columns: Columns | None = None
) -> tuple[ListedDevice, ...]:
    """
    Read a customer's list.

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
    tuple[ListedDevice, ...]
        One for each row that is not blank, in order.

    Raises
    ------
    BadFileError
        If it cannot be read or neither heading is found, with all problems.
    """
    table = read_table(content, name, WANTED, columns)
    problems = list(table.problems)
    listed = []
    for cells, line in zip(table.rows, table.lines, strict=True):
        row = Row(cells, line, problems)
        listed.append(
            ListedDevice(
                row=line,
                asset=row.text("asset"),
                serial=number_read(row.text("serial")),
                model=row.text("model"),
                revision=row.text("rev"),
                site=row.text("site"),
            )
        )
    refuse_if_any(problems)
    return tuple(listed)

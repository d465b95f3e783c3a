"""
How are closed jobs read from a table?

One row a job: ``family, revision, site, day, asset, serial, signs, words, findings,
confirmed, parts, end``. Columns are found by their names, in any order. Signs, findings
and parts are parted by semicolons; a finding is ``name=outcome``, in the order made.
"""

from typing import get_args

from turnscrew.core.diagnose.words import Told
from turnscrew.core.model.past_job import End, PastJob
from turnscrew.core.model.serials import number_read
from turnscrew.files.columns_file import Columns
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.row_text import Row
from turnscrew.files.table_text import Wanted, read_table

WANTED = Wanted(
    needed=("family", "end"),
    optional=(
        "findings", "confirmed", "signs", "revision", "site", "day", "asset", "serial",
        "parts", "words",
    ),
)  # fmt: skip


def read_history(
    content: bytes, name: str = "history.csv", columns: Columns | None = None
) -> tuple[PastJob, ...]:
    """
    Read closed jobs.

    Parameters
    ----------
    content
        Bytes of the table with its heading.
    name
        Its name.
    columns
        What is remembered of its headings.

    Returns
    -------
    tuple
        The jobs, in the order of the table.

    Raises
    ------
    BadFileError
        If anything does not fit, with every problem and its line.
    """
    return tuple(told.job for told in read_told(content, name, columns))


def read_told(
    content: bytes, name: str = "history.csv", columns: Columns | None = None
) -> tuple[Told, ...]:
    """
    Read closed jobs with the customers' words.

    Parameters
    ----------
    content
        Bytes of the table with its heading.
    name
        Its name.
    columns
        What is remembered of its headings.

    Returns
    -------
    tuple
        The jobs with their words, in the order of the table.

    Raises
    ------
    BadFileError
        If anything does not fit, with every problem and its line.
    """
    table = read_table(content, name, WANTED, columns)
    problems = list(table.problems)
    rows = [
        Row(cells, line, problems)
        for cells, line in zip(table.rows, table.lines, strict=True)
    ]
    told = [Told(_job(row), row.text("words")) for row in rows]
    refuse_if_any(problems)
    return tuple(told)


def _job(row: Row) -> PastJob:
    ends: tuple[End, ...] = get_args(End)
    end = row.needed("end") and row.word("end", ends)
    if end == "mended" and not row.text("confirmed"):
        row.note("confirmed", "nothing", "the fault that was mended")
    pairs = [finding.partition("=") for finding in _parted(row.text("findings"))]
    for pair in pairs:
        if not all(part.strip() for part in pair):
            row.note("findings", "".join(pair), "name=outcome")
    return PastJob(
        family=row.needed("family"),
        end=next((known for known in ends if known == end), ends[0]),
        confirmed=row.text("confirmed"),
        signs=_parted(row.text("signs")),
        findings=tuple((name.strip(), said.strip()) for name, _, said in pairs),
        revision=row.text("revision"),
        site=row.text("site"),
        day=row.day("day"),
        asset=row.text("asset"),
        serial=number_read(row.text("serial")),
        parts=_parted(row.text("parts")),
    )


def _parted(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())

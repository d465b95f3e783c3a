"""How is the list of spare parts read?"""

import re

from turnscrew.core.model.quantities import BadFieldError
from turnscrew.core.model.spare_part import PriceBreak, SparePart
from turnscrew.files.columns_file import Columns
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.row_text import Row
from turnscrew.files.table_text import Wanted, read_table

WANTED = Wanted(
    needed=("part", "description", "fits", "cost", "lead_days", "stock"),
    optional=(
        "pack",
        "breaks",
        "supplier",
        "place",
        "free",
        "unit",
        "reorder_point",
        "sold",
    ),
)
_BREAK = re.compile(r"(\d{1,6})\s*:\s*(\d{1,8})(?:\.(\d{1,2}))?", re.ASCII)


def read_parts(
    content: bytes, name: str, columns: Columns | None = None
) -> tuple[SparePart, ...]:
    """
    Read the spare parts.

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
    tuple[SparePart, ...]
        One for each row that is not blank, in order.

    Raises
    ------
    BadFileError
        If anything does not fit, with all problems.
    """
    table = read_table(content, name, WANTED, columns)
    problems = list(table.problems)
    parts: list[SparePart] = []
    first: dict[str, int] = {}
    for cells, line in zip(table.rows, table.lines, strict=True):
        row = Row(cells, line, problems)
        part = _part(row)
        if part is None:
            continue
        if part.part in first:
            row.note("part", f"{part.part}, as in row {first[part.part]}", "a new one")
        first.setdefault(part.part, line)
        parts.append(part)
    refuse_if_any(problems)
    return tuple(parts)


def _part(row: Row) -> SparePart | None:
    fits = row.needed("fits").split()
    if len(fits) > 2:
        row.note("fits", " ".join(fits), "a model and its revisions, such as L240 A+B")
    revisions = fits[1] if len(fits) > 1 else ""
    cost_minor = row.money("cost")
    is_free = row.word("free", ("yes", "no", "")) == "yes"
    if is_free and cost_minor != 0:
        row.note("free", f"yes beside {row.text('cost') or 'no cost'}", "a cost of 0")
    try:
        return SparePart(
            part=row.needed("part"),
            description=row.needed("description"),
            model=fits[0] if fits else "",
            revisions=tuple(r for r in revisions.split("+") if r),
            cost_minor=cost_minor,
            lead_days=row.whole("lead_days", 0, 1000),
            stock=row.whole("stock", 0, 1_000_000) or 0,
            pack=row.whole("pack", 1, 100_000) or 1,
            breaks=_breaks(row),
            supplier=row.text("supplier"),
            place=row.text("place"),
            row=row.line,
            is_free=is_free,
            unit=row.text("unit") or "piece",
            reorder_point=row.whole("reorder_point", 0, 1_000_000) or 0,
            is_sold_no_more=row.word("sold", ("yes", "no", "")) == "no",
        )
    except BadFieldError as error:
        row.note(error.field.removesuffix("_minor"), error.found, error.wanted)
    return None


def _breaks(row: Row) -> tuple[PriceBreak, ...]:
    found: list[PriceBreak] = []
    for word in row.several("breaks", ";"):
        match = _BREAK.fullmatch(word)
        if match is None or int(match[1]) < 1:
            row.note("breaks", word, "number: cost, such as 10: 2.10")
            continue
        minor = 100 * int(match[2]) + int((match[3] or "").ljust(2, "0"))
        found.append(PriceBreak(int(match[1]), minor))
    numbers = [one.n for one in found]
    if numbers != sorted(set(numbers)):
        row.note("breaks", row.text("breaks"), "rising numbers, each once")
    return tuple(found)

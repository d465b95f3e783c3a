"""Which devices are which rows, found by looking at every pair again and again?"""

from collections.abc import Sequence

from turnscrew.core.model.batch import BatchLine, ListedDevice


def squeezed(text: str) -> str:
    return text.upper().replace(" ", "").replace("-", "")


def bare(text: str) -> str:
    """A run of digits counts as its number; hyphens and blanks part runs."""
    out, run = "", ""
    for c in text.upper() + "\n":
        if c.isdigit():
            run += c
            continue
        out += (run.lstrip("0") or "0") if run else ""
        run = ""
        out += c if c not in " -\n" else ""
    return out


def pairs_of(
    lines: Sequence[BatchLine], rows: Sequence[ListedDevice]
) -> dict[int, int]:
    """Serial and number, then serial, then number; the most agreeing pair first."""
    pairs: dict[int, int] = {}
    for fields in (("serial", "asset"), ("serial",), ("asset",)):
        for form in (squeezed, bare):
            while best := _best(lines, rows, pairs, fields, form):
                pairs[best[1]] = best[2]
    return pairs


def _best(lines, rows, pairs, fields, form) -> tuple[int, int, int] | None:
    ranks = [
        (-_score(line, row), line.line, row.row)
        for line in lines
        for row in rows
        if line.line not in pairs
        and row.row not in pairs.values()
        and all(
            form(getattr(line, f)) and form(getattr(line, f)) == form(getattr(row, f))
            for f in fields
        )
    ]
    return min(ranks, default=None)


def _score(line: BatchLine, row: ListedDevice) -> int:
    score = 0
    for name in ("serial", "asset", "model", "revision", "site"):
        here, there = getattr(line, name), getattr(row, name)
        if here and there:
            score += (squeezed(here) == squeezed(there)) + (here == there)
    return score


def groups_of(
    ones: Sequence[BatchLine] | Sequence[ListedDevice], field: str
) -> tuple[tuple[int, ...], ...]:
    """Numbers of those that bear the same text, by looking at all for each."""
    groups: list[tuple[int, ...]] = []
    for one in ones:
        text = squeezed(getattr(one, field))
        same = tuple(
            getattr(other, "line", None) or other.row
            for other in ones
            if text and squeezed(getattr(other, field)) == text
        )
        if len(same) > 1 and same not in groups:
            groups.append(same)
    return tuple(groups)

"""How does a break read to somebody who knows devices and parts, and no reference?"""

import re
from collections.abc import Iterable, Iterator
from typing import Any

from turnscrew.core.ledger.chain import Break
from turnscrew.web.records.models import Invoice, Job, Part, SupplierReturn, Waste
from turnscrew.web.records.queries.in_parts import among

_REF = re.compile(r"\b[0-9a-f]{16}\b")


def words_of(breaks: Iterable[Break]) -> list[str]:
    """Write each break in a line, with what a reference in it names behind it."""
    told = [str(one) for one in breaks]
    refs = {ref for line in told for ref in _REF.findall(line)}
    names = dict(_names(refs)) if refs else {}

    def named(found: re.Match[str]) -> str:
        name = names.get(found[0])
        return f"{found[0]} ({name})" if name else found[0]

    return [_REF.sub(named, line) for line in told]


def _names(refs: set[str]) -> Iterator[tuple[str, str]]:
    def rows(model: Any, *fields: str) -> Iterator[tuple[Any, ...]]:
        yield from among(model.objects.values_list("ref", *fields), "ref", refs)

    for ref, line, batch in rows(Job, "line", "batch__name"):
        yield ref, f"device {line} of {batch}"
    for ref, number in rows(Part, "number"):
        yield ref, number
    for ref, number in rows(Invoice, "number"):
        yield ref, number
    for ref, number in rows(SupplierReturn, "part__number"):
        yield ref, f"return of {number}"
    for ref, kind in rows(Waste, "kind"):
        yield ref, kind

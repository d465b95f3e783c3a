"""How is a row written so that it can be told by itself whether it is whole?"""

import json
from collections.abc import Iterable, Iterator
from hashlib import sha256
from typing import Any

from turnscrew.errors import BadFileError, Problem

Row = dict[str, Any]
_SEAL_LENGTH = 16


class MisfitError(BadFileError):
    """Rows are whole, but there is no room for what stands in them."""


def sealed(row: Row, table: str) -> bytes:
    """Write a row and its seal as one line; the seal says of which table it is."""
    # No tab stands in JSON that was written without one.
    text = json.dumps(row, ensure_ascii=False).encode()
    return text + b"\t" + _seal(text, table) + b"\n"


def rows_in(lines: Iterable[bytes], table: str) -> Iterator[Row]:
    """Read rows of a whole file, those of the first form without a seal among them."""
    for number, line in enumerate(lines, 1):
        text, tab, seal = line.rstrip(b"\n").rpartition(b"\t")
        if tab and seal != _seal(text, table):
            raise BadFileError((Problem(table, "another seal", "its own", number),))
        yield json.loads(text if tab else line)


def whole_rows_in(content: bytes, table: str) -> list[Row]:
    """Give the rows of a damaged file whose seal holds."""
    rows = []
    for line in content.split(b"\n"):
        text, tab, seal = line.rpartition(b"\t")
        if tab and seal == _seal(text, table):
            rows.append(json.loads(text))
    return rows


def _seal(text: bytes, table: str) -> bytes:
    return sha256(table.encode() + b"\t" + text).hexdigest()[:_SEAL_LENGTH].encode()

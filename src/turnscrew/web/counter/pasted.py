"""How does a table come in that was uploaded, or pasted from a spreadsheet?"""

import csv
import io
from collections import Counter

from turnscrew.core.model.batch import ListedDevice
from turnscrew.files.columns_file import Columns
from turnscrew.files.customer_list_file import WANTED, read_customer_list
from turnscrew.files.sheet_grid import ENDINGS
from turnscrew.files.table_text import headings_in, plain_heading
from turnscrew.web.counter.acts import Entered
from turnscrew.web.records.services.refusal import RefusedError

_MARKS = (b"\xff\xfe", b"\xfe\xff")
"""At the head of a text that says itself that it is UTF-16."""


def table_in(entered: Entered, stem: str) -> tuple[bytes, str]:
    """Give a table that was uploaded, or pasted from a spreadsheet, as it came."""
    file = entered["file"]
    is_pasted = bool(entered["pasted"].strip())
    if file is not None and is_pasted:
        raise RefusedError("table: found a file and pasted rows, wanted one of them")
    if file is not None:
        ending = "." + file.name.rpartition(".")[2].lower()
        return _readable(file.read(), ending), f"{stem}{ending}"
    if not is_pasted:
        raise RefusedError("table: found neither file nor pasted rows, wanted one")
    return _as_csv(entered["pasted"]).encode(), f"{stem}.csv"


def listed_in(entered: Entered) -> tuple[ListedDevice, ...]:
    """Read a customer's list that was sent, by the headings said of it."""
    content, name = table_in(entered, "customer-list")
    said = {ours: entered[ours].strip() for ours in WANTED.names}
    columns = Columns(headings={said[ours]: ours for ours in said if said[ours]})
    reasons = _wrong_headings(list(filter(None, said.values())), content, name, columns)
    if reasons:
        raise RefusedError(*reasons)
    listed = read_customer_list(content, name, columns)
    if not listed:
        raise RefusedError("table: found a heading alone, wanted a row a device")
    return listed


def _wrong_headings(
    said: list[str], content: bytes, name: str, columns: Columns
) -> list[str]:
    there = headings_in(content, name, WANTED, columns)
    known = {plain_heading(one) for one in there}
    n_said = Counter(map(plain_heading, said))
    told = ", ".join(filter(None, there))
    reasons = [
        f"heading: found {one} said of two columns, wanted one alone"
        for one in said
        if n_said[plain_heading(one)] > 1
    ]
    reasons += [
        f"heading: found no {one} in the table, wanted one of {told}"
        for one in said
        if plain_heading(one) not in known
    ]
    return list(dict.fromkeys(reasons))


def _readable(content: bytes, ending: str) -> bytes:
    """Refuse a text whose letters nobody can tell; it can come in otherwise."""
    if ending in ENDINGS or content.startswith(_MARKS):
        return content
    try:
        is_told = "\0" not in content.decode()
    except UnicodeDecodeError:
        is_told = False
    if not is_told:
        raise RefusedError(
            "file: found letters that are not written as UTF-8, wanted it saved as "
            "UTF-8, or the spreadsheet itself, or its rows pasted"
        )
    return content


def _as_csv(pasted: str) -> str:
    """Turn rows copied from a spreadsheet, with tabs between, into a table."""
    if "\t" not in pasted:
        return pasted
    kept = io.StringIO()
    csv.writer(kept).writerows(line.split("\t") for line in pasted.splitlines())
    return kept.getvalue()

"""How does a table come in that was uploaded, or pasted from a spreadsheet?"""

import csv
import io

from turnscrew.web.counter.acts import Entered
from turnscrew.web.records.services.refusal import RefusedError


def table_in(entered: Entered, stem: str) -> tuple[bytes, str]:
    """Give a table that was uploaded, or pasted from a spreadsheet, as it came."""
    file = entered["file"]
    if file is not None:
        ending = "." + file.name.rpartition(".")[2].lower()
        return file.read(), f"{stem}{ending}"
    if not entered["pasted"].strip():
        raise RefusedError("table: found neither file nor pasted rows, wanted one")
    return _as_csv(entered["pasted"]).encode(), f"{stem}.csv"


def _as_csv(pasted: str) -> str:
    """Turn rows copied from a spreadsheet, with tabs between, into a table."""
    if "\t" not in pasted:
        return pasted
    kept = io.StringIO()
    csv.writer(kept).writerows(line.split("\t") for line in pasted.splitlines())
    return kept.getvalue()

"""Every reader of a file, each with sound texts to spoil."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from example_files import EXAMPLES, example_file
from files_tables import ods_bytes, xls_bytes, xlsx_bytes
from turnscrew.files import (
    batch_file,
    batch_folder,
    case_file,
    columns_file,
    customer_list_file,
    device_file,
    device_writing,
    faults_file,
    fleet_file,
    history_file,
    json_text,
    open_repairs_file,
    parts_file,
    problem_file,
    spells_file,
    symptom_counts_file,
    terms_file,
    yaml_text,
)

SALLOWMERE = EXAMPLES / "sallowmere"

COUNTS = b"""device,fault_type,symptom_tag,count
laptop,Boot,(any text),9
laptop,Boot,boot,5
"""

OPEN_REPAIRS = (
    ",".join(open_repairs_file.STANDARD).encode()
    + b"""
some-12,P,GBR,Computer ~ Laptop,Laptop,16,Unknown,2015,6,End of life,\
"Spare parts too expensive",G,2021-05-08,"Will not charge, cracked",2021-06-01
"""
)


@dataclass(frozen=True)
class Reader:
    """
    One reader with texts that it takes.

    Parameters
    ----------
    read
        Reads bytes as the commands and pages do.
    sound
        Texts that can be read.
    """

    read: Callable[[bytes], object]
    sound: tuple[bytes, ...]


def _text(read: Callable[[str], object]) -> Callable[[bytes], object]:
    return lambda content: read(yaml_text.decode(content))


def _table(read: Any, name: str) -> Callable[[bytes], object]:
    return lambda content: read(content, name)


def _device(text: str) -> object:
    """Read a description in all its revisions, and write it anew."""
    device = device_file.read_device(text)
    for revision in device_file.revisions_in(text):
        device_file.read_device(text, revision=revision)
    return device_writing.write_device(device)


def _rows(content: bytes) -> list[list[str]]:
    return [line.split(",") for line in content.decode().splitlines() if line]


def _folder(content: bytes) -> object:
    """Read a whole folder in which one table is spoilt."""
    files = {one.name: one.read_bytes() for one in SALLOWMERE.iterdir()}
    kept = {name: files[name] for name in files if batch_folder.is_of_batch(name)}
    return batch_folder.read_batch_folder(kept | {"parts.csv": content})


def readers() -> Mapping[str, Reader]:
    """Give every reader by name."""
    batch = (SALLOWMERE / "batch.csv").read_bytes()
    parts = (SALLOWMERE / "parts.csv").read_bytes()
    listed = (SALLOWMERE / "customer-list.csv").read_bytes()
    history = (SALLOWMERE / "history.csv").read_bytes()
    past = (EXAMPLES / "workshop-history.csv").read_bytes()
    fleet = b"\n".join((EXAMPLES / "fleet-history.csv").read_bytes().splitlines()[:60])
    spells = (EXAMPLES / "adapter-spells.csv").read_bytes()
    terms = (SALLOWMERE / "terms.yaml").read_bytes()
    people = (SALLOWMERE / "people.yaml").read_bytes()
    columns = (SALLOWMERE / "columns.yaml").read_bytes()
    radio = (EXAMPLES / "shelf-radio.device.yaml").read_bytes()
    faults = example_file("grondle-r50.faults.yaml").read_bytes()
    problem = (EXAMPLES / "opening-problem.json").read_bytes()
    case = (EXAMPLES / "bench-model.json").read_bytes()
    known = columns_file.read_columns(columns.decode())
    of_list = known.get("customer-list.csv")
    rows = _rows(parts)
    return {
        "batch": Reader(_table(batch_file.read_batch, "batch.csv"), (batch,)),
        "customer list": Reader(
            lambda content: customer_list_file.read_customer_list(
                content, "customer-list.csv", of_list
            ),
            (listed,),
        ),
        "parts": Reader(_table(parts_file.read_parts, "parts.csv"), (parts,)),
        "folder": Reader(_folder, (parts,)),
        "history": Reader(_table(history_file.read_history, "h.csv"), (history, past)),
        "told": Reader(_table(history_file.read_told, "h.csv"), (history, past)),
        "fleet": Reader(fleet_file.read_fleet, (fleet,)),
        "spells": Reader(_table(spells_file.read_spells, "spells.csv"), (spells,)),
        "symptom counts": Reader(symptom_counts_file.read_symptom_counts, (COUNTS,)),
        "open repairs": Reader(open_repairs_file.read_open_repairs, (OPEN_REPAIRS,)),
        "terms": Reader(_text(terms_file.read_terms), (terms,)),
        "terms apart": Reader(_text(terms_file.without_customer), (terms,)),
        "people": Reader(_text(terms_file.read_people), (people,)),
        "columns": Reader(_text(columns_file.read_columns), (columns,)),
        "device": Reader(_text(_device), (radio,)),
        "faults": Reader(_text(faults_file.read_faults), (faults,)),
        "yaml": Reader(_text(yaml_text.read_tree), (radio, people)),
        "problem": Reader(_text(problem_file.read_problem), (problem,)),
        "case": Reader(_text(case_file.read_case), (case,)),
        "tree": Reader(_text(case_file.read_tree), (case,)),
        "json": Reader(_text(json_text.cursor_on), (problem, case)),
        "xlsx": Reader(
            _table(parts_file.read_parts, "parts.xlsx"), (xlsx_bytes(rows),)
        ),
        "ods": Reader(_table(parts_file.read_parts, "parts.ods"), (ods_bytes(rows),)),
        "xls": Reader(_table(parts_file.read_parts, "parts.xls"), (xls_bytes(rows),)),
    }

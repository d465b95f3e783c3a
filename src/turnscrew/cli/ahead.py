"""The option ``turnscrew batch --to-come``: a next batch foretold by what is known."""

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

from turnscrew.cli.batch_folder import folder_from
from turnscrew.cli.opening import time_limit
from turnscrew.cli.reading import device_from, devices_from, fault_table_from
from turnscrew.cli.said import Wording, said, says_in
from turnscrew.core.batch.ahead import BatchAhead, PastDevice
from turnscrew.core.model.amounts import counted
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.device import Device
from turnscrew.errors import BadArgumentError
from turnscrew.files.expected_text import read_expected
from turnscrew.flows.batch.ahead import Known, batch_ahead, spread_words
from turnscrew.flows.batch.openings import minutes_by_description, paths_remembered

_OPENING_S = 20.0
"""Time for all computed openings. [s]"""

_WHOSE = "in this batch and before it"


def tell_ahead(
    folder: Path, to_come: tuple[str, ...], *, as_json: bool, wording: Wording
) -> None:
    """
    Foretell a batch that is not there yet, under the terms of one that is.

    Parameters
    ----------
    folder
        Folder of the batch that is known.
    to_come
        What is to come, such as ``40 V80``.
    as_json
        True for JSON.
    wording
        How what is printed is read.

    Raises
    ------
    BadArgumentError
        If one device is named by its number: its model is not known here.
    """
    batch = folder_from(folder)
    says = says_in(wording, "batch", _own_words(batch))
    counts: Counter[str] = Counter()
    for one in read_expected("\n".join(to_come), batch.terms.models):
        if not one.model:
            raise BadArgumentError(
                f"to come: found {one.number}, wanted a count and a model, as 40 V80"
            )
        counts[one.model] += one.n

    def device_of(model: str, revision: str) -> Device | None:
        path = _description(folder, batch, model)
        return None if path is None else device_from(path, revision or None)

    told = batch_ahead(
        counts,
        batch.terms,
        batch.parts,
        {model: _known(folder, batch, model) for model in counts},
        minutes_by_description(
            batch, device_of, paths_remembered(device_of, time_limit(_OPENING_S))
        ),
    )
    if as_json:
        print(json.dumps(asdict(told), ensure_ascii=False))
    else:
        print("\n".join(said(_lines(told, batch), says)))


def _own_words(batch: BatchInput) -> tuple[str, ...]:
    return (batch.terms.batch, *(part.description for part in batch.parts.values()))


def _description(folder: Path, batch: BatchInput, model: str) -> Path | None:
    name = batch.terms.models[model].device
    path = folder / name
    return path if name and path.is_file() else None


def _known(folder: Path, batch: BatchInput, model: str) -> Known:
    """Give the devices of the batch, and closed jobs, as a past; the table beside."""
    past = [
        PastDevice(line.revision, line.found)
        for line in batch.lines
        if line.model == model and line.found
    ]
    past += [
        PastDevice(job.revision, (job.confirmed,), is_stripped=job.end == "written off")
        for job in batch.past
        if job.family == model and job.confirmed
    ]
    path = _description(folder, batch, model)
    if path is None:
        return Known(past=tuple(past), whose=_WHOSE)
    devices = devices_from(path)
    faults = path.with_name(path.name.replace(".device.", ".faults."))
    table = None
    if faults.is_file() and faults != path:
        table = fault_table_from(faults, devices[0])
    return Known(tuple(past), table, devices, whose=_WHOSE)


def _lines(told: BatchAhead, batch: BatchInput) -> Iterator[str]:
    n = sum(one.n for one in told.models)
    yield f"{counted(n, 'device')} to come under the terms of {batch.terms.batch}"
    if told.total.mean:
        yield f"  {spread_words(told.total)}"
    if told.n_unknown:
        yield f"  of {told.n_unknown} of them nothing can be told"
    for one in told.models:
        yield ""
        minutes = "unknown" if one.total is None else spread_words(one.total)
        yield f"{one.n} {one.model}: {minutes}"
        yield f"  {one.why}"
        for number, pieces in one.parts:
            part = batch.parts[number]
            yield (
                f"  {number} {part.description}: {pieces.mean:.1f}, from {pieces.low} "
                f"to {pieces.high}; {part.stock} in stock"
            )

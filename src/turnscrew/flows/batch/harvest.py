"""Which spare parts are never harvested, as they are a pack or hold data?"""

from collections.abc import Iterator
from dataclasses import replace

from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.device import Device
from turnscrew.core.model.spare_part import is_storage_by_name
from turnscrew.flows.batch.openings import DeviceOf


def with_never_harvested(batch: BatchInput, device_of: DeviceOf) -> BatchInput:
    """
    Note what no donor of a batch may give, whatever its terms list.

    Parameters
    ----------
    batch
        The batch.
    device_of
        Gives descriptions.

    Returns
    -------
    BatchInput
        The same batch, with a note where the terms list such a part.
    """
    never = _kept(batch, device_of)
    listed = dict.fromkeys(part for *_, part in _listed(batch))
    kept = tuple(number for number in listed if number in never)
    if not kept:
        return batch
    note = (
        f"the terms list {', '.join(kept)} for harvest: "
        "packs and storage are never harvested"
    )
    return replace(batch, never_harvested=kept, notes=(*batch.notes, note))


def listed_in_vain(batch: BatchInput) -> tuple[tuple[str, str, str], ...]:
    """
    Say where the terms list what is never harvested.

    Parameters
    ----------
    batch
        A batch, with what it never harvests.

    Returns
    -------
    tuple
        Model, key of its list, and part of each.
    """
    return tuple(one for one in _listed(batch) if one[2] in batch.never_harvested)


def _listed(batch: BatchInput) -> Iterator[tuple[str, str, str]]:
    for name, model in batch.terms.models.items():
        for key in ("harvest", "harvest_after_liquid"):
            for part in getattr(model, key):
                yield name, key, part


def _kept(batch: BatchInput, device_of: DeviceOf) -> set[str]:
    """Name spares of packs and storage: by the descriptions, else by terms and name."""
    seen = dict.fromkeys((line.model, line.revision) for line in batch.lines)
    devices = [one for one in (device_of(*key) for key in seen) if one is not None]
    told = {part.spare for device in devices for part in device.parts.values()}
    kept = {
        part.spare
        for device in devices
        for name, part in device.parts.items()
        if _is_kept(device, name)
    }
    faults = batch.terms.faults.values()
    packs = {part for one in faults if one.hazard == "pack" for part in one.parts}
    by_name = {
        number
        for number, part in batch.parts.items()
        if number in packs or is_storage_by_name(part.description)
    }
    return kept | (by_name - told)


def _is_kept(device: Device, name: str) -> bool:
    """Say whether a part is a pack or storage, or has one inside."""
    part = device.parts[name]
    return (
        part.data_bearing
        or part.pack is not None
        or part.kind in {"battery", "storage"}
        or any(_is_kept(device, one) for one in part.contains if one in device.parts)
    )

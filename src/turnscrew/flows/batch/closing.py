"""Which devices cannot be closed properly, as something they use up is sold no more?"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace

from turnscrew.core.model.hold import Hold
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.stock.demand import Use

CANNOT_CLOSE = "cannot be closed properly"


def told_before_opening(
    devices: Iterable[DecidedDevice],
    uses: Iterable[Use],
    parts: Mapping[str, SparePart],
) -> tuple[DecidedDevice, ...]:
    """
    Mark the devices that lack a piece nobody sells any more.

    Parameters
    ----------
    devices
        The devices, decided.
    uses
        Where every piece comes from.
    parts
        Spare parts by number.

    Returns
    -------
    tuple[DecidedDevice, ...]
        The devices in their old order, those that lack one with a hold that says so.
    """
    lacking: dict[int, list[str]] = defaultdict(list)
    for use in uses:
        if use.source == "order" and parts[use.demand.part].is_sold_no_more:
            lacking[use.demand.device].append(use.demand.part)
    return tuple(
        replace(
            device,
            holds=(
                *device.holds,
                *(
                    lack_of(parts[name], device.uses.parts)
                    for name in lacking[device.name]
                ),
            ),
        )
        if device.name in lacking
        else device
        for device in devices
    )


def lack_of(part: SparePart, used_up: Iterable[str]) -> Hold:
    """
    Say that a part is sold no more and none is left.

    Parameters
    ----------
    part
        The part.
    used_up
        What opening uses up.

    Returns
    -------
    Hold
        What to settle before opening.
    """
    gone = f"{part.part} {part.description} is sold no more, and none is left"
    if part.part in used_up:
        return Hold("closing", f"{CANNOT_CLOSE}: {gone}: decide before opening")
    return Hold("part gone", f"{gone}: decide before opening")

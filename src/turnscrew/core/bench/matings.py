"""How often was each connection of one device made at the bench?"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace

from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import Stroke
from turnscrew.core.model.connection import Matings, Plug, Socket
from turnscrew.core.model.device import Device
from turnscrew.core.model.joint import Joint

_CONNECTIONS = ("socket", "plug")


def matings_made(run: Run, held: Iterable[Stroke]) -> Counter[str]:
    """
    Count the connections that were put back in a run.

    Parameters
    ----------
    run
        The run.
    held
        The strokes that hold.

    Returns
    -------
    Counter
        Matings by joint. [1]
    """
    lines = (run.lines[stroke.line] for stroke in held if stroke.act == "done")
    return Counter(
        line.name
        for line in lines
        if line.phase == "refit" and line.kind in _CONNECTIONS
    )


def with_matings(device: Device, made: Mapping[str, int]) -> Device:
    """
    Give a device the matings of its own body in place of those of the one described.

    Parameters
    ----------
    device
        The device as described.
    made
        Matings of this body, by joint. [1]

    Returns
    -------
    Device
        The same device; each connection bears its own count.
    """
    own = {
        name: _own(joint, made.get(name, 0))
        for name, joint in device.joints.items()
        if isinstance(joint.how, Socket | Plug)
    }
    return replace(device, joints={**device.joints, **own})


def _own(joint: Joint, n: int) -> Joint:
    if not n and joint.matings is None:
        return joint
    rated = joint.matings.rated if joint.matings else None
    return replace(joint, matings=Matings(n, rated))

"""What does the face that is up look like at each line of a run?"""

from dataclasses import replace

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.model.device import Device
from turnscrew.core.model.geometry import Places
from turnscrew.papers.drawing import TEXT_MM, face_svg

BOX_MM = (88.0, 74.0)
"""Room for a drawing on a screen of ten inches. [mm]"""

LETTER_MM = 9.0
"""Size of its type there: capitals of 6 mm, read from one metre. [mm]"""


def drawings_of(device: Device, run: Run) -> dict[str, str]:
    """Draw every face a run shows, each once for each joint lettered on it."""
    drawn: dict[str, str] = {}
    for line in run.lines:
        key = drawing_key(line)
        if key and key not in drawn:
            drawn[key] = _drawn(device, line)
    return drawn


def drawing_key(line: Line) -> str:
    """Name the drawing of a line; empty if it has none."""
    if not line.view:
        return ""
    return f"{line.view}/{line.name if line.letter else ''}"


def _drawn(device: Device, line: Line) -> str:
    view = device.views[line.view]
    reduction = max(
        side / room for side, room in zip(view.size_mm, BOX_MM, strict=True)
    )
    scale = LETTER_MM / TEXT_MM * reduction
    name = line.name
    if not line.letter or name not in device.joints:
        return face_svg(device, line.view, {}, only=frozenset(), scale=scale)
    joint = device.joints[name]
    turned = tuple(_as_seen(device, places, line.view) for places in joint.at)
    shown = replace(device, joints={**device.joints, name: replace(joint, at=turned)})
    return face_svg(
        shown, line.view, {name: line.letter}, only=frozenset({name}), scale=scale,
        is_numbered=True,
    )  # fmt: skip


def _as_seen(device: Device, places: Places, view: str) -> Places:
    """Give places as they are seen on the face that is up."""
    face = device.views.get(places.view)
    if places.view == view or face is None or face.opposite != view:
        return places
    points = tuple(face.seen_from_behind(point) for point in places.points_mm)
    return Places(view, points)

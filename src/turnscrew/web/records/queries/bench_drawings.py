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
    """Draw every face a run shows, each once for the joints lettered on it."""
    drawn: dict[str, str] = {}
    for line in run.lines:
        key = drawing_key(line)
        if key and key not in drawn and line.view in device.views:
            drawn[key] = _drawn(device, run, line)
    return drawn


def drawing_key(line: Line) -> str:
    """Name the drawing of a line; empty if it has none."""
    return f"{line.view}/{line.name}" if line.view else ""


def _drawn(device: Device, run: Run, line: Line) -> str:
    view = device.views[line.view]
    reduction = max(
        side / room for side, room in zip(view.size_mm, BOX_MM, strict=True)
    )
    letters = _letters(device, run, line)
    turned = {
        name: replace(
            device.joints[name],
            at=tuple(
                _as_seen(device, places, line.view) for places in device.joints[name].at
            ),
        )
        for name in letters
    }
    return face_svg(
        replace(device, joints={**device.joints, **turned}),
        line.view,
        letters,
        only=frozenset(letters),
        scale=LETTER_MM / TEXT_MM * reduction,
        is_afar=True,
        zones_of=line.name,
    )


def _letters(device: Device, run: Run, line: Line) -> dict[str, str]:
    """Give the letters of the joints that a line is about."""
    return {
        name: run.letters.get(name, line.letter)
        for name in line.names or (line.name,)
        if name in device.joints
    }


def _as_seen(device: Device, places: Places, view: str) -> Places:
    """Give places as they are seen on the face that is up."""
    face = device.views.get(places.view)
    if places.view == view or face is None or face.opposite != view:
        return places
    points = tuple(face.seen_from_behind(point) for point in places.points_mm)
    return Places(view, points)

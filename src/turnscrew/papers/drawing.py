"""What does one face look like, in true millimetres, with its items lettered?"""

from collections.abc import Mapping
from math import ceil

from turnscrew.core.model.device import Device
from turnscrew.core.model.geometry import View
from turnscrew.core.model.holding import Clip
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Part
from turnscrew.core.model.quantities import PointMm
from turnscrew.errors import BadArgumentError
from turnscrew.papers import marks
from turnscrew.papers.drawn_words import LEAST_MM, LINE_PER_SIZE, WIDTH_PER_SIZE
from turnscrew.papers.labels import Box, Label, placed

TEXT_MM = 4.2
"""Size of the type at true size; its capitals are two thirds of it high. [mm]"""

LINE_MM = 0.12
"""Width of a fine line at true size. [mm]"""

SIDE_MM = 2.0
"""Room left beside and under the face. [mm]"""

BESIDE_MM = 7.5
"""Room left beside the face for letters read from afar, at true size. [mm]"""

AFAR_LINE = 1.6
"""Lines read from afar are so many times wider. [1]"""

AFAR_RING_MM = 1.1
"""Radius of the ring round a place that is read from afar, at true size. [mm]"""

HEAD_MM = 9.0
"""Room left over the face for what is seen, at true size; more for more words. [mm]"""

WIDE_MM = 60.0
"""Width of the narrowest drawing with words over its face, at true size. [mm]"""

_MORE_LETTERS = 40
"""Letters left for the name of a face, and for words longer in a language. [1]"""


def canvas_mm(view: View, scale: float = 1.0) -> tuple[float, float]:
    """
    Give the size of the drawing of a face, with the room round it.

    Parameters
    ----------
    view
        The face.
    scale
        How many times smaller it will be printed. [1]

    Returns
    -------
    tuple
        Width and height. [mm]
    """
    height_mm = view.size_mm[1]
    return (
        _wide_mm(view, scale),
        height_mm + _head_mm(view, scale) + SIDE_MM * scale,
    )


def face_svg(
    device: Device,
    view_name: str,
    letters: Mapping[str, str],
    *,
    only: frozenset[str] | None = None,
    scale: float = 1.0,
    is_afar: bool = False,
    zones_of: str = "",
) -> str:
    """
    Draw one face as it is seen.

    Parameters
    ----------
    device
        The device.
    view_name
        Name of the face.
    letters
        Item letters by joint; a joint without one is drawn without.
    only
        The joints to draw; ``None`` for all that have a place on this face.
    scale
        How many times smaller it will be printed; letters and lines are drawn so many
        times larger. [1]
    is_afar
        For a screen read from afar: places are ringed and numbered behind their
        letter, letters may stand beside the face, and the face is named alone.
    zones_of
        A part whose zones are drawn too; empty if none.

    Returns
    -------
    str
        An SVG in true millimetres.

    Raises
    ------
    BadArgumentError
        If the device has no such face.
    """
    view = device.views.get(view_name)
    if view is None:
        known = ", ".join(device.views) or "none"
        raise BadArgumentError(f"view: found {view_name}, wanted {known}")
    line_mm = LINE_MM * scale * (AFAR_LINE if is_afar else 1)
    pen = marks.Pen(TEXT_MM * scale, line_mm, LEAST_MM * scale)
    side_mm = (BESIDE_MM if is_afar else SIDE_MM) * scale
    joints = {
        name: joint
        for name, joint in device.joints.items()
        if only is None or name in only
    }
    drawn = [
        pen.path(_outline(view), wide=True),
        *_zones(device, view_name, joints, pen, zones_of),
        *_clips(device, view_name, joints, pen),
        *_empty_holes(device, view_name, pen),
        *_pieces(device, view_name, joints, pen),
        *_letters(
            device,
            view_name,
            letters,
            joints,
            pen=pen,
            beside_mm=side_mm if is_afar else None,
        ),
        *_head_words(view_name, view, scale, pen, is_short=is_afar),
    ]
    if not is_afar:
        return _sheet(canvas_mm(view, scale), side_mm, _head_mm(view, scale), drawn)
    width_mm, height_mm = view.size_mm
    tall_mm = height_mm + (HEAD_MM + SIDE_MM) * scale
    return _sheet((width_mm + 2 * side_mm, tall_mm), side_mm, HEAD_MM * scale, drawn)


def faces_with_places(device: Device, names: frozenset[str]) -> tuple[str, ...]:
    """
    Name the faces on which any of some joints has a place.

    Parameters
    ----------
    device
        The device.
    names
        The joints.

    Returns
    -------
    tuple
        Faces in the order of the description.
    """
    seen = {
        places.view
        for name in names
        if name in device.joints
        for places in device.joints[name].at
    }
    return tuple(name for name in device.views if name in seen)


def faces_used(device: Device, names: frozenset[str]) -> tuple[str, ...]:
    """
    Name the faces an opening needs to see: places, zones and hidden catches.

    Parameters
    ----------
    device
        The device.
    names
        The joints undone.

    Returns
    -------
    tuple
        Faces in the order of the description.
    """
    joints = {n: joint for n, joint in device.joints.items() if n in names}
    seen = set(faces_with_places(device, names))
    for doing in (*joints.values(), *_parts_held(device, joints)):
        seen.update(zone.view for zone in (*doing.no_lever, *doing.depth))
    for joint in joints.values():
        if isinstance(joint.how, Clip):
            seen.update(c.at.view for c in joint.how.hidden if c.at)
    return tuple(name for name in device.views if name in seen)


def _parts_held(device: Device, joints: Mapping[str, Joint]) -> list[Part]:
    held = {joint.holds[0] for joint in joints.values() if joint.holds}
    return [part for name, part in device.parts.items() if name in held]


def _wide_mm(view: View, scale: float) -> float:
    return max(view.size_mm[0] + 2 * SIDE_MM * scale, WIDE_MM * scale)


def _words_mm(view: View, scale: float) -> float:
    """Give the width that the words over a face have."""
    return _wide_mm(view, scale) - (SIDE_MM + 1.2 * TEXT_MM) * scale


def _head_mm(view: View, scale: float) -> float:
    """Give the height that the words over a face need in the smallest type."""
    size_mm = LEAST_MM * scale
    long_mm = WIDTH_PER_SIZE * size_mm * (len(view.seen) + _MORE_LETTERS)
    n_lines = ceil(long_mm / _words_mm(view, scale))
    return max(HEAD_MM * scale, (n_lines + 1) * LINE_PER_SIZE * size_mm)


def _sheet(
    size_mm: tuple[float, float], side_mm: float, head_mm: float, drawn: list[str]
) -> str:
    width_mm, height_mm = size_mm
    left, top = -side_mm, -head_mm
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm:.3f}mm" '
        f'height="{height_mm:.3f}mm" '
        f'viewBox="{left:.3f} {top:.3f} {width_mm:.3f} {height_mm:.3f}">'
        '<g fill="none" stroke="black" stroke-linejoin="round">'
        f"{''.join(drawn)}</g></svg>"
    )


def _outline(view: View) -> str:
    width, height = view.size_mm
    corners = view.outline_mm or ((0, 0), (width, 0), (width, height), (0, height))
    return "M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in corners) + "Z"


def _zones(
    device: Device,
    view_name: str,
    joints: Mapping[str, Joint],
    pen: marks.Pen,
    zones_of: str,
) -> list[str]:
    drawn = []
    parts = _parts_held(device, joints)
    also = [device.parts[zones_of]] if zones_of in device.parts else []
    for doing in (*joints.values(), *parts, *(p for p in also if p not in parts)):
        for zone in (z for z in doing.no_lever if z.view == view_name):
            drawn += marks.zone_marks(zone, pen, depth=False)
        for zone in (z for z in doing.depth if z.view == view_name):
            drawn += marks.zone_marks(zone, pen, depth=True)
    return drawn


def _clips(
    device: Device, view_name: str, joints: Mapping[str, Joint], pen: marks.Pen
) -> list[str]:
    view = device.views[view_name]
    edges = [(side, side) for side in ("left", "right", "upper", "lower")]
    if "rear edge up" in view.seen:
        edges += [("rear", "upper"), ("front", "lower")]
    drawn = []
    for joint in joints.values():
        if not isinstance(joint.how, Clip):
            continue
        for catch in joint.how.hidden:
            if catch.at and catch.at.view == view_name:
                for point in catch.at.points_mm:
                    drawn += marks.joint_mark(joint, point, pen)
        if _view_of_clips(device, joint) == view_name:
            ticks = marks.clip_ticks(joint.how, view.size_mm, edges)
            drawn += [pen.path(ticks, wide=True)] if ticks else []
    return drawn


def _view_of_clips(device: Device, joint: Joint) -> str:
    hidden = joint.how.hidden if isinstance(joint.how, Clip) else ()
    recorded = [catch.at.view for catch in hidden if catch.at]
    ups = [
        view
        for posture in joint.postures[:1]
        if posture in device.postures
        for view in device.postures[posture].up
    ]
    return (*recorded, *ups, "")[0]


def _empty_holes(device: Device, view_name: str, pen: marks.Pen) -> list[str]:
    return [
        element
        for hole in device.empty_holes
        if hole.view == view_name
        for point in hole.points_mm
        for element in marks.empty_mark(point, pen)
    ]


def _points(joint: Joint, view_name: str) -> list[PointMm]:
    return [
        p for places in joint.at if places.view == view_name for p in places.points_mm
    ]


def _pieces(
    device: Device, view_name: str, joints: Mapping[str, Joint], pen: marks.Pen
) -> list[str]:
    drawn = []
    for name, joint in joints.items():
        is_hidden = marks.covers_over(device, name, joints)
        for point in _points(joint, view_name):
            drawn += marks.joint_mark(joint, point, pen)
            if is_hidden:
                around_mm = marks.radius_mm(joint) + 1.0
                drawn.append(pen.circle(point, around_mm, dashed=True))
    return drawn


def _letters(
    device: Device,
    view_name: str,
    letters: Mapping[str, str],
    joints: Mapping[str, Joint],
    *,
    pen: marks.Pen,
    beside_mm: float | None,
) -> list[str]:
    ring_mm = 0.0 if beside_mm is None else AFAR_RING_MM * pen.text_mm / TEXT_MM
    wanted = [
        (text, point, max(ring_mm, marks.radius_mm(joint) + 1.0))
        for name, joint in joints.items()
        if letters.get(name)
        for text, point in _lettered(
            letters[name], _points(joint, view_name), is_numbered=beside_mm is not None
        )
    ]
    view = device.views[view_name]
    holes = [
        (x, y, marks.EMPTY_MM * 1.6)
        for hole in device.empty_holes
        if hole.view == view_name
        for x, y in hole.points_mm
    ]
    circles = [(p[0], p[1], r) for _, p, r in wanted] + holes
    taken: list[Box] = [(x - r, y - r, x + r, y + r) for x, y, r in circles]
    aside_mm = -1.0 if beside_mm is None else beside_mm
    width_mm, height_mm = view.size_mm
    room = (-aside_mm, 1.0, width_mm + aside_mm, height_mm - 1)
    found = placed(wanted, taken, room, pen.text_mm)
    rings = [pen.circle(point, radius) for _, point, radius in wanted if ring_mm]
    return [*rings, *(element for label in found for element in _label(label, pen))]


def _lettered(
    letter: str, points: list[PointMm], *, is_numbered: bool
) -> list[tuple[str, PointMm]]:
    if not is_numbered or len(points) < 2:
        return [(letter, point) for point in points]
    return [(f"{letter}{k}", point) for k, point in enumerate(points, start=1)]


def _label(label: Label, pen: marks.Pen) -> list[str]:
    (x1, y1), (x2, y2) = label.start_mm, label.end_mm
    return [
        pen.path(f"M{x1:.3f} {y1:.3f}L{x2:.3f} {y2:.3f}"),
        pen.words(label.text, label.middle_mm, middle=True),
    ]


def _head_words(
    view_name: str, view: View, scale: float, pen: marks.Pen, *, is_short: bool
) -> list[str]:
    """Point at the edge that is up, and say what is seen."""
    size = pen.text_mm
    y = -(HEAD_MM * scale if is_short else _head_mm(view, scale)) / 2
    arrow = (
        f"M{0.5 * size:.3f} {y + 0.5 * size:.3f}V{y - 0.6 * size:.3f}"
        f"m{-0.35 * size:.3f} {0.5 * size:.3f}l{0.35 * size:.3f} {-0.5 * size:.3f}"
        f"l{0.35 * size:.3f} {0.5 * size:.3f}"
    )
    seen = f"up; face: {view_name}; seen: {view.seen or 'as it lies'}"
    seen = view_name if is_short else seen
    room_mm = view.size_mm[0] - 1.2 * size if is_short else _words_mm(view, scale)
    return [
        pen.path(arrow, wide=True),
        pen.words(seen, (1.2 * size, y), room_mm=room_mm),
    ]

"""How is each kind of joint drawn where it sits?"""

from collections.abc import Iterable
from dataclasses import dataclass

from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.geometry import Zone
from turnscrew.core.model.holding import Clip, Cover
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.quantities import PointMm
from turnscrew.papers.drawn_words import LEAST_MM, Room, in_room
from turnscrew.papers.hatch import SPACING_MM, hatch_lines
from turnscrew.papers.page import FONT
from turnscrew.papers.recess import head_mm, recess_path

CENTRE_MM = 0.14
"""Radius of the dot in the middle of every place. [mm]"""

EMPTY_MM = 1.6
"""Radius of the circle of an empty hole. [mm]"""

COVER_MM = 4.0
"""Radius of the dashed circle of a cover, whose size is not recorded. [mm]"""


@dataclass(frozen=True)
class Pen:
    """
    What is drawn with.

    Parameters
    ----------
    text_mm
        Size of the type. [mm]
    line_mm
        Width of a fine line. [mm]
    least_mm
        Size of the smallest type. [mm]
    """

    text_mm: float
    line_mm: float
    least_mm: float = LEAST_MM

    def path(self, data: str, *, dashed: bool = False, wide: bool = False) -> str:
        """
        Draw a path without filling it.

        Parameters
        ----------
        data
            The data of the path, in millimetres.
        dashed
            Draw it dashed.
        wide
            Draw it twice as wide.

        Returns
        -------
        str
            The SVG element.
        """
        dash = f' stroke-dasharray="{8 * self.line_mm:.2f}"' if dashed else ""
        width = self.line_mm * (2 if wide else 1)
        return f'<path d="{data}" stroke-width="{width:.3f}"{dash}/>'

    def circle(self, point: PointMm, r_mm: float, *, dashed: bool = False) -> str:
        """
        Draw a circle.

        Parameters
        ----------
        point
            Its middle. [mm]
        r_mm
            Its radius. [mm]
        dashed
            Draw it dashed.

        Returns
        -------
        str
            The SVG element.
        """
        x, y = point
        return self.path(
            f"M{x - r_mm:.3f} {y:.3f}a{r_mm:.3f} {r_mm:.3f} 0 1 0 {2 * r_mm:.3f} 0"
            f"a{r_mm:.3f} {r_mm:.3f} 0 1 0 {-2 * r_mm:.3f} 0Z",
            dashed=dashed,
        )

    def words(
        self,
        text: str,
        point: PointMm,
        *,
        middle: bool = False,
        room_mm: float = 1000.0,
    ) -> str:
        """
        Write words, their middle height at a point.

        Parameters
        ----------
        text
            The words.
        point
            Where they begin, or their middle. [mm]
        middle
            The point is their middle.
        room_mm
            Width they have; longer words are written smaller, or on more lines. [mm]

        Returns
        -------
        str
            The SVG elements, on a white ground so that no line runs through them.
        """
        room = Room(*point, room_mm, self.text_mm, self.least_mm)
        anchor = "middle" if middle else "start"
        look = f'font-family="{FONT}" font-weight="600" text-anchor="{anchor}"'
        ground = f'fill="white" stroke="white" stroke-width="{0.3 * self.text_mm:.2f}"'
        return in_room(text, room, f"{look} {ground}") + in_room(
            text, room, f'{look} fill="black" stroke="none"'
        )


def radius_mm(joint: Joint) -> float:
    """
    Give the radius of the circle a joint's mark fills.

    Parameters
    ----------
    joint
        The joint.

    Returns
    -------
    float
        The radius. [mm]
    """
    match joint.how:
        case Screw():
            return head_mm(joint.how) / 2
        case Nut(across_flats_mm=across_mm):
            return (across_mm or 5.0) / 3**0.5
        case Cover():
            return COVER_MM
    return 2.0


def joint_mark(joint: Joint, point: PointMm, pen: Pen) -> list[str]:
    """
    Draw one piece of a joint.

    Parameters
    ----------
    joint
        The joint.
    point
        Where it sits. [mm]
    pen
        What is drawn with.

    Returns
    -------
    list
        The SVG elements.
    """
    x, y = point
    r_mm = radius_mm(joint)
    match joint.how:
        case Screw(drive=drive):
            drawn = [pen.circle(point, r_mm), pen.path(recess_path(drive, point))]
        case Nut():
            hexagon = ((1, 0), (0.5, 0.866), (-0.5, 0.866), (-1, 0), (-0.5, -0.866))
            drawn = [_outline(point, r_mm, (*hexagon, (0.5, -0.866)), pen)]
            drawn.append(pen.circle(point, 0.45 * r_mm))
        case Cover():
            drawn = [pen.circle(point, r_mm, dashed=True)]
        case Clip():
            drawn = [pen.path(f"M{x} {y - 2:.3f}V{y + 2:.3f}", wide=True)]
        case _ if joint.is_electrical:
            drawn = [pen.path(f"M{x - 2:.3f} {y - 1:.3f}h4v2h-4Z")]
        case _:
            corners = ((1, 0), (0, 1), (-1, 0), (0, -1))
            drawn = [_outline(point, r_mm, corners, pen)]
    return [*drawn, _dot(point)]


def empty_mark(point: PointMm, pen: Pen) -> list[str]:
    """
    Draw a hole in which nothing belongs: a circle with a bar, and no letter.

    Parameters
    ----------
    point
        Where it is. [mm]
    pen
        What is drawn with.

    Returns
    -------
    list
        The SVG elements.
    """
    x, y = point
    bar = f"M{x - 1.6 * EMPTY_MM:.3f} {y:.3f}h{3.2 * EMPTY_MM:.3f}"
    return [pen.circle(point, EMPTY_MM), pen.path(bar, wide=True)]


def zone_marks(zone: Zone, pen: Pen, *, depth: bool) -> list[str]:
    """
    Hatch a no-lever zone one way, a depth zone the other way with its depth.

    Parameters
    ----------
    zone
        The zone.
    pen
        What is drawn with.
    depth
        It limits how deep a tool may go.

    Returns
    -------
    list
        The SVG elements.
    """
    extent = zone.extent_mm()
    if extent is None:
        return []
    (left, upper), (right, lower) = extent
    spacing_mm = SPACING_MM * pen.line_mm / 0.12
    lines = hatch_lines(zone, rising=not depth, spacing_mm=spacing_mm)
    data = "".join(f"M{a:.3f} {b:.3f}L{c:.3f} {d:.3f}" for (a, b), (c, d) in lines)
    if zone.circle_mm:
        edge = pen.circle(zone.circle_mm[:2], zone.circle_mm[2])
    else:
        edge = pen.path(f"M{left} {upper}H{right}V{lower}H{left}Z")
    says = f"at most {zone.max_depth_mm:g} mm deep" if depth else "no lever"
    middle = ((left + right) / 2, (upper + lower) / 2)
    words = pen.words(says, middle, middle=True, room_mm=0.95 * (right - left))
    return [pen.path(data), edge, words]


def clip_ticks(clip: Clip, size_mm: PointMm, edges: Iterable[tuple[str, str]]) -> str:
    """
    Draw the clips of each edge as ticks across it, evenly spread.

    Parameters
    ----------
    clip
        The clips.
    size_mm
        Width and height of the face. [mm]
    edges
        The words for an edge and the side of the face it lies on.

    Returns
    -------
    str
        The data of a path; empty if no edge is known.
    """
    sides = dict(edges)
    width, height = size_mm
    parts = []
    for row in clip.rows:
        side = sides.get(row.edge, "")
        for k in range(row.n):
            share = (k + 0.5) / row.n
            if side in ("upper", "lower"):
                y = 0 if side == "upper" else height
                parts.append(f"M{share * width:.3f} {y - 1.5:.3f}v3")
            elif side:
                x = 0 if side == "left" else width
                parts.append(f"M{x - 1.5:.3f} {share * height:.3f}h3")
    return "".join(parts)


def covers_over(device: Device, name: str, among: Iterable[str]) -> bool:
    """
    Say whether a joint lies under a cover.

    Parameters
    ----------
    device
        The device.
    name
        The joint.
    among
        Joints that are looked at.

    Returns
    -------
    bool
        True if one of them hides it.
    """
    hows = (device.joints[other].how for other in among)
    return any(isinstance(how, Cover) and name in how.hides for how in hows)


def _dot(point: PointMm) -> str:
    return (
        f'<circle cx="{point[0]:.3f}" cy="{point[1]:.3f}" r="{CENTRE_MM}" '
        'fill="black" stroke="none"/>'
    )


def _outline(point: PointMm, r_mm: float, corners: Iterable[PointMm], pen: Pen) -> str:
    x, y = point
    places = (f"{x + r_mm * a:.3f} {y + r_mm * b:.3f}" for a, b in corners)
    return pen.path("M" + "L".join(places) + "Z")

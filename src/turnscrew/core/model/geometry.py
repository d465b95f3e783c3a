"""Where on a face is it, as seen from which side?"""

from dataclasses import dataclass
from typing import Annotated, Literal

from turnscrew.core.model.quantities import (
    BadFieldError,
    Checked,
    Count,
    Key,
    LengthMm,
    PlaceMm,
    PointMm,
    ViewName,
)
from turnscrew.errors import BadArgumentError

Axis = Literal["upright", "level"]
"""The axis the device is turned about to see the opposite face."""


@dataclass(frozen=True)
class View(Checked):
    """
    One face of the device, as it is looked at.

    Places are counted to the right of and down from the upper left corner, as seen.

    Parameters
    ----------
    size_mm
        True width and height of the face. [mm]
    seen
        What lies where when the face is looked at, in words.
    opposite
        Name of the face on the other side, if it has places too.
    turned_about
        Axis the device is turned about to see the opposite face:
        ``upright`` swaps left and right, ``level`` swaps upper and lower.
    outline_mm
        Corners of the true outline, if the face is no plain rectangle. [mm]
    scale
        What in a photo of this face gives the scale, in words.
    scale_mm
        Length of that thing; ``None`` if there is none. [mm]
    drawing
        Name of a drawing of the face without words, if there is one.
    """

    size_mm: tuple[LengthMm, LengthMm]
    seen: str = ""
    opposite: ViewName = ""
    turned_about: Axis = "upright"
    outline_mm: tuple[PointMm, ...] = ()
    scale: str = ""
    scale_mm: LengthMm | None = None
    drawing: str = ""

    def __post_init__(self) -> None:
        """
        Refuse a face without size, or an outline that is none.

        Raises
        ------
        BadFieldError
            If the size is zero, or the outline has too few corners or leaves the face.
        """
        super().__post_init__()
        width_mm, height_mm = self.size_mm
        if width_mm <= 0 or height_mm <= 0:
            raise BadFieldError("size_mm", self.size_mm, "a width and a height above 0")
        if self.outline_mm and len(self.outline_mm) < 3:
            raise BadFieldError("outline_mm", self.outline_mm, "three corners or more")
        for x_mm, y_mm in self.outline_mm:
            if not (0 <= x_mm <= width_mm and 0 <= y_mm <= height_mm):
                raise BadFieldError("outline_mm", (x_mm, y_mm), "corners on the face")

    def holds(self, point_mm: PointMm) -> bool:
        """
        Say whether a point lies on the face, its edge included.

        Parameters
        ----------
        point_mm
            The point. [mm]

        Returns
        -------
        bool
            True on the face or on its edge.
        """
        x_mm, y_mm = point_mm
        width_mm, height_mm = self.size_mm
        if not (0 <= x_mm <= width_mm and 0 <= y_mm <= height_mm):
            return False
        return not self.outline_mm or _is_in_polygon(point_mm, self.outline_mm)

    def seen_from_behind(self, point_mm: PointMm) -> PointMm:
        """
        Give the same point as it is seen on the opposite face.

        Parameters
        ----------
        point_mm
            The point on this face. [mm]

        Returns
        -------
        tuple
            The point on the opposite face. [mm]
        """
        x_mm, y_mm = point_mm
        width_mm, height_mm = self.size_mm
        if self.turned_about == "upright":
            return (width_mm - x_mm, y_mm)
        return (x_mm, height_mm - y_mm)


@dataclass(frozen=True)
class Places(Checked):
    """
    Points on one face.

    Parameters
    ----------
    view
        The face they were recorded from.
    points_mm
        The points, right of and down from the upper left corner as seen. [mm]
    """

    view: ViewName
    points_mm: Annotated[tuple[PointMm, ...], Key("mm")]


@dataclass(frozen=True)
class Zone(Checked):
    """
    An area on one face where something is forbidden or to be watched.

    Parameters
    ----------
    view
        The face.
    why
        The reason, in words.
    rect_mm
        Left, upper, right and lower edge, if it is a rectangle. [mm]
    circle_mm
        Centre (right, down) and radius, if it is a circle. [mm]
    max_depth_mm
        How deep a tool may go here; 0 is not at all. [mm]
    edge
        The edge meant, in words, if there is no drawing.
    """

    view: ViewName = ""
    why: str = ""
    rect_mm: tuple[PlaceMm, PlaceMm, PlaceMm, PlaceMm] | None = None
    circle_mm: tuple[PlaceMm, PlaceMm, LengthMm] | None = None
    max_depth_mm: LengthMm = 0.0
    edge: str = ""

    def __post_init__(self) -> None:
        """
        Refuse a zone with two shapes, none, or one turned inside out.

        Raises
        ------
        BadFieldError
            If the zone has not exactly one shape, or its edges are swapped.
        """
        super().__post_init__()
        if self.rect_mm and self.circle_mm:
            raise BadFieldError("circle_mm", self.circle_mm, "one shape, not two")
        if not (self.rect_mm or self.circle_mm or self.edge):
            raise BadFieldError("rect_mm", "no shape", "rect_mm, circle_mm or edge")
        if self.rect_mm:
            left, upper, right, lower = self.rect_mm
            if left >= right or upper >= lower:
                raise BadFieldError(
                    "rect_mm", self.rect_mm, "left, upper, right, lower"
                )

    def extent_mm(self) -> tuple[PointMm, PointMm] | None:
        """
        Give the upper left and lower right corner of the smallest box round it.

        Returns
        -------
        tuple or None
            The two corners, or ``None`` if the zone is only named by an edge. [mm]
        """
        if self.rect_mm:
            left, upper, right, lower = self.rect_mm
            return ((left, upper), (right, lower))
        if self.circle_mm:
            x_mm, y_mm, r_mm = self.circle_mm
            return ((x_mm - r_mm, y_mm - r_mm), (x_mm + r_mm, y_mm + r_mm))
        return None


@dataclass(frozen=True)
class EmptyHole(Checked):
    """
    A hole in which no fastener belongs.

    Parameters
    ----------
    view
        The face.
    points_mm
        Where. [mm]
    why
        Why it is empty, in words.
    n
        How many, if they are not placed; else the number of points. [1]
    """

    view: ViewName
    points_mm: Annotated[tuple[PointMm, ...], Key("mm")] = ()
    why: str = ""
    n: Count | None = None


def seen_on_opposite(places: Places, view: View) -> Places:
    """
    Give places recorded from one face as they are seen on the opposite face.

    Parameters
    ----------
    places
        The places as recorded.
    view
        The face they were recorded from.

    Returns
    -------
    Places
        The same places on the opposite face.

    Raises
    ------
    BadArgumentError
        If the face has no opposite.
    """
    if not view.opposite:
        raise BadArgumentError(f"view {places.view} has no opposite face")
    points_mm = tuple(view.seen_from_behind(point) for point in places.points_mm)
    return Places(view.opposite, points_mm)


def _is_in_polygon(point_mm: PointMm, corners_mm: tuple[PointMm, ...]) -> bool:
    """Count edge crossings of a ray to the right; points on an edge are inside."""
    x, y = point_mm
    inside = False
    for (x1, y1), (x2, y2) in zip(
        corners_mm, corners_mm[1:] + corners_mm[:1], strict=True
    ):
        cross = (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)
        if (
            cross == 0
            and min(x1, x2) <= x <= max(x1, x2)
            and min(y1, y2) <= y <= max(y1, y2)
        ):
            return True
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            inside = not inside
    return inside

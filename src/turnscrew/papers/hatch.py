"""How is an area hatched with lines that end exactly at its edge?"""

from turnscrew.core.model.geometry import Zone
from turnscrew.core.model.quantities import PointMm

SPACING_MM = 2.5
"""Distance between hatch lines, across them. [mm]"""

Stroke = tuple[PointMm, PointMm]
"""A straight line from one point to another. [mm]"""


def hatch_lines(
    zone: Zone, *, rising: bool, spacing_mm: float = SPACING_MM
) -> tuple[Stroke, ...]:
    """
    Hatch a zone at 45 degrees.

    Parameters
    ----------
    zone
        The zone, a rectangle or a circle.
    rising
        The lines rise to the right; otherwise they fall.
    spacing_mm
        Distance between the lines, across them. [mm]

    Returns
    -------
    tuple
        The lines; none if the zone has no shape. [mm]
    """
    extent = zone.extent_mm()
    if extent is None:
        return ()
    (left, upper), (right, lower) = extent
    # Along a rising line x + y is the same everywhere, along a falling one x - y.
    sign = 1 if rising else -1
    low = left + min(sign * upper, sign * lower)
    high = right + max(sign * upper, sign * lower)
    gap = spacing_mm * 2**0.5
    n_lines = int((high - low) / gap)
    chords = [_chord(zone, low + gap * (k + 0.5), sign) for k in range(n_lines + 1)]
    return tuple(chord for chord in chords if chord is not None)


def _chord(zone: Zone, level: float, sign: int) -> Stroke | None:
    """Cut the line x + sign * y = level off at the edge of the zone."""
    if zone.circle_mm:
        x, y, r = zone.circle_mm
        middle = x - (x + sign * y - level) / 2
        half = (r**2 / 2 - (middle - x) ** 2) if r else 0.0
        if half <= 0:
            return None
        start, end = middle - half**0.5, middle + half**0.5
    else:
        extent = zone.extent_mm()
        if extent is None:
            return None
        (left, upper), (right, lower) = extent
        ends = sorted((level - sign * upper, level - sign * lower))
        start, end = max(left, ends[0]), min(right, ends[1])
    if end <= start:
        return None
    return ((start, sign * (level - start)), (end, sign * (level - end)))

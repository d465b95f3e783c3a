"""What does a recess look like from above, and a screw from the side?"""

from math import atan2, cos, pi, sin

from turnscrew.core.model.fastener import PAN_HEAD_MM, Drive, Screw

HEXALOBULAR_MM: dict[float, float] = {
    3: 1.2, 4: 1.35, 5: 1.5, 6: 1.75, 8: 2.4, 10: 2.8
}  # fmt: skip
"""Point-to-point width of the socket by size, after ISO 14581 and dealers' tables.
[mm]"""

CROSS_MM: dict[float, tuple[float, float]] = {
    0: (1.7, 0.5), 1: (2.7, 0.8), 2: (4.2, 1.3), 3: (6.6, 2.2), 4: (9.0, 3.2)
}  # fmt: skip
"""Span and wing width of a cross recess by number: the form of ISO 4757 with rounded
sizes, to be recognised by eye and not to be measured. [mm]"""

DEFAULT_HEAD_MM = 3.5
"""Head drawn for a screw of which nothing was measured. [mm]"""


def head_mm(screw: Screw) -> float:
    """
    Give the diameter of a screw's head.

    Parameters
    ----------
    screw
        The screw.

    Returns
    -------
    float
        As measured, else as its standard has it, else twice the thread. [mm]
    """
    if screw.head_mm is not None:
        return screw.head_mm
    if screw.thread is None:
        return DEFAULT_HEAD_MM
    table = PAN_HEAD_MM.get(screw.thread.d_mm)
    return table[0] if table else 2 * screw.thread.d_mm


def recess_path(drive: Drive | None, centre_mm: tuple[float, float]) -> str:
    """
    Give the outline of a recess as the data of an SVG path.

    Parameters
    ----------
    drive
        The drive; ``None`` gives no outline.
    centre_mm
        Where its middle is. [mm]

    Returns
    -------
    str
        The data of the path, in millimetres; empty if there is nothing to draw.
    """
    if drive is None:
        return ""
    size = drive.size
    if drive.kind == "hexalobular":
        return _six_lobes(centre_mm, HEXALOBULAR_MM.get(size, 0.28 * size))
    if drive.kind == "hexagon":
        corners = [(size / 3**0.5, pi / 3 * k) for k in range(6)]
    elif drive.kind == "three-wing":
        corners = _wings(3, 1.0 + 0.3 * size, 0.22 + 0.05 * size)
    elif drive.kind == "slotted":
        corners = _wings(2, size / 2, 0.12 * size)
    else:
        span, wing = CROSS_MM.get(size, CROSS_MM[0])
        corners = _wings(4, span / 2, wing / 2)
    return _polygon(centre_mm, corners)


def recess_svg(drive: Drive | None, r_mm: float, box_mm: float) -> str:
    """
    Draw a head with its recess, in the middle of a square.

    Parameters
    ----------
    drive
        The drive; ``None`` gives the head alone.
    r_mm
        Radius of the head. [mm]
    box_mm
        Side of the square. [mm]

    Returns
    -------
    str
        An SVG in true millimetres.
    """
    middle = box_mm / 2
    outline = recess_path(drive, (middle, middle))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{box_mm:g}mm" '
        f'height="{box_mm:g}mm" viewBox="0 0 {box_mm:g} {box_mm:g}">'
        f'<g fill="none" stroke="black" stroke-width="{box_mm / 60:.3f}">'
        f'<circle cx="{middle:g}" cy="{middle:g}" r="{r_mm:.3f}"/>'
        f'<path d="{outline}"/></g></svg>'
    )


def side_path(screw: Screw, left_mm: float, middle_mm: float) -> str:
    """
    Give the outline of a screw lying on its side, head to the left.

    Parameters
    ----------
    screw
        The screw.
    left_mm
        Where its length begins: under the head, for a countersunk head on top. [mm]
    middle_mm
        Height of its axis on the sheet. [mm]

    Returns
    -------
    str
        The data of the path, in millimetres.
    """
    head = head_mm(screw) / 2
    shank = (screw.thread.d_mm if screw.thread else 1.6) / 2
    length = screw.length_mm or 3.0
    if screw.head == "none":
        head = shank
    sunk = screw.head in ("countersunk", "raised countersunk")
    height = screw.head_height_mm or (head - shank if sunk else 0.7 * head)
    if sunk:
        points = [(0.0, head), (height, shank)]
    else:
        points = [(-height, 0.75 * head), (-0.7 * height, head), (0.0, head)]
        points.append((0.0, shank))
    points += [(length - 0.3, shank), (length, shank * 0.7)]
    outline = points + [(x, -y) for x, y in reversed(points)]
    return _joined([(left_mm + x, middle_mm + y) for x, y in outline])


def _wings(n: int, reach: float, half: float) -> list[tuple[float, float]]:
    """Give corners of n equal wings as radius and angle."""
    inner = half / sin(pi / n) if n > 2 else half
    corners = []
    for k in range(n):
        middle = 2 * pi / n * k
        tip = (reach**2 + half**2) ** 0.5
        lean = atan2(half, reach)
        corners += [(tip, middle - lean), (tip, middle + lean)]
        if n > 2:
            corners.append((inner, middle + pi / n))
    return corners


def _polygon(centre: tuple[float, float], corners: list[tuple[float, float]]) -> str:
    x, y = centre
    return _joined([(x + r * cos(a), y + r * sin(a)) for r, a in corners])


def _joined(points: list[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in points) + "Z"


def _six_lobes(centre: tuple[float, float], across: float) -> str:
    """Join six round lobes by six hollows, in the proportions of ISO 10664."""
    x, y = centre
    lobe, hollow = 0.082 * across, 0.215 * across
    far, near = across / 2 - lobe, 0.36 * across + hollow
    parts = []
    for k in range(6):
        to_lobe, to_hollow = pi / 3 * k, pi / 3 * k + pi / 6
        out = (far * cos(to_lobe), far * sin(to_lobe))
        before = _between(out, (near, to_lobe - pi / 6), lobe / (lobe + hollow))
        after = _between(out, (near, to_hollow), lobe / (lobe + hollow))
        start = f"{x + before[0]:.3f} {y + before[1]:.3f}"
        parts.append(
            f"M{start}" if k == 0 else f"A{hollow:.3f} {hollow:.3f} 0 0 0 {start}"
        )
        parts.append(
            f"A{lobe:.3f} {lobe:.3f} 0 0 1 {x + after[0]:.3f} {y + after[1]:.3f}"
        )
    first = parts[0][1:]
    return "".join((*parts, f"A{hollow:.3f} {hollow:.3f} 0 0 0 {first}Z"))


def _between(
    one: tuple[float, float], polar: tuple[float, float], share: float
) -> tuple[float, float]:
    r, angle = polar
    other = (r * cos(angle), r * sin(angle))
    return (
        one[0] + share * (other[0] - one[0]),
        one[1] + share * (other[1] - one[1]),
    )

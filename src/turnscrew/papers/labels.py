"""Where does an item letter stand so that it covers nothing?"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, hypot, pi, sin

from turnscrew.core.model.quantities import PointMm

Box = tuple[float, float, float, float]
"""Left, upper, right and lower edge. [mm]"""

REACHES_MM = (4.5, 6.5, 9.0, 12.0)
"""Distances from the item to its letter that are tried in turn. [mm]"""

N_DIRECTIONS = 16


@dataclass(frozen=True)
class Label:
    """
    A letter with its leader line.

    Parameters
    ----------
    text
        The letter.
    middle_mm
        Middle of the letter. [mm]
    start_mm
        End of the leader line at the item. [mm]
    end_mm
        End of the leader line at the letter. [mm]
    """

    text: str
    middle_mm: PointMm
    start_mm: PointMm
    end_mm: PointMm


def placed(
    wanted: Iterable[tuple[str, PointMm, float]],
    taken: list[Box],
    room: Box,
    size_mm: float,
) -> tuple[Label, ...]:
    """
    Find a place for each letter, the nearest one that covers least.

    Parameters
    ----------
    wanted
        Letter, middle and radius of each item. [mm]
    taken
        Boxes that letters had better not cover.
    room
        Where letters may stand.
    size_mm
        Size of the type. [mm]

    Returns
    -------
    tuple
        The letters in the order given.
    """
    boxes = list(taken)
    found = []
    for text, point, radius in wanted:
        half = (0.32 * size_mm * len(text), 0.38 * size_mm)
        label, box = min(
            _candidates(text, point, radius, (half, size_mm)),
            key=lambda pair: _cost(pair[0], pair[1], boxes, room),
        )
        boxes.append(box)
        found.append(label)
    return tuple(found)


def _candidates(
    text: str, point: PointMm, radius: float, size: tuple[PointMm, float]
) -> list[tuple[Label, Box]]:
    (half_width, half_height), size_mm = size
    x, y = point
    found = []
    for reach in REACHES_MM:
        far = radius + reach * size_mm / 4.2
        for k in range(N_DIRECTIONS):
            # Begin up and to the right, where a draughtsman looks first.
            angle = -pi / 4 - 2 * pi / N_DIRECTIONS * k
            across, down = cos(angle), sin(angle)
            middle = (x + far * across, y + far * down)
            near = 1.15 * hypot(half_width * across, half_height * down) + 0.3
            label = Label(
                text,
                middle,
                (x + (radius + 0.3) * across, y + (radius + 0.3) * down),
                (middle[0] - near * across, middle[1] - near * down),
            )
            box = (
                middle[0] - half_width, middle[1] - half_height,
                middle[0] + half_width, middle[1] + half_height,
            )  # fmt: skip
            found.append((label, box))
    return found


def _cost(label: Label, box: Box, boxes: list[Box], room: Box) -> float:
    covered = sum(_overlap(box, other) for other in boxes)
    line = [_on_line(label, share) for share in (0.3, 0.6, 0.9)]
    crossed = sum(_holds(other, point) for other in boxes for point in line)
    outside = (
        max(0.0, room[0] - box[0]) + max(0.0, room[1] - box[1])
        + max(0.0, box[2] - room[2]) + max(0.0, box[3] - room[3])
    )  # fmt: skip
    length = hypot(
        label.end_mm[0] - label.start_mm[0], label.end_mm[1] - label.start_mm[1]
    )
    return 100 * outside + 20 * covered + 8 * crossed + length


def _on_line(label: Label, share: float) -> PointMm:
    (x1, y1), (x2, y2) = label.start_mm, label.end_mm
    return (x1 + share * (x2 - x1), y1 + share * (y2 - y1))


def _overlap(one: Box, other: Box) -> float:
    width = min(one[2], other[2]) - max(one[0], other[0])
    height = min(one[3], other[3]) - max(one[1], other[1])
    return width * height if width > 0 and height > 0 else 0.0


def _holds(box: Box, point: PointMm) -> bool:
    return box[0] < point[0] < box[2] and box[1] < point[1] < box[3]

"""Marks and masks."""

import pytest

from turnscrew.core.photo.drawing import Mark, Mask


@pytest.mark.parametrize(
    "good",
    [
        Mark("point", 0, 100),
        Mark("arrow", 1, 1, 2, 2),
        Mark("text", 5, 5, says="corroded"),
        Mask(0, 0, 100, 100),
    ],
)
def test_it_takes_what_can_be_drawn(good) -> None:
    assert [] == list(good.wrong())


@pytest.mark.parametrize(
    ("bad", "where"),
    [
        (Mark("circle", 1, 1), "kind: found circle"),
        (Mark("point", -0.1, 1), "x: found -0.1"),
        (Mark("point", 1, float("nan")), "y: found nan"),
        (Mark("arrow", 1, 1, 1, 1), "arrow: found both ends"),
        (Mark("arrow", 1, 1, 101, 1), "to x: found 101"),
        (Mark("text", 1, 1, says=" "), "words: found none"),
        (Mark("text", 1, 1, says="w" * 61), "words: found 61"),
        (Mask(50, 0, 50, 10), "right: found 50"),
        (Mask(0, 20, 50, 10), "bottom: found 10"),
        (Mask(0, 0, float("inf"), 10), "right: found inf"),
    ],
)
def test_it_says_what_cannot_be_drawn(bad, where) -> None:
    assert next(iter(bad.wrong())).startswith(where)

"""Are places on a face, and do they survive turning the device over?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.model.geometry import Places, View, Zone, seen_on_opposite
from turnscrew.core.model.quantities import BadFieldError
from turnscrew.errors import BadArgumentError

CUT_CORNER = View(
    (10, 8), outline_mm=((0, 0), (10, 0), (10, 5), (7, 8), (0, 8)), opposite="base"
)
inside = st.tuples(st.floats(0, 10), st.floats(0, 8))


@pytest.mark.parametrize(
    ("point_mm", "is_on"),
    [
        ((0, 0), True),
        ((10, 5), True),
        ((8.5, 6.5), True),
        ((9, 7), False),
        ((5, 4), True),
        ((5, 8.1), False),
        ((-0.1, 4), False),
        ((7, 8), True),
    ],
)
def test_it_knows_what_lies_on_the_face(point_mm, is_on) -> None:
    assert is_on == CUT_CORNER.holds(point_mm)


def test_it_takes_the_whole_face_where_there_is_no_outline() -> None:
    assert View((10, 8)).holds((9, 7))


def test_it_swaps_left_and_right_about_the_upright_axis() -> None:
    view = View((312, 214), opposite="deck", turned_about="upright")

    assert Places("deck", ((302, 4),)) == seen_on_opposite(
        Places("base", ((10, 4),)), view
    )


def test_it_swaps_upper_and_lower_about_the_level_axis() -> None:
    view = View((312, 214), opposite="deck", turned_about="level")

    assert Places("deck", ((10, 210),)) == seen_on_opposite(
        Places("base", ((10, 4),)), view
    )


@given(inside, st.sampled_from(["upright", "level"]))
def test_it_brings_a_point_back_after_two_turns(point_mm, axis) -> None:
    view = View((10, 8), turned_about=axis)
    there = view.seen_from_behind(point_mm)

    assert view.holds(there)
    assert pytest.approx(point_mm) == view.seen_from_behind(there)


def test_it_refuses_the_other_side_of_a_face_without_one() -> None:
    with pytest.raises(BadArgumentError, match="view top has no opposite face"):
        seen_on_opposite(Places("top", ((1, 1),)), View((10, 8)))


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda: View((0, 8)), "a width and a height above 0"),
        (lambda: View((9, 8), outline_mm=((0, 0), (1, 1))), "three corners or more"),
        (lambda: View((9, 8), outline_mm=((0, 0), (1, 1), (10, 1))), "on the face"),
        (lambda: Zone("top"), "rect_mm, circle_mm or edge"),
        (lambda: Zone("top", rect_mm=(3, 0, 1, 1)), "left, upper, right, lower"),
        (
            lambda: Zone("top", rect_mm=(0, 0, 1, 1), circle_mm=(0, 0, 1)),
            "one shape, not two",
        ),
    ],
)
def test_it_refuses_impossible_shapes(make, told) -> None:
    with pytest.raises(BadFieldError, match=told):
        make()


@pytest.mark.parametrize(
    ("zone", "extent_mm"),
    [
        (Zone("top", rect_mm=(1, 2, 3, 4)), ((1, 2), (3, 4))),
        (Zone("top", circle_mm=(5, 5, 2)), ((3, 3), (7, 7))),
        (Zone("top", edge="lower left"), None),
    ],
)
def test_it_boxes_a_zone(zone, extent_mm) -> None:
    assert extent_mm == zone.extent_mm()

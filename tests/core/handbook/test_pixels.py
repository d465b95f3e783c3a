"""How many pixel faults does a class allow?"""

import pytest

from turnscrew.core.handbook.pixels import n_sub_pixels, old_class_of, pixel_limits
from turnscrew.errors import BadArgumentError


def test_it_gives_the_table_for_one_million_pixels() -> None:
    """ISO 13406-2, read on an encyclopaedia page."""
    found = [pixel_limits(1000, 1000, name) for name in ("I", "II", "III", "IV")]

    assert [(0, 0, 0), (2, 2, 5), (5, 15, 50), (50, 150, 500)] == [
        (limits.bright, limits.dark, limits.sub_pixel) for limits in found
    ]


def test_it_rounds_down() -> None:
    """One pixel short of a million allows one fault less."""
    assert (1, 4) == (
        pixel_limits(999_999 // 111, 111).bright, pixel_limits(999, 1001).sub_pixel
    )  # fmt: skip


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: pixel_limits(0, 768), "n_across: found 0"),
        (lambda: pixel_limits(1366, 20_001), "n_down: found 20001"),
        (lambda: pixel_limits(1366, 768, "0"), "old_class: found 0, wanted one of I, "),
        (lambda: n_sub_pixels(0, 1), "n_across: found 0"),
        (lambda: n_sub_pixels(1, 0), "n_down: found 0"),
        (lambda: old_class_of("I"), "new_class: found I, .*the new I has no like"),
        (lambda: old_class_of("V"), "new_class: found V"),
    ],
)
def test_it_refuses_what_the_tables_lack(reckon, words) -> None:
    """The new class I is between two old ones."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()

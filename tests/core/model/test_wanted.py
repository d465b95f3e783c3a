"""Is what is off told with place, find and wish, all at once?"""

import math

import numpy as np
import pytest

from turnscrew.core.model.wanted import column, refuse, unlike, unlike_any, unlisted
from turnscrew.errors import BadArgumentError


def test_it_tells_nothing_of_what_is_as_wanted() -> None:
    refuse("", "")

    assert "" == unlike("n", 3, above=0, below=4, is_whole=True)
    assert "" == unlike_any("n", np.array([0.0, 1.0]), least=0, most=1)
    assert "" == unlisted("rule", "a", ("a", "b"))


@pytest.mark.parametrize(
    ("value", "limits", "told"),
    [
        (0, {"above": 0}, "n: found 0, wanted a number above 0"),
        (1.5, {"is_whole": True}, "n: found 1.5, wanted a whole number"),
        (math.inf, {"least": 1}, "n: found inf, wanted a number at least 1"),
        (math.nan, {}, "n: found nan, wanted a number"),
        (None, {"below": 2}, "n: found None, wanted a number below 2"),
        (9, {"least": 1, "most": 2}, "n: found 9, wanted a number at least 1 and at "
         "most 2"),
    ],
)  # fmt: skip
def test_it_tells_what_was_found_and_wanted(value, limits, told: str) -> None:
    assert told == unlike("n", value, **limits)


def test_it_tells_rows_and_stops_telling_at_twenty() -> None:
    told = unlike_any("n", np.array([1.0, -1.0, np.nan]), least=0)
    many = unlike_any("n", -np.ones(50), least=0)

    assert "n, row 2: found -1" in told
    assert "n, row 3: found nan" in told
    assert many.endswith("n: 30 more rows like these")


def test_it_refuses_all_problems_in_one_message() -> None:
    with pytest.raises(BadArgumentError, match=r"^one; two$"):
        refuse("one", "", "two")
    assert "rule: found c, wanted a or b" == unlisted("rule", "c", ("a", "b"))


def test_it_makes_columns_of_numbers_alone() -> None:
    assert [3.0] == list(column("n", 3))
    for bad in (["x"], [[1, 2]], [1, [2]], ["x" * 99]):
        with pytest.raises(BadArgumentError, match="n: found"):
            column("n", bad)

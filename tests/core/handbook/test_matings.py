"""How often may a connector be mated?"""

import pytest

from turnscrew.core.handbook.matings import MATINGS, matings_left, rated_matings
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("n_done", "left"), [(0, 10), (3, 7), (10, 0), (11, 0), (1_000_000, 0)]
)
def test_it_books_against_the_low_end(n_done, left) -> None:
    """Never below zero."""
    assert left == matings_left("zif", n_done)


@pytest.mark.parametrize("kind", MATINGS)
def test_it_says_how_each_kind_lets_go(kind) -> None:
    """With the source of its rating."""
    matings = rated_matings(kind)

    assert 0 < matings.low <= matings.high
    assert matings.release
    assert matings.source


def test_it_refuses_what_the_table_lacks() -> None:
    """An unknown kind, or less than none."""
    with pytest.raises(BadArgumentError, match="^kind: found plug, wanted one of zif"):
        rated_matings("plug")
    with pytest.raises(BadArgumentError, match="^n_done: found -1"):
        matings_left("zif", -1)

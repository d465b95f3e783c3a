"""Which figures may a reckoning start from?"""

import pytest

from turnscrew.core.handbook.ranges import WEAKNESS_J
from turnscrew.core.model.quantities import refuse_outside
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize("value", [1, 5.5, 10])
def test_it_lets_both_ends_pass(value) -> None:
    """Both ends belong to a range."""
    assert refuse_outside("weakness", value, WEAKNESS_J) is None


@pytest.mark.parametrize("value", [0.999, 10.1, float("nan"), float("inf")])
def test_it_refuses_what_is_outside_or_no_number(value) -> None:
    """The name of the argument stands first."""
    with pytest.raises(BadArgumentError, match="^weakness: found .*wanted a number"):
        refuse_outside("weakness", value, WEAKNESS_J)

"""Which figures may a reckoning start from?"""

import pytest

from turnscrew.core.electrics.ranges import SHARE
from turnscrew.core.model.quantities import refuse_outside
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize("value", [0, 0.5, 1])
def test_it_lets_both_ends_pass(value) -> None:
    """Both ends belong to a range."""
    assert refuse_outside("share", value, SHARE) is None


@pytest.mark.parametrize("value", [-0.001, 1.001, float("nan"), float("inf")])
def test_it_refuses_what_is_outside_or_no_number(value) -> None:
    """The name of the argument stands first."""
    with pytest.raises(BadArgumentError, match="^share: found .*wanted a number"):
        refuse_outside("share", value, SHARE)

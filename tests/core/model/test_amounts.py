"""Does a number of things read as people say it?"""

import pytest

from turnscrew.core.model.amounts import counted


@pytest.mark.parametrize(
    ("n", "wanted"), [(0, "0 devices"), (1, "1 device"), (2, "2 devices")]
)
def test_one_thing_is_not_many(n, wanted) -> None:
    assert wanted == counted(n, "device")

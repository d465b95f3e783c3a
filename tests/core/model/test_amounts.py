"""Do numbers of things and shares read as people write them?"""

import pytest

from turnscrew.core.model.amounts import counted, percent


@pytest.mark.parametrize(
    ("n", "wanted"), [(0, "0 devices"), (1, "1 device"), (2, "2 devices")]
)
def test_one_thing_is_not_many(n, wanted) -> None:
    assert wanted == counted(n, "device")


@pytest.mark.parametrize(
    ("share", "n_decimals", "told"),
    [(0.8, 0, "80 %"), (0.145, 0, "14 %"), (1, 0, "100 %"), (0.196, 1, "19.6 %")],
)
def test_a_blank_stands_before_the_percent_sign(share, n_decimals, told) -> None:
    # BIPM, The International System of Units, 9th edition, 5.4.7 (from memory).
    assert told == percent(share, n_decimals)

"""Does a handover say how far a device is from a safe stop?"""

import pytest

from turnscrew.core.bench.handover import OpenDevice, TrayCount, stop_words
from turnscrew.errors import BadArgumentError


def lying(**facts) -> OpenDevice:
    values = {"number": "14-K", "place": "", "state": "", "first_action": ""}
    return OpenDevice(**{**values, "power": "", **facts})


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"is_at_safe_stop": True}, "at a safe stop"),
        ({"n_to_stop": 3}, "NOT at a safe stop; 3 actions to the next one"),
        ({"n_to_stop": 1}, "NOT at a safe stop; 1 action to the next one"),
        ({}, "NOT at a safe stop; none before it is closed"),
    ],
)
def test_it_says_how_far_the_next_stop_is(facts, words) -> None:
    assert words == stop_words(lying(**facts))


def test_it_counts_the_whole_tray() -> None:
    device = lying(tray=(TrayCount("M2 - 3", 7, "A"), TrayCount("M2 - 5", 2)))

    assert 9 == device.n_in_tray
    assert 0 == lying().n_in_tray


def test_it_refuses_fewer_than_no_pieces() -> None:
    with pytest.raises(BadArgumentError, match="n: found -1"):
        TrayCount("M2 - 3", -1)
    with pytest.raises(BadArgumentError, match="n_to_stop: found -1"):
        lying(n_to_stop=-1)

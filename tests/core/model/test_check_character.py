"""Does the check character refuse what a hand mistypes?"""

import random

import pytest

from turnscrew.core.model.check_character import check_character, is_sound
from turnscrew.errors import BadArgumentError

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def test_it_agrees_with_a_published_identifier() -> None:
    # Release identifier A1-2425G-ABC1234002-M, the worked example of the handbook of
    # that scheme, which uses this system of ISO/IEC 7064. From memory.
    assert "M" == check_character("A12425GABC1234002")
    assert is_sound("A12425GABC1234002M")


def test_it_finds_every_single_slip() -> None:
    chance = random.Random(1)
    for _ in range(300):
        text = "".join(chance.choices(ALPHABET, k=chance.randint(2, 9)))
        whole = text + check_character(text)
        at = chance.randrange(len(whole))
        for other in ALPHABET:
            slipped = whole[:at] + other + whole[at + 1 :]
            assert (other == whole[at]) == is_sound(slipped), (whole, slipped)


def test_it_finds_nearly_every_swap_of_neighbours() -> None:
    chance = random.Random(2)
    found = n = 0
    for _ in range(4000):
        text = "".join(chance.choices(ALPHABET, k=9))
        whole = text + check_character(text)
        at = chance.randrange(9)
        swapped = whole[:at] + whole[at + 1] + whole[at] + whole[at + 2 :]
        if swapped != whole:
            n += 1
            found += not is_sound(swapped)

    assert found / n > 0.99


@pytest.mark.parametrize("text", ["", "ab", "A-1", "Ä1"])
def test_it_refuses_other_characters(text) -> None:
    with pytest.raises(BadArgumentError, match="wanted digits and capitals"):
        check_character(text)


def test_it_refuses_a_number_without_room_for_a_check() -> None:
    with pytest.raises(BadArgumentError, match="two characters"):
        is_sound("7")

"""Are numbers and words held to their bounds, and short texts read?"""

from dataclasses import dataclass
from typing import Literal

import pytest

from turnscrew.core.model.doing import Risk
from turnscrew.core.model.quantities import (
    BadFieldError,
    Checked,
    LengthMm,
    Seconds,
    SmallMm,
    field_types,
    key_of,
    minor_from_text,
)
from turnscrew.errors import BadArgumentError


@dataclass(frozen=True)
class Noun(Checked):
    length_mm: LengthMm = 1.0
    size_mm: tuple[SmallMm, ...] = ()
    kind: Literal["round", "square"] = "round"
    maybe_mm: SmallMm | None = None


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"length_mm": -1}, "length_mm: found -1, wanted a number from 0 to 2000 mm"),
        ({"size_mm": (1.0, 61.5)}, "size_mm: found 61.5, wanted a number from 0 to 60"),
        ({"kind": "oval"}, "kind: found oval, wanted one of round, square"),
        ({"maybe_mm": 99}, "maybe_mm: found 99, wanted a number from 0 to 60 mm"),
        ({"length_mm": float("nan")}, "length_mm: found nan"),
    ],
)
def test_it_refuses_what_is_out_of_bounds(fields, told) -> None:
    with pytest.raises(BadFieldError, match=told):
        Noun(**fields)


def test_it_takes_what_is_in_bounds() -> None:
    noun = Noun(2000, (0, 60), "square", None)

    assert 2000 == noun.length_mm


@pytest.mark.parametrize(
    ("text", "minor"), [("31.50", 3150), ("0", 0), ("400", 40000), ("7.5", 750)]
)
def test_it_reads_money_in_minor_units(text: str, minor: int) -> None:
    assert minor == minor_from_text(text)


@pytest.mark.parametrize("text", ["3.999", "-1", "NaN", "inf", "3,50", "", "1e400"])
def test_it_refuses_what_is_no_money(text: str) -> None:
    with pytest.raises(BadArgumentError, match="an amount such as 31.50"):
        minor_from_text(text)


@pytest.mark.parametrize("text", ["soon", "1 min", ""])
def test_it_refuses_what_is_no_time(text: str) -> None:
    with pytest.raises(BadArgumentError, match="a number of seconds"):
        Seconds.from_text(text)


def test_it_refuses_a_time_out_of_bounds() -> None:
    with pytest.raises(BadFieldError, match="wanted a number from 0 to 86400 s"):
        Seconds.from_text("-1")


def test_it_knows_the_word_of_a_field() -> None:
    hints = field_types(Risk)

    assert ("loss", "p") == tuple(
        key_of(name, hints[name], None) for name in ("loss_minor", "p")
    )

"""Which head and recess has a standard screw?"""

from dataclasses import astuple

import pytest

from turnscrew.core.handbook.screw_head import (
    PAN_HEADS_MM,
    SOCKET_MM,
    TIP_MM,
    hexalobular,
    pan_head,
)
from turnscrew.core.model.fastener import PAN_HEAD_MM, PAN_HEXALOBULAR
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize("d_mm", PAN_HEAD_MM)
def test_it_says_what_descriptions_are_checked_against(d_mm) -> None:
    """One table serves both."""
    assert PAN_HEAD_MM[d_mm] == astuple(pan_head(d_mm))


def test_it_fits_every_tip_into_its_socket() -> None:
    """The tip of a size is smaller than its socket, and larger than the next less."""
    assert SOCKET_MM.keys() == TIP_MM.keys()
    assert all(TIP_MM[size] < SOCKET_MM[size] for size in TIP_MM)
    assert sorted(SOCKET_MM.values()) == list(SOCKET_MM.values())
    assert {6, 8, 10} == {hexalobular(d_mm).size for d_mm in PAN_HEXALOBULAR}


def test_it_refuses_a_diameter_the_standard_lacks() -> None:
    """What exists is listed."""
    with pytest.raises(BadArgumentError, match=r"found 1\.2, wanted one of 1\.6, 2, "):
        pan_head(1.2)
    with pytest.raises(BadArgumentError, match=r"found 1\.6, wanted one of 2, 2\.5, 3"):
        hexalobular(1.6)
    assert 6 == len(PAN_HEADS_MM)

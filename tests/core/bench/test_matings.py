"""Is every mating of a connector counted for the body on which it was made?"""

import pytest

from turnscrew.core.bench.matings import matings_made, with_matings
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Stroke
from turnscrew.core.model.connection import Matings, Plug, Socket
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Part
from turnscrew.core.opening.details import details_in


def line(number: int, phase: str, kind: str, name: str) -> Line:
    return Line(
        number=number, phase=phase, asks="done", does="x", name=name, kind=kind, says=""
    )  # type: ignore[arg-type]


RUN = Run(
    device="T", revision="", reach=(), status="optimal", reason="",
    lines=(
        line(0, "opening", "socket", "tail"), line(1, "opening", "plug", "fan"),
        line(2, "refit", "socket", "tail"), line(3, "refit", "plug", "fan"),
        line(4, "refit", "screw", "screws"), line(5, "refit", "socket", "tail"),
    ),
)  # fmt: skip


def test_it_counts_what_was_put_back_and_nothing_else() -> None:
    told = [Stroke("done", n) for n in range(6)]
    assert {"tail": 2, "fan": 1} == matings_made(RUN, told)
    # Apart is no mating, and neither is what was passed over.
    assert {} == matings_made(RUN, [*told[:2], Stroke("skip", 2), Stroke("skip", 3)])


def device() -> Device:
    parts = {"a": Part(), "b": Part()}
    joints = {
        "tail": Joint(holds=("a", "b"), how=Socket(), matings=Matings(14, 20)),
        "fan": Joint(holds=("a", "b"), how=Plug()),
        "radio": Joint(holds=("a", "b"), how=Plug()),
        "screws": Joint(holds=("a", "b"), how=Screw()),
    }
    return Device(name="X", parts=parts, joints=joints)


@pytest.mark.parametrize(("n", "is_worn"), [(0, False), (13, False), (14, True)])
def test_a_body_bears_its_own_count_and_is_worn_by_two_thirds(n, is_worn) -> None:
    # Two thirds of 20 are 13.3: the fourteenth passes them.
    joints = with_matings(device(), {"tail": n, "fan": 3}).joints

    assert Matings(n, 20) == joints["tail"].matings
    assert is_worn == Matings(n, 20).is_worn


def test_a_connector_without_a_rating_is_counted_all_the_same() -> None:
    joints = with_matings(device(), {"fan": 3, "screws": 9}).joints

    assert Matings(3, None) == joints["fan"].matings
    assert joints["radio"].matings is None
    assert joints["screws"].matings is None


def test_a_count_without_a_rating_is_told_at_its_line() -> None:
    joint = Joint(holds=("a", "b"), how=Plug(), matings=Matings(3))

    assert "Mated here: 3, rating not known." in details_in(joint)
    for matings in (Matings(0), Matings(3, 30), None):
        made = Joint(holds=("a", "b"), how=Plug(), matings=matings)
        assert not any("ated here" in words for words in details_in(made))

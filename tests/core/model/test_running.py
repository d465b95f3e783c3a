"""May it have power now?"""

import pytest

from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.holding import Cover
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Part
from turnscrew.core.model.power import MayRun, Power
from turnscrew.core.model.running import MayPower, may_power

LAPTOP = Device(
    name="laptop",
    parts={"case": Part(contains=("keys",)), "keys": Part(), "plate": Part()},
    joints={
        "badge": Joint(holds=("tub",), how=Cover(hides=("screws",))),
        "screws": Joint(holds=("case", "tub"), how=Screw()),
        "plate screws": Joint(holds=("plate", "tub"), how=Screw()),
        "fan plug": Joint(holds=("fan", "board")),
        "tail": Joint(holds=("keys", "board")),
    },
    power=Power(
        cooling=("plate", "fan"),
        may_run=(
            MayRun(("case", "plate"), ("fan plug",), 20, why="the plate cools"),
            MayRun(("case",), ("fan plug",), supports=("lid on its stand",)),
        ),
    ),
)


@pytest.mark.parametrize(
    ("off", "answer"),
    [
        (set(), MayPower(True)),
        (
            {"badge", "screws", "tail", "case", "keys"},
            MayPower(True, None, ("lid on its stand",)),
        ),
        (
            {"screws", "case", "plate", "plate screws"},
            MayPower(True, 20, (), ("the plate cools",)),
        ),
        ({"case", "fan plug"}, MayPower(False, reasons=("fan plug is off",))),
        ({"fan"}, MayPower(False, reasons=("fan is off, and it cools",))),
        ({"lid"}, MayPower(False, reasons=("lid off, not provided for",))),
    ],
)
def test_it_answers_with_reasons(off, answer) -> None:
    assert answer == may_power(LAPTOP, off)


def test_it_refuses_where_nothing_is_said() -> None:
    answer = may_power(Device(name="X"), {"lid"})

    assert MayPower(False, reasons=("nothing says that it may run open",)) == answer

"""What is off with a part that is off?"""

from core.model.test_blocking import TABLET, joint
from turnscrew.core.model.device import Device
from turnscrew.core.model.holding import Cover
from turnscrew.core.model.lying_open import off_with
from turnscrew.core.model.part import Part


def test_what_tied_a_part_is_off_with_it() -> None:
    assert ("film", "tail") == off_with(TABLET, ["front"])
    assert ("tail", "pack plug", "side tail") == off_with(
        TABLET, ["board", "board screws"]
    )
    assert () == off_with(TABLET, ["pack plug", "nothing"])


def test_what_hid_a_screw_is_off_with_it() -> None:
    joints = {
        "badge": joint("badge cover", how=Cover(hides=("rim screws",))),
        "label": joint("label cover", how=Cover(hides=("other screws",))),
        "rim screws": joint("cover tub"),
        "other screws": joint("tub"),
    }
    parts = {"cover": Part(), "badge": Part(), "label": Part()}
    device = Device(name="X", parts=parts, joints=joints)

    assert ("badge",) == off_with(device, ["rim screws"])
    assert {"badge", "label", "rim screws"} == set(off_with(device, ["cover"]))
    assert ("badge", "rim screws") == off_with(device, ["cover", "label"])

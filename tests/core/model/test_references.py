"""Which names does a noun use?"""

from turnscrew.core.model.device import Device, FunctionTest
from turnscrew.core.model.geometry import Places
from turnscrew.core.model.holding import Cover
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import Need
from turnscrew.core.model.part import Move
from turnscrew.core.model.references import Reference, references_in


def test_it_finds_every_name_with_its_path() -> None:
    device = Device(
        name="X",
        joints={
            "badge": Joint(
                holds=("badge", "lid"),
                how=Cover(hides=("screw",)),
                under=(Need.from_text("door or flap aside"),),
                at=(Places("top", ((1, 1),)),),
            )
        },
        moves={"flap": Move()},
        tests={"keys": FunctionTest(rework={"screw": 9.0})},
        start="top up",
    )

    joint = ("joints", "badge")
    assert [
        Reference("thing", "door", (*joint, "under", 0, "any_of", 0, "name")),
        Reference("thing", "flap", (*joint, "under", 0, "any_of", 1, "name")),
        Reference("part", "badge", (*joint, "holds", 0)),
        Reference("part", "lid", (*joint, "holds", 1)),
        Reference("joint", "screw", (*joint, "cover", "hides", 0)),
        Reference("view", "top", (*joint, "at", 0, "view")),
        Reference("part", "flap", ("moves", "flap")),
        Reference("posture", "top up", ("start",)),
        Reference("thing", "screw", ("tests", "keys", "rework", "screw")),
    ] == list(references_in(device))

"""Is a place drawn at the bench where it is seen, whichever face is up?"""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from example_files import example_text
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.model.device import Device
from turnscrew.files.device_file import read_device
from turnscrew.web.records.queries.bench_drawings import drawings_of

CIRCLE = "{http://www.w3.org/2000/svg}circle"


def tablet(axis: str) -> Device:
    text = example_text("tavistle-v80.device.yaml")
    device = read_device(text, revision="2")
    front = replace(device.views["front"], turned_about=axis)
    return replace(device, views={**device.views, "front": front})


def middles(device: Device, face: str) -> set[tuple[float, float]]:
    """Give the middles of all circles on the face that a line shows."""
    line = Line(
        number=0, phase="opening", asks="done", does="undo", name="camera plug",
        kind="plug", says="", letter="A", view=face,
    )  # fmt: skip
    run = Run(
        device=device.name, revision="2", reach=("camera",), status="optimal",
        lines=(line,), letters={"camera plug": "A"},
    )  # fmt: skip
    drawn = ElementTree.fromstring(drawings_of(device, run)[f"{face}/camera plug"])
    return {
        (float(str(one.get("cx"))), float(str(one.get("cy"))))
        for one in drawn.iter(CIRCLE)
    }


@pytest.mark.parametrize(
    ("axis", "face", "seen_mm"),
    [
        # The place is 100 mm right of and 20 mm down from the corner of a front of
        # 128 by 208 mm; turned about its upright axis it is 128 - 100 from the left.
        ("upright", "front", (100, 20)),
        ("upright", "back", (28, 20)),
        ("level", "back", (100, 188)),
    ],
)
def test_it_turns_places_that_are_seen_from_behind(axis, face, seen_mm) -> None:
    device = tablet(axis)

    assert ((100, 20),) == device.joints["camera plug"].at[0].points_mm
    found = middles(device, face)
    assert seen_mm in found
    assert not found & ({(100, 20), (28, 20), (100, 188)} - {seen_mm})

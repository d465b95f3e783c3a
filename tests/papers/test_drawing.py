"""Does the drawing of a face show all an opening warns of, true and whole?"""

from xml.etree import ElementTree

import pytest

from example_files import EXAMPLES, example_text
from turnscrew.core.model.device import Device
from turnscrew.core.model.geometry import seen_on_opposite
from turnscrew.files.device_file import read_device
from turnscrew.papers.drawing import canvas_mm, face_svg, faces_used
from turnscrew.papers.drawn_words import WIDTH_PER_SIZE
from turnscrew.papers.in_words import in_words
from turnscrew.papers.sheets import RATIOS

SVG = "{http://www.w3.org/2000/svg}"
FACES = [
    (path.name, face)
    for path in sorted(EXAMPLES.rglob("*.device.yaml"))
    for face in read_device(path.read_text("utf-8")).views
]


def example(name: str) -> Device:
    return read_device(example_text(name))


@pytest.mark.parametrize(("name", "face"), FACES)
@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_it_is_whole_and_of_true_size(name: str, face: str, scale: float) -> None:
    device = example(name)

    root = ElementTree.fromstring(face_svg(device, face, {}, scale=scale))

    width_mm, height_mm = canvas_mm(device.views[face], scale)
    assert root.get("width") == f"{width_mm:.3f}mm"
    left, top, box_mm, tall_mm = map(float, str(root.get("viewBox")).split())
    assert (box_mm, tall_mm) == pytest.approx((width_mm, height_mm), abs=0.001)
    for words in root.iter(f"{SVG}text"):
        size = float(str(words.get("font-size")))
        for line in list(words) or [words]:
            x, long_mm = (
                float(str(line.get("x"))),
                WIDTH_PER_SIZE * size * len(line.text or ""),
            )
            start = x - long_mm / 2 if words.get("text-anchor") == "middle" else x
            assert left - 0.5 <= start
            assert start + long_mm <= left + box_mm + 0.5
            assert top <= float(str(line.get("y"))) - 0.66 * size


@pytest.mark.parametrize(("name", "face"), FACES)
@pytest.mark.parametrize("scale", RATIOS)
@pytest.mark.parametrize("language", ["en", "de"])
def test_its_words_are_never_too_small_to_read(
    name: str, face: str, scale: float, language: str
) -> None:
    """Seven points are 2.47 mm; the drawing is printed ``scale`` times smaller."""
    drawing = {"svg": face_svg(example(name), face, {}, scale=scale)}

    root = ElementTree.fromstring(in_words(drawing, "", language)["svg"])

    sizes = [float(str(t.get("font-size"))) for t in root.iter(f"{SVG}text")]
    assert sizes
    assert min(sizes) / scale >= 2.47
    top = float(str(root.get("viewBox")).split()[1])
    for words in root.iter(f"{SVG}text"):
        for line in list(words) or [words]:
            assert top <= float(str(line.get("y"))) - 0.66 * float(
                str(words.get("font-size"))
            )


def test_it_draws_every_face_with_a_zone_that_is_warned_of() -> None:
    device = example("pellorin-l240.device.yaml")

    assert "deck" in faces_used(device, frozenset({"rim clips"}))
    assert "no lever" in face_svg(device, "deck", {}, only=frozenset({"rim clips"}))


def test_it_mirrors_what_is_seen_from_the_other_face() -> None:
    device = example("tavistle-v80.device.yaml")
    places = device.joints["board screws"].at[0]
    view = device.views["back"]

    turned = seen_on_opposite(places, view)

    width_mm = view.size_mm[0]
    wanted = [(width_mm - x, y) for x, y in places.points_mm]
    assert wanted == list(turned.points_mm)

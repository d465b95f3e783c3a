"""Which faces of a device are photographed on arrival?"""

import pytest

from turnscrew.core.photo.faces import faces_of


@pytest.mark.parametrize(
    ("what", "n", "first"),
    [
        ("clamshell portable computer", 6, "lid"), ("8-inch tablet", 5, "picture"),
        ("rugged handheld", 5, "keys"), ("", 4, "front"), ("Tablet", 5, "picture"),
    ],
)  # fmt: skip
def test_it_goes_by_the_kind_of_device(what, n, first) -> None:
    faces = faces_of(what)

    assert (n, first) == (len(faces), faces[0].name)


def test_no_face_is_asked_for_twice() -> None:
    for what in ("laptop", "tablet", "handheld", "other"):
        names = [face.name for face in faces_of(what)]
        assert len(set(names)) == len(names)

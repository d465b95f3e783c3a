"""What does a joint say of itself?"""

import pytest

from turnscrew.core.model.connection import Matings, Plug, Socket
from turnscrew.core.model.doing import Caution
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.geometry import Places
from turnscrew.core.model.holding import (
    Bond,
    Clip,
    ClipRow,
    Cover,
    CoverSize,
    HiddenCatch,
    Hook,
    Magnet,
    Press,
)
from turnscrew.core.model.joint import Joint, parts_held
from turnscrew.core.model.need import Blocker, Need
from turnscrew.core.model.part import Part
from turnscrew.core.model.quantities import (
    BadFieldError,
    Spelling,
    field_types,
    unwrapped,
)
from turnscrew.core.model.refit import Renew, Survival
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("lid to tub", ("lid", "tub")),
        ("bracket, board to frame", ("bracket", "board", "frame")),
        ("lid", ("lid",)),
        ("", ()),
    ],
)
def test_it_reads_what_is_held(text: str, parts) -> None:
    assert parts == parts_held(text)


@pytest.mark.parametrize(
    ("joint", "n"),
    [
        (Joint(), 1),
        (Joint(how=Screw(), n=5, at=(Places("top", ((1, 1),)),)), 5),
        (Joint(how=Screw(), at=(Places("top", ((1, 1), (2, 2))),)), 2),
        (Joint(how=Clip((ClipRow("front", 6),), (HiddenCatch("port"),))), 7),
        (Joint(how=Clip()), 1),
        (Joint(how=Hook(3)), 3),
        (Joint(how=Magnet(2)), 2),
        (Joint(how=Cover(sizes=(CoverSize(3, 2.1), CoverSize(2, 3.4)))), 5),
        (Joint(how=Cover()), 1),
    ],
)
def test_it_counts_its_pieces(joint: Joint, n: int) -> None:
    assert n == joint.n_pieces


@pytest.mark.parametrize(
    ("joint", "kind"),
    [
        (Joint(), "unknown"),
        (Joint(how=Screw()), "always"),
        (Joint(how=Bond()), "unknown"),
        (Joint(how=Press()), "unknown"),
        (Joint(how=Bond(), survives=Survival("n times", 2)), "n times"),
    ],
)
def test_it_knows_how_often_it_can_be_made(joint: Joint, kind: str) -> None:
    assert kind == joint.survival.kind


def test_it_counts_not_knowing_as_destroyed() -> None:
    destroyed = [
        Survival.from_text(text).is_destroyed
        for text in ("always", "3 times", "once", "never", "unknown")
    ]

    assert [False, False, False, True, True] == destroyed


@pytest.mark.parametrize("text", ["always", "never", "unknown", "once", "3 times"])
def test_it_writes_re_use_as_it_reads_it(text: str) -> None:
    assert text == str(Survival.from_text(text))


def test_it_refuses_re_use_it_does_not_know() -> None:
    with pytest.raises(BadArgumentError, match="such as 3 times"):
        Survival.from_text("twice")


def test_it_tells_electrical_joints_from_others() -> None:
    assert [True, True, False] == [
        Joint(how=how).is_electrical for how in (Plug(), Socket(), Clip())
    ]


@pytest.mark.parametrize(
    ("done", "rated", "is_worn"),
    [(13, 20, False), (14, 20, True), (99, None, False), (20, 30, True)],
)
def test_it_counts_matings_against_two_thirds(done, rated, is_worn) -> None:
    assert is_worn == Matings(done, rated).is_worn


@pytest.mark.parametrize(
    ("text", "need"),
    [
        ("lid", Need((Blocker("lid"),))),
        ("lid raised", Need((Blocker("lid", "aside"),))),
        ("lid folded back", Need((Blocker("lid", "aside"),))),
        ("lid or pack aside", Need((Blocker("lid"), Blocker("pack", "aside")))),
    ],
)
def test_it_reads_what_is_in_the_way(text: str, need: Need) -> None:
    assert need == Need.from_text(text)
    assert need == Need.from_text(str(need))


@pytest.mark.parametrize(
    ("text", "caution"),
    [
        ("sharp: fin edges", Caution("sharp", "fin edges")),
        ("mind the lead", Caution("care", "mind the lead")),
        ("do this: not that", Caution("care", "do this: not that")),
    ],
)
def test_it_reads_a_caution(text: str, caution: Caution) -> None:
    assert caution == Caution.from_text(text)


@pytest.mark.parametrize(
    ("text", "plug"),
    [
        ("pull up", Plug("wire", pull="up")),
        ("wire", Plug("wire")),
        ("board to board", Plug("board to board")),
        ("micro coaxial", Plug("micro coaxial")),
    ],
)
def test_it_reads_a_plug(text: str, plug: Plug) -> None:
    assert plug == Plug.from_text(text)


def test_it_refuses_a_plug_it_does_not_know() -> None:
    with pytest.raises(BadArgumentError, match="pull and a direction"):
        Plug.from_text("push")


def test_it_reads_clips_by_count() -> None:
    assert Clip((ClipRow("front", 6),)) == Clip.from_text("6 front")
    with pytest.raises(BadArgumentError, match="a count such as 6"):
        Clip.from_text("many")


def test_it_reads_what_a_part_is_sensitive_to() -> None:
    hint = field_types(Part)["sensitive"]
    spelling = next(note for note in unwrapped(hint)[1] if isinstance(note, Spelling))

    assert ("static", "dust") == spelling.read("static, dust")


def test_it_reads_the_first_field_of_a_noun_alone() -> None:
    assert Renew("T-AD", 1) == Renew.from_text("T-AD")
    with pytest.raises(BadFieldError, match="kind: found glue, wanted one of strip"):
        Bond.from_text("glue")

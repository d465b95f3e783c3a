"""What is known of one family of devices, in one revision?"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from turnscrew.core.model.cable import Cable
from turnscrew.core.model.doing import Caution
from turnscrew.core.model.geometry import EmptyHole, View
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Move, Part
from turnscrew.core.model.posture import Posture, Tool, Turn
from turnscrew.core.model.power import Power
from turnscrew.core.model.proof import Arrived, KnownError, Origin, Photo, Release
from turnscrew.core.model.quantities import (
    Checked,
    Key,
    PartName,
    PostureName,
    Shortened,
    ThingName,
    TimeS,
)
from turnscrew.core.model.refit import ToolUse
from turnscrew.core.model.times import ElementTime


@dataclass(frozen=True)
class Revision(Checked):
    """
    One revision of the family.

    Parameters
    ----------
    tell
        How it is recognised from outside.
    marks
        What each look from outside shows on it, by what is looked at.
    serials
        What its serial numbers begin with, or ranges with ``to`` between.
    confirm
        How, and when, it is confirmed once open.
    order_after_confirm
        Nothing is ordered before it is confirmed.
    differs
        The facts that differ from the base.
    """

    tell: str = ""
    marks: Mapping[str, str] = field(default_factory=dict)
    serials: tuple[str, ...] = ()
    confirm: str = ""
    order_after_confirm: bool = False
    differs: tuple[str, ...] = ()


@dataclass(frozen=True)
class BeforeOpening(Shortened):
    """
    A thing to take out or off before the device is opened.

    Parameters
    ----------
    what
        The thing.
    why
        What happens otherwise, in words.
    keep
        Where it goes meanwhile.
    """

    what: str
    why: str = ""
    keep: str = ""


@dataclass(frozen=True)
class Equal(Checked):
    """
    Things whose order among themselves does not matter.

    Parameters
    ----------
    either
        The parts or joints.
    why
        A word on it.
    """

    either: tuple[ThingName, ...]
    why: str = ""


@dataclass(frozen=True)
class Setting(Shortened):
    """
    A setting to see to after refit.

    Parameters
    ----------
    do
        What is done, in words.
    after
        Parts and joints whose removal makes it necessary; empty means any opening.
    """

    do: str
    after: tuple[ThingName, ...] = ()


@dataclass(frozen=True)
class FunctionTest(Checked):
    """
    A test of a function.

    Parameters
    ----------
    says
        What is done and what is right, in words.
    seconds
        How long it takes. [s]
    postures
        Postures in which it can be made; empty: any.
    tools
        What it is made with.
    while_open
        It can be made with the device open.
    needs_fitted
        Parts and joints that must be on.
    may_lack
        Parts and joints that may be off.
    supports
        What must be supported, in words.
    leads
        Leads and supplies it needs, in words.
    due_if
        Parts and joints whose removal makes it necessary; empty means always.
    before
        Parts and joints that go back only after it is passed: the close gate.
    rework
        Expected extra seconds if a part or joint is put back before it is passed. [s]
    result
        What kind of answer it gives.
    limit
        The limits, in words.
    """

    says: str = ""
    seconds: TimeS = 60.0
    postures: Annotated[tuple[PostureName, ...], Key("posture")] = ()
    tools: Annotated[tuple[ToolUse, ...], Key("tool")] = ()
    while_open: bool = False
    needs_fitted: tuple[ThingName, ...] = ()
    may_lack: tuple[ThingName, ...] = ()
    supports: tuple[str, ...] = ()
    leads: tuple[str, ...] = ()
    due_if: tuple[ThingName, ...] = ()
    before: tuple[ThingName, ...] = ()
    rework: Mapping[ThingName, TimeS] = field(default_factory=dict)
    result: str = "seen"
    limit: str = ""


@dataclass(frozen=True, kw_only=True)
class Device(Checked):
    """
    A family of devices in one revision.

    Parameters
    ----------
    name
        Name of the family.
    variant
        Which variant, in words.
    what
        What it is, in words.
    tell
        How the family is recognised from outside.
    marks
        What each look from outside shows on the whole family, by what is looked at.
    serials
        What serial numbers of the family begin with, or ranges with ``to`` between.
    revision
        The revision read; empty for the base as written.
    revisions
        All revisions by name.
    views
        Faces by name.
    parts
        Parts by name.
    joints
        Joints by name.
    moves
        How parts are moved aside, by part.
    postures
        Ways to lie, by name.
    turns
        Turns that differ from the usual one.
    start
        Posture at the beginning; empty for the first one.
    end
        Posture at the end; empty for the one at the beginning.
    tools
        Tools of the bench by name.
    times
        Own median element times by element.
    cables
        Cables by name.
    power
        Power rules.
    tests
        Function tests by name.
    before_opening
        What to take out before opening.
    empty_holes
        Holes in which nothing belongs.
    equal
        Things whose order does not matter.
    settings
        Settings to see to after refit.
    cautions
        Dangers of the device as a whole.
    hygiene
        Contamination class, in words.
    known_errors
        Slips by the device as a whole.
    variation
        Differences between sound devices, in words.
    photos
        Pictures by layer.
    origin
        Where the facts come from, unless stated nearer.
    origins
        Where single facts come from, by path.
    arrived
        Facts that were wrong when one device arrived.
    release
        State of release; ``None`` counts as draft.
    words
        Sentences in other languages: by language, then by sentence.
    """

    name: Annotated[str, Key("device")]
    variant: str = ""
    what: str = ""
    tell: str = ""
    marks: Mapping[str, str] = field(default_factory=dict)
    serials: tuple[str, ...] = ()
    revision: str = ""
    revisions: Mapping[str, Revision] = field(default_factory=dict)
    views: Mapping[str, View] = field(default_factory=dict)
    parts: Mapping[str, Part] = field(default_factory=dict)
    joints: Mapping[str, Joint] = field(default_factory=dict)
    moves: Mapping[PartName, Move] = field(default_factory=dict)
    postures: Mapping[str, Posture] = field(default_factory=dict)
    turns: tuple[Turn, ...] = ()
    start: PostureName = ""
    end: PostureName = ""
    tools: Mapping[str, Tool] = field(default_factory=dict)
    times: Mapping[str, ElementTime] = field(default_factory=dict)
    cables: Mapping[str, Cable] = field(default_factory=dict)
    power: Power = Power()
    tests: Mapping[str, FunctionTest] = field(default_factory=dict)
    before_opening: tuple[BeforeOpening, ...] = ()
    empty_holes: tuple[EmptyHole, ...] = ()
    equal: tuple[Equal, ...] = ()
    settings: tuple[Setting, ...] = ()
    cautions: Annotated[tuple[Caution, ...], Key("caution")] = ()
    hygiene: str = ""
    known_errors: tuple[KnownError, ...] = ()
    variation: str = ""
    photos: tuple[Photo, ...] = ()
    origin: Origin | None = None
    origins: Mapping[str, Origin] = field(default_factory=dict)
    arrived: tuple[Arrived, ...] = ()
    release: Release | None = None
    words: Mapping[str, Mapping[str, str]] = field(default_factory=dict)

    def in_words(self, sentence: str, language: str) -> str:
        """
        Give a sentence in another language, or as it stands.

        Parameters
        ----------
        sentence
            A sentence of the description.
        language
            Short name of the language, such as ``de``.

        Returns
        -------
        str
            The sentence in that language if it is there, else unchanged.
        """
        return self.words.get(language, {}).get(sentence, sentence)

"""What is wanted of a device at the bench, and how does it lie now?"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from turnscrew.core.bench.run import Tray


@dataclass(frozen=True, kw_only=True)
class Work:
    """
    One thing to do once its part is reached.

    Parameters
    ----------
    says
        The working line.
    reach
        Part or joint it is done to; empty if nothing need be opened.
    spare
        Number of the part fitted; empty if none is.
    cautions
        Dangers.
    details
        Look-alikes, marks and how it is done.
    seconds
        Estimate. [s]
    sign_off
        Who may do it; empty for anybody.
    dries
        It sees to liquid that got in.
    is_unreached
        The device is opened for it, and its description knows no way to where it goes.
    """

    says: str
    reach: str = ""
    spare: str = ""
    cautions: tuple[str, ...] = ()
    details: tuple[str, ...] = ()
    seconds: float = 0.0
    sign_off: str = ""
    dries: bool = False
    is_unreached: bool = False


@dataclass(frozen=True, kw_only=True)
class Finish:
    """
    One thing asked for after closing, beside the tests of the description.

    Parameters
    ----------
    name
        Its name.
    says
        The working line.
    asks
        What answers it.
    unit
        Unit of its number.
    low
        Least number that is right; ``None`` if there is none.
    high
        Greatest number that is right; ``None`` if there is none.
    cautions
        Dangers.
    is_outside
        Its test powers nothing of the device.
    """

    name: str
    says: str
    asks: str = "done"
    unit: str = ""
    low: float | None = None
    high: float | None = None
    cautions: tuple[str, ...] = ()
    is_outside: bool = False


@dataclass(frozen=True, kw_only=True)
class Usual:
    """
    Another fault usual in such a device.

    Parameters
    ----------
    code
        Its code in the terms.
    says
        The fault, and how many had it.
    cautions
        What is dangerous about it.
    """

    code: str
    says: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Goal:
    """
    What is wanted.

    Parameters
    ----------
    reach
        Parts and joints to get at; none to close it as it is.
    work
        What is done there.
    stays
        Joints and parts that cannot or must not come off.
    heed
        Dangers to read before anything is done.
    no_power
        Why it must not have power until its work is done; empty if it may. Without
        work it may never.
    is_pack_bad
        Its pack is swollen or unknown: power waits until another one is in.
    is_pack_bad_again
        One was changed already, and that one is bad too.
    packs_changed
        Packs that were changed on the way here, where there are several.
    is_wet
        Liquid got in: power waits until that was seen to.
    finish
        What is asked for after closing.
    usual
        Other faults usual in such a device, looked for while it lies open.
    """

    reach: tuple[str, ...] = ()
    work: tuple[Work, ...] = ()
    stays: tuple[str, ...] = ()
    heed: tuple[str, ...] = ()
    no_power: str = ""
    no_start: str = ""
    is_pack_bad: bool = False
    is_pack_bad_again: bool = False
    packs_changed: tuple[str, ...] = ()
    is_wet: bool = False
    finish: tuple[Finish, ...] = ()
    usual: tuple[Usual, ...] = ()

    @property
    def unreached(self) -> str:
        """Name the work that no way leads to."""
        return "; ".join(one.says.rstrip(".") for one in self.work if one.is_unreached)


@dataclass(frozen=True, kw_only=True)
class Lying:
    """
    How the device lies now.

    Parameters
    ----------
    off
        Parts and joints that are off.
    aside
        Parts that are aside.
    tray
        Pieces by compartment.
    letters
        Letter of each joint that has one already.
    fasteners
        Kind of fastener in words, by compartment.
    posture
        Its posture; empty for the one at the beginning.
    tool
        Tool in hand; empty for none.
    is_open
        It was opened and its close gate not passed since.
    to_look
        What is back already, but was not looked at yet.
    to_count
        Joints that are back already, but whose compartments were not counted yet.
    n_photos
        Looks already answered with a photo, or with a name in its place. [1]
    was_off
        Parts and joints that were off on the way here, back or not.
    tested
        Final tests answered already, by name; what is opened again asks anew.
    out
        What was taken out beside the path and is not back.
    was_set
        Settings seen to since anything came off.
    boxed
        Packs that lie in a box already.
    is_powered
        It may have power still, from a test in the open state.
    """

    off: frozenset[str] = frozenset()
    aside: frozenset[str] = frozenset()
    tray: Tray = field(default_factory=dict)
    letters: Mapping[str, str] = field(default_factory=dict)
    fasteners: Mapping[str, str] = field(default_factory=dict)
    posture: str = ""
    tool: str = ""
    is_open: bool = False
    to_look: tuple[str, ...] = ()
    to_count: tuple[str, ...] = ()
    n_photos: int = 0
    was_off: frozenset[str] = frozenset()
    tested: frozenset[str] = frozenset()
    out: tuple[str, ...] = ()
    was_set: frozenset[str] = frozenset()
    boxed: frozenset[str] = frozenset()
    is_powered: bool = False

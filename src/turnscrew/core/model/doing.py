"""What has to be known to undo one thing and to put it back?"""

from dataclasses import dataclass
from typing import Annotated, Literal

from turnscrew.core.model.geometry import Zone
from turnscrew.core.model.need import Easier, Need, PowerNeed, Stop
from turnscrew.core.model.proof import KnownError, Origin, Photo, Release
from turnscrew.core.model.quantities import (
    Bounds,
    Checked,
    Count,
    ForceN,
    Key,
    Minor,
    PostureName,
    Seconds,
    Share,
)
from turnscrew.core.model.refit import Refit, ToolUse

CautionKind = Literal[
    "care", "pack", "heat", "hot", "static", "light", "dust", "spring", "sharp",
    "glass", "fibre", "chemical", "charge", "fumes", "mains", "data", "hygiene",
]  # fmt: skip


@dataclass(frozen=True)
class Risk(Checked):
    """
    What may go wrong.

    Parameters
    ----------
    p
        Probability that it does, each time. [1]
    loss_minor
        What it costs then, in minor units of money.
    what
        What happens, in words.
    """

    p: Share
    loss_minor: Annotated[Minor, Key("loss")]
    what: str = ""


@dataclass(frozen=True)
class Caution(Checked):
    """
    A danger at this action.

    Parameters
    ----------
    kind
        What kind of danger.
    says
        The danger in words.
    then
        What to do if it happens.
    """

    kind: CautionKind
    says: str
    then: str = ""

    @classmethod
    def from_text(cls, text: str) -> "Caution":
        """
        Read the words alone, or a kind and the words parted by a colon.

        Parameters
        ----------
        text
            The danger, such as ``sharp: cut edge``.

        Returns
        -------
        Caution
            The caution.
        """
        kind, _, says = text.partition(": ")
        if says and " " not in kind:
            return cls(kind, says)  # type: ignore[arg-type]
        return cls("care", text)


@dataclass(frozen=True)
class Springs(Checked):
    """
    Springs under tension.

    Parameters
    ----------
    n
        How many. [1]
    hold
        What to hold while they are freed, in words.
    """

    n: Count = 1
    hold: str = ""


@dataclass(frozen=True, kw_only=True)
class Doing(Checked):
    """
    What undoing a joint, lifting a part and moving a part aside have in common.

    Parameters
    ----------
    under
        What is in the way; each entry must be off or, where it says so, aside.
    after
        What comes first for another reason than being in the way.
    after_why
        That reason, in words.
    easier
        Removals that are not needed but help.
    postures
        Postures in which it can be done; empty: where it can be seen.
    tools
        Tools that do it, any one of them; empty: the usual one.
    unsuitable
        Tools that must not be used, with the reason.
    hands
        Hands needed; more than 2 asks for a second person. [1]
    hold_at
        Where to hold, in words.
    push
        Where to push, and how, in words.
    force_n
        How hard. [N]
    noise
        What noise is normal, in words.
    direction
        Direction of the first movement, in words.
    risk
        What may go wrong.
    refit
        What is different on the way back.
    seconds
        Own time, all pieces; ``None`` for the element times.
    awkward
        The access is awkward.
    cautions
        Dangers at this action.
    sign_off
        Who may do it; empty: anybody.
    power
        The power state it asks for.
    stop
        Whether one may stop just before it.
    springs
        Springs under tension.
    no_lever
        Areas where nothing may be levered.
    depth
        Areas where a tool may go only so deep.
    known_errors
        Slips that happened here.
    variation
        Differences between sound devices, in words.
    origin
        Where these facts come from.
    photos
        Pictures.
    release
        State of release of this item, if it differs from the whole.
    says
        The action in words, where the facts do not say it.
    """

    under: tuple[Need, ...] = ()
    after: tuple[Need, ...] = ()
    after_why: str = ""
    easier: Annotated[tuple[Easier, ...], Key("easier_with_off")] = ()
    postures: Annotated[tuple[PostureName, ...], Key("posture")] = ()
    tools: Annotated[tuple[ToolUse, ...], Key("tool")] = ()
    unsuitable: tuple[str, ...] = ()
    hands: Annotated[int, Bounds(1, 4, "1")] = 1
    hold_at: str = ""
    push: str = ""
    force_n: ForceN | None = None
    noise: str = ""
    direction: str = ""
    risk: Risk | None = None
    refit: Refit = Refit()
    seconds: Seconds | None = None
    awkward: bool = False
    cautions: Annotated[tuple[Caution, ...], Key("caution")] = ()
    sign_off: str = ""
    power: PowerNeed = PowerNeed()
    stop: Stop | None = None
    springs: Springs | None = None
    no_lever: tuple[Zone, ...] = ()
    depth: tuple[Zone, ...] = ()
    known_errors: tuple[KnownError, ...] = ()
    variation: str = ""
    origin: Origin | None = None
    photos: tuple[Photo, ...] = ()
    release: Release | None = None
    says: str = ""

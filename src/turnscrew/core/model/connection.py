"""Which electrical connection is it, and what does a mated one look like?"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.model.quantities import (
    Checked,
    Count,
    Shortened,
    SmallMm,
    TemperatureC,
)
from turnscrew.errors import BadArgumentError

LatchKind = Literal["front flip", "back flip", "slide", "none"]


@dataclass(frozen=True)
class Socket(Shortened):
    """
    A socket for a flat flexible cable.

    Parameters
    ----------
    latch
        How it locks.
    lift_from
        From which side the bar is lifted, in words.
    n_contacts
        Number of contacts; ``None`` if not counted. [1]
    contacts
        Which way the contacts face, in words.
    seated
        What a fully inserted tail looks like, in words.
    lugs
        What the lugs or wings of the tail do, in words.
    """

    latch: LatchKind = "none"
    lift_from: str = ""
    n_contacts: Count | None = None
    contacts: str = ""
    seated: str = ""
    lugs: str = ""


@dataclass(frozen=True)
class CoaxPair(Checked):
    """
    Which micro coaxial plug goes on which post.

    Parameters
    ----------
    sleeve
        Colour or mark of the lead.
    post
        The post it belongs on, in words.
    """

    sleeve: str
    post: str


@dataclass(frozen=True)
class Plug(Checked):
    """
    A plug that is pulled.

    Parameters
    ----------
    kind
        ``wire``: leads in a shell; ``board to board``; ``micro coaxial``.
    pull
        Which way and where to hold, in words.
    lock
        What locks it, in words.
    key
        Which way round it goes, in words.
    press_at
        Where to press it home, in words.
    clicks
        How many clicks are felt when it is home. [1]
    pairs
        Which lead goes on which post.
    """

    kind: Literal["wire", "board to board", "micro coaxial"] = "wire"
    pull: str = ""
    lock: str = ""
    key: str = ""
    press_at: str = ""
    clicks: Count = 0
    pairs: tuple[CoaxPair, ...] = ()

    @classmethod
    def from_text(cls, text: str) -> "Plug":
        """
        Read the direction of the pull, or a kind alone.

        Parameters
        ----------
        text
            Such as ``pull up`` or ``board to board``.

        Returns
        -------
        Plug
            The plug.

        Raises
        ------
        BadArgumentError
            If the text is neither.
        """
        if text == "board to board":
            return cls("board to board")
        if text == "micro coaxial":
            return cls("micro coaxial")
        if text == "wire":
            return cls("wire")
        if text.startswith("pull "):
            return cls("wire", pull=text.removeprefix("pull "))
        raise BadArgumentError(
            f"wire, board to board, micro coaxial or pull and a direction, not {text}"
        )


@dataclass(frozen=True)
class Lead(Checked):
    """
    A soldered lead.

    Parameters
    ----------
    leave_mm
        Tail to leave when it is cut. [mm]
    iron_c
        Temperature of the iron. [°C]
    polarity
        Which lead goes where, in words.
    """

    leave_mm: SmallMm | None = None
    iron_c: TemperatureC | None = None
    polarity: str = ""


@dataclass(frozen=True)
class Matings(Checked):
    """
    How often a connection was made, and how often it may be.

    Parameters
    ----------
    done
        Matings so far, of the device described. [1]
    rated
        Matings it is rated for; ``None`` if not known. [1]
    """

    done: Count = 0
    rated: Count | None = None

    @property
    def is_worn(self) -> bool:
        """Say whether two thirds of the rating are used up."""
        return self.rated is not None and 3 * self.done >= 2 * self.rated

"""How do we know it, who tried it, and what went wrong here before?"""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Literal

from turnscrew.core.model.geometry import Places
from turnscrew.core.model.quantities import Checked, Count, Key
from turnscrew.errors import BadArgumentError

OriginKind = Literal["seen", "measured", "inferred from a twin", "told"]
ReleaseState = Literal["draft", "tried by another", "released", "withdrawn"]


@dataclass(frozen=True)
class Origin(Checked):
    """
    Where a fact comes from.

    Parameters
    ----------
    how
        How it is known.
    by
        By whom.
    serial
        On which device.
    on
        When.
    sure
        How sure, in words.
    """

    how: OriginKind
    by: str = ""
    serial: str = ""
    on: date | None = None
    sure: str = ""

    @classmethod
    def from_text(cls, text: str) -> "Origin":
        """
        Read how the fact is known, alone.

        Parameters
        ----------
        text
            ``seen``, ``measured``, ``inferred from a twin`` or ``told``.

        Returns
        -------
        Origin
            The origin.

        Raises
        ------
        BadArgumentError
            If it is none of these.
        """
        kinds: dict[str, OriginKind] = {
            "seen": "seen", "measured": "measured",
            "inferred from a twin": "inferred from a twin", "told": "told",
        }  # fmt: skip
        if text not in kinds:
            raise BadArgumentError(f"one of {', '.join(kinds)}, not {text}")
        return cls(kinds[text])


@dataclass(frozen=True)
class Mark(Checked):
    """
    A mark on a photo, kept as data.

    Parameters
    ----------
    what
        The joint or part marked.
    at_share
        Where: shares of the photo's width and height. [1]
    says
        Words beside it.
    """

    what: str
    at_share: tuple[float, float] | None = None
    says: str = ""


@dataclass(frozen=True)
class Photo(Checked):
    """
    A photo or drawing of a layer.

    Parameters
    ----------
    name
        Name of the picture.
    layer
        What is exposed in it, in words.
    view
        Face it was taken from.
    light
        How it was lit, in words.
    scale
        What gives the scale, in words.
    marks
        Marks on it.
    """

    name: str
    layer: str = ""
    view: str = ""
    light: str = ""
    scale: str = ""
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True)
class KnownError(Checked):
    """
    A slip that happened at this point.

    Parameters
    ----------
    what
        What was done wrong, in words.
    n
        How often it was seen. [1]
    """

    what: str
    n: Count = 1


@dataclass(frozen=True)
class Release(Checked):
    """
    Who may work from this description.

    Parameters
    ----------
    state
        How far it is proven.
    by
        Who set the state.
    on
        When.
    tried_by
        Who rebuilt a device from it without having recorded it.
    """

    state: ReleaseState = "draft"
    by: str = ""
    on: date | None = None
    tried_by: str = ""

    @classmethod
    def from_text(cls, text: str) -> "Release":
        """
        Read the state alone.

        Parameters
        ----------
        text
            ``draft``, ``tried by another``, ``released`` or ``withdrawn``.

        Returns
        -------
        Release
            The release.

        Raises
        ------
        BadArgumentError
            If it is none of these.
        """
        states: dict[str, ReleaseState] = {
            "draft": "draft", "tried by another": "tried by another",
            "released": "released", "withdrawn": "withdrawn",
        }  # fmt: skip
        if text not in states:
            raise BadArgumentError(f"one of {', '.join(states)}, not {text}")
        return cls(states[text])


@dataclass(frozen=True)
class Arrived(Checked):
    """
    A fact that was wrong when one device arrived.

    Parameters
    ----------
    serial
        Which device.
    what
        What was wrong, in words.
    at
        Where on a face, if it has a place.
    joint
        The joint meant, if any.
    missing
        How many pieces were missing. [1]
    """

    serial: str
    what: str
    at: Places | None = None
    joint: Annotated[str, Key("joint")] = ""
    missing: Count = 0

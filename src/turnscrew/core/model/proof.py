"""How do we know it, who tried it, and what went wrong here before?"""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from turnscrew.core.model.geometry import Places
from turnscrew.core.model.quantities import (
    Checked,
    Count,
    JointName,
    Shortened,
    ThingName,
    ViewName,
)

OriginKind = Literal["seen", "measured", "inferred from a twin", "told"]
ReleaseState = Literal["draft", "tried by another", "released", "withdrawn"]


@dataclass(frozen=True)
class Origin(Shortened):
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

    what: ThingName
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
    view: ViewName = ""
    light: str = ""
    scale: str = ""
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True)
class KnownError(Shortened):
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
class Release(Shortened):
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
    joint: JointName = ""
    missing: Count = 0

"""When may the device have power, and what does it tell and forget?"""

from dataclasses import dataclass

from turnscrew.core.model.quantities import (
    Checked,
    JointName,
    PartName,
    ThingName,
    TimeS,
)


@dataclass(frozen=True)
class Source(Checked):
    """
    Something that keeps circuits live.

    Parameters
    ----------
    what
        The part or supply.
    live
        What stays live, in words.
    until
        How it is made dead, in words.
    """

    what: str
    live: str = ""
    until: str = ""


@dataclass(frozen=True)
class MayRun(Checked):
    """
    A state in which an open device may have power.

    Parameters
    ----------
    with_off
        Parts and joints that may be off.
    not_without
        Parts and joints that must be on.
    for_s
        How long; ``None``: as long as wanted. [s]
    supports
        What must be supported, in words.
    why
        The reason for the limit, in words.
    """

    with_off: tuple[ThingName, ...] = ()
    not_without: tuple[ThingName, ...] = ()
    for_s: TimeS | None = None
    supports: tuple[str, ...] = ()
    why: str = ""


@dataclass(frozen=True)
class Signal(Checked):
    """
    What a lamp or sound means.

    Parameters
    ----------
    shows
        What is seen or heard.
    means
        What it means.
    """

    shows: str
    means: str


@dataclass(frozen=True)
class Power(Checked):
    """
    The power rules of a device.

    Parameters
    ----------
    sources
        What keeps circuits live.
    isolate
        The joint that isolates the device.
    wait_s
        Wait after isolating. [s]
    hold_key
        Key to hold meanwhile, in words.
    cooling
        Parts that must be on for the device to run without limit.
    may_run
        States in which it may have power while open; with none it may not.
    starts
        What it needs before it starts after the pack was apart, in words.
    signals
        Lamps and sounds.
    loses
        What is lost when the pack is apart.
    keeps
        What is kept.
    """

    sources: tuple[Source, ...] = ()
    isolate: JointName = ""
    wait_s: TimeS = 0.0
    hold_key: str = ""
    cooling: tuple[PartName, ...] = ()
    may_run: tuple[MayRun, ...] = ()
    starts: str = ""
    signals: tuple[Signal, ...] = ()
    loses: tuple[str, ...] = ()
    keeps: tuple[str, ...] = ()

"""What is in the way, and what else must hold before a thing is undone?"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.model.quantities import Checked, Shortened, ThingName, TimeS

_ASIDE_WORDS = (" aside", " raised", " folded back", " loose")


@dataclass(frozen=True)
class Blocker(Checked):
    """
    Something in the way.

    Parameters
    ----------
    name
        A part or a joint.
    state
        ``off``: gone (moved aside is enough where the move frees what is blocked);
        ``aside``: at least moved aside.
    """

    name: ThingName
    state: Literal["off", "aside"] = "off"

    def __str__(self) -> str:
        """Give the blocker as it is written in a description."""
        return self.name if self.state == "off" else f"{self.name} aside"

    @classmethod
    def from_text(cls, text: str) -> "Blocker":
        """
        Read a name, or a name followed by ``aside``, ``raised`` or ``folded back``.

        Parameters
        ----------
        text
            The blocker as written.

        Returns
        -------
        Blocker
            The blocker.
        """
        for word in _ASIDE_WORDS:
            if text.endswith(word):
                return cls(text.removesuffix(word), "aside")
        return cls(text)


@dataclass(frozen=True)
class Need(Checked):
    """
    One condition: any of several blockers is out of the way.

    Parameters
    ----------
    any_of
        The blockers; one of them is enough.
    """

    any_of: tuple[Blocker, ...]

    def __str__(self) -> str:
        """Give the need as it is written in a description."""
        return " or ".join(str(blocker) for blocker in self.any_of)

    @classmethod
    def from_text(cls, text: str) -> "Need":
        """
        Read one blocker, or several parted by ``or``.

        Parameters
        ----------
        text
            The need as written.

        Returns
        -------
        Need
            The need.
        """
        return cls(
            tuple(Blocker.from_text(word.strip()) for word in text.split(" or "))
        )


@dataclass(frozen=True)
class Easier(Checked):
    """
    A removal that is not needed but helps.

    Parameters
    ----------
    off
        The part or joint that need not be off.
    saves_s
        Seconds it saves at removal. [s]
    refit_saves_s
        Seconds it saves at refit. [s]
    why
        What it is good for, in words.
    """

    off: ThingName
    saves_s: TimeS
    refit_saves_s: TimeS = 0.0
    why: str = ""


@dataclass(frozen=True)
class PowerNeed(Shortened):
    """
    The power state an action asks for.

    Parameters
    ----------
    state
        ``isolated``: the isolating joint is off.
    wait_s
        How long to wait after that. [s]
    hold_key
        Which key to hold meanwhile, in words.
    """

    state: Literal["any", "off", "adapter out", "isolated"] = "any"
    wait_s: TimeS = 0.0
    hold_key: str = ""


@dataclass(frozen=True)
class Stop(Checked):
    """
    Where one may stop.

    Parameters
    ----------
    safe_before
        Just before this action is a safe stop.
    last_reversible
        Just before this action is the last point with nothing used up.
    says
        Why, in words.
    """

    safe_before: bool = False
    last_reversible: bool = False
    says: str = ""

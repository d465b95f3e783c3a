"""What is used up by opening, and what is different on the way back?"""

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from turnscrew.core.model.quantities import (
    Bounds,
    Checked,
    Count,
    Key,
    PostureName,
    Seconds,
    Shortened,
    SmallMm,
    TemperatureC,
    ThingName,
    TimeS,
    ToolName,
)
from turnscrew.errors import BadArgumentError

BARE_HAND = "hand"
"""The word for working without a tool; whatever tool is held may stay in hand."""


@dataclass(frozen=True)
class ToolUse(Shortened):
    """
    A tool that does it.

    Parameters
    ----------
    name
        The tool; ``hand`` is the bare hand.
    strip_s
        Own time for the removal, all pieces; ``None`` for the usual one. [s]
    refit_s
        Own time for the refit, all pieces; ``None`` for the usual one. [s]
    says
        How it is used, in words.
    """

    name: ToolName
    strip_s: TimeS | None = None
    refit_s: TimeS | None = None
    says: str = ""


@dataclass(frozen=True)
class Survival(Checked):
    """
    How often a joint can be made again.

    Parameters
    ----------
    kind
        ``unknown`` counts as ``never``.
    n_times
        How often, if the number is limited. [1]
    """

    kind: Literal["always", "n times", "never", "unknown"] = "unknown"
    n_times: Count | None = None

    def __str__(self) -> str:
        """Give the class as it is written in a description."""
        if self.kind != "n times":
            return self.kind
        return "once" if self.n_times == 1 else f"{self.n_times} times"

    @classmethod
    def from_text(cls, text: str) -> "Survival":
        """
        Read ``always``, ``never``, ``unknown``, ``once`` or ``3 times``.

        Parameters
        ----------
        text
            The class as written.

        Returns
        -------
        Survival
            The class.

        Raises
        ------
        BadArgumentError
            If it is none of these.
        """
        if text in ("always", "never", "unknown"):
            return cls(text)  # type: ignore[arg-type]
        if text == "once":
            return cls("n times", 1)
        match = re.fullmatch(r"(\d{1,3}) times", text)
        if match is None:
            raise BadArgumentError(
                f"always, never, unknown, once or such as 3 times, not {text}"
            )
        return cls("n times", int(match[1]))

    @property
    def is_destroyed(self) -> bool:
        """Say whether opening uses the joint up; not knowing counts as yes."""
        return self.kind in ("never", "unknown")


@dataclass(frozen=True)
class Renew(Shortened):
    """
    What takes the place of a thing used up.

    Parameters
    ----------
    spare
        Number of the spare part, or what it is.
    n
        How many are used. [1]
    unit
        Unit they are counted in.
    only_if
        When it is needed, in words; empty means always.
    """

    spare: str
    n: Annotated[float, Bounds(0, 500, "1")] = 1
    unit: str = "piece"
    only_if: str = ""


@dataclass(frozen=True)
class Soften(Checked):
    """
    Heat, and the wait after it.

    Parameters
    ----------
    c
        Temperature of the plate or air. [°C]
    heat_s
        How long it is heated. [s]
    wait_s
        How long to wait afterwards. [s]
    where
        Where the heat goes, in words.
    """

    c: TemperatureC | None = None
    heat_s: TimeS = 0.0
    wait_s: TimeS = 0.0
    where: str = ""


@dataclass(frozen=True)
class SeatCheck(Shortened):
    """
    How to see that it sits.

    Parameters
    ----------
    looks
        What it looks like, in words.
    gap_mm
        Gap all round. [mm]
    stands_mm
        How high it stands. [mm]
    clicks
        Clicks felt. [1]
    retention
        How to try whether it holds, in words.
    """

    looks: str = ""
    gap_mm: SmallMm | None = None
    stands_mm: SmallMm | None = None
    clicks: Count = 0
    retention: str = ""


@dataclass(frozen=True)
class Refit(Shortened):
    """
    What is different on the way back.

    Parameters
    ----------
    says
        The action in words, where it is not the removal undone.
    seconds
        Own time, all pieces.
    tools
        Own tools.
    postures
        Own postures.
    after
        Parts and joints that, if they were off, go back first.
    seat
        How to see that it sits.
    clean
        What is cleaned first, in words.
    grease
        What is greased, in words.
    preload
        What is put under tension first, in words.
    renew
        What is renewed besides the joint itself.
    align
        How it is brought into line, in words.
    second_look
        Another person looks before it is covered.
    """

    says: str = ""
    seconds: Seconds | None = None
    tools: Annotated[tuple[ToolUse, ...], Key("tool")] = ()
    postures: Annotated[tuple[PostureName, ...], Key("posture")] = ()
    after: tuple[ThingName, ...] = ()
    seat: SeatCheck | None = None
    clean: str = ""
    grease: str = ""
    preload: str = ""
    renew: tuple[Renew, ...] = ()
    align: str = ""
    second_look: bool = False

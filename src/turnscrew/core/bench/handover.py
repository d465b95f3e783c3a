"""What must somebody know who takes over a device that lies open?"""

from dataclasses import dataclass
from typing import Annotated

from turnscrew.core.model.quantities import Bounds, Checked, Count


@dataclass(frozen=True)
class TrayCount(Checked):
    """
    Pieces of one kind that lie in the tray.

    Parameters
    ----------
    kind
        Kind of fastener in words.
    n
        Pieces. [1]
    place
        Letter of the compartment; empty if there is none.
    kept_in
        Compartment that the description names, if it names one.
    """

    kind: str
    n: Count
    place: str = ""
    kept_in: str = ""

    @property
    def where(self) -> str:
        """Write where it lies."""
        return f"{self.place} ({self.kept_in})" if self.kept_in else self.place


@dataclass(frozen=True, kw_only=True)
class OpenDevice(Checked):
    """
    One open device as it is handed over.

    Parameters
    ----------
    number
        The workshop's number, as it is said aloud.
    place
        Where it lies.
    state
        How far it is, in words.
    first_action
        What is done first.
    power
        Whether it has power, and may have it, in words.
    model
        Its model and revision.
    is_at_safe_stop
        One may walk away from it as it lies.
    n_to_stop
        Actions to the next safe stop; ``None`` if there is none before it is closed.
        [1]
    off
        Parts that are off.
    unplugged
        Connections that are apart.
    aside
        Parts moved aside.
    tray
        What lies in the tray.
    last_done
        What was done last.
    in_doubt
        What nobody is sure of.
    hazards
        Dangers.
    sign_off
        Who may do it; empty for anybody.
    """

    number: str
    place: str
    state: str
    first_action: str
    power: str
    model: str = ""
    is_at_safe_stop: bool = False
    n_to_stop: Annotated[int, Bounds(0, 10_000, "1")] | None = None
    off: tuple[str, ...] = ()
    unplugged: tuple[str, ...] = ()
    aside: tuple[str, ...] = ()
    tray: tuple[TrayCount, ...] = ()
    last_done: str = ""
    in_doubt: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    sign_off: str = ""

    @property
    def n_in_tray(self) -> int:
        """
        Count all that lies in the tray.

        Returns
        -------
        int
            Pieces. [1]
        """
        return sum(count.n for count in self.tray)


def stop_words(device: OpenDevice) -> str:
    """
    Say how far it is to the next safe stop.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        In words.
    """
    if device.is_at_safe_stop:
        return "at a safe stop"
    n = device.n_to_stop
    if n is None:
        return "NOT at a safe stop; none before it is closed"
    return f"NOT at a safe stop; {n} action{'' if n == 1 else 's'} to the next one"

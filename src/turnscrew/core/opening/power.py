"""What is said of power at a line, and what comes back with it?"""

from collections.abc import Iterator

from turnscrew.core.model.device import Device
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.running import MayPower
from turnscrew.core.opening.sentences import stop_after

STATE_WORDS = {
    "off": "device off",
    "adapter out": "adapter out",
    "isolated": "pack disconnected",
}

_MAY = "May be powered"
_MAY_NOT = "Do not power it now"


POWER_OFF = f"Power: {STATE_WORDS['off']}, {STATE_WORDS['adapter out']}."
"""What holds before the first thing done, where a description does not say more."""


def power_words(state: MayPower) -> str:
    """
    Say whether the device may be powered as it lies, how long, and why not.

    Parameters
    ----------
    state
        What the power rules say.

    Returns
    -------
    str
        One sentence.
    """
    why = "; ".join(state.reasons)
    if not state.is_allowed:
        return f"{_MAY_NOT}: {why}."
    limit = f" for at most {state.for_s:g} s" if state.for_s is not None else ""
    with_support = f", {', '.join(state.supports)}" if state.supports else ""
    return f"{_MAY}{limit}{with_support}{f' ({why})' if why else ''}."


def tells_of_power(words: str) -> bool:
    """
    Say whether a sentence tells that the device may, or may not, be powered.

    Parameters
    ----------
    words
        A sentence.

    Returns
    -------
    bool
        True for one that ``power_words`` gives.
    """
    return words.startswith((_MAY, _MAY_NOT))


def need_sentence(doing: Doing) -> str:
    """
    Say which power state a doing asks for.

    Parameters
    ----------
    doing
        The joint, part or move.

    Returns
    -------
    str
        One sentence; empty if any state will do.
    """
    need = doing.power
    if need.state == "any":
        return ""
    wait = f", wait {need.wait_s:g} s" if need.wait_s else ""
    hold = f", {need.hold_key}" if need.hold_key else ""
    return f"Power: {STATE_WORDS[need.state]}{hold}{wait}."


def live_sentences(device: Device) -> Iterator[str]:
    """
    Say what keeps circuits live, at the joint that isolates the device.

    Parameters
    ----------
    device
        The device.

    Yields
    ------
    str
        One sentence for each source.
    """
    for source in device.power.sources:
        until = f", until {source.until}" if source.until else ""
        yield stop_after(f"live by {source.what}: {source.live or 'something'}{until}")


def apart_details(device: Device) -> Iterator[str]:
    """
    Say what follows when the pack is apart: key, wait, what is lost and kept.

    Parameters
    ----------
    device
        The device.

    Yields
    ------
    str
        Sentences for the line that isolates the device.
    """
    rules = device.power
    wait = f"wait {rules.wait_s:g} s" if rules.wait_s else ""
    hold = f"hold: {rules.hold_key}" if rules.hold_key else ""
    then = "; ".join(words for words in (hold, wait) if words)
    if then:
        yield stop_after(f"then {then}")
    if rules.loses:
        yield f"Lost with the pack apart: {'; '.join(rules.loses)}."
    if rules.keeps:
        yield f"Kept: {'; '.join(rules.keeps)}."


def start_details(device: Device) -> Iterator[str]:
    """
    Say what the device needs before it starts, at the joint that ends its isolation.

    Parameters
    ----------
    device
        The device.

    Yields
    ------
    str
        One sentence, or none.
    """
    if device.power.starts:
        yield stop_after(f"to start it again: {device.power.starts}")


def signal_sentences(device: Device) -> tuple[str, ...]:
    """
    Say what lamps and sounds mean when it has power.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    tuple
        One sentence for each.
    """
    return tuple(
        stop_after(f"{signal.shows}: {signal.means}") for signal in device.power.signals
    )

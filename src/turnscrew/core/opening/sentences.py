"""How is one doing said at the bench, in one working line?"""

from turnscrew.core.model.connection import Plug, Socket
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.holding import Bond
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.refit import Renew

UNDO_WORDS = {
    "screw": "Take out", "nut": "Take off", "clip": "Free", "slide": "Slide",
    "hook": "Unhook", "latch": "Open", "pin": "Drive out", "magnet": "Pull off",
    "press": "Ease off", "bond": "Loosen", "fusion": "Open up", "seal": "Take out",
    "thermal": "Part", "contact": "Lift clear", "cover": "Lift", "socket": "Unlatch",
    "plug": "Unplug", "lead": "Unsolder", "unknown": "Undo",
}  # fmt: skip
"""What the hands do to each kind of joint on the way in."""

MAKE_WORDS = {
    "screw": "Refit", "nut": "Refit", "clip": "Press home", "slide": "Slide home",
    "hook": "Hook in", "latch": "Shut", "pin": "Drive in", "magnet": "Lay on",
    "press": "Press home", "bond": "Renew", "fusion": "Close up", "seal": "Lay in",
    "thermal": "Renew", "contact": "Seat", "cover": "Stick on", "socket": "Seat",
    "plug": "Plug in", "lead": "Solder", "unknown": "Make",
}  # fmt: skip
"""What the hands do to each kind of joint on the way back."""


def stop_after(text: str) -> str:
    """
    Make a sentence of words that may lack their full stop.

    Parameters
    ----------
    text
        The words.

    Returns
    -------
    str
        The words with a capital and a full stop.
    """
    text = text.strip()
    if not text:
        return ""
    end = "" if text[-1] in ".!?" else "."
    return text[0].upper() + text[1:] + end


def undo_sentence(name: str, joint: Joint) -> str:
    """
    Say how a joint is undone.

    Parameters
    ----------
    name
        Its name.
    joint
        The joint.

    Returns
    -------
    str
        The working line.
    """
    if joint.says:
        return stop_after(joint.says)
    verb = UNDO_WORDS[joint.kind]
    if isinstance(joint.how, Screw) and joint.how.stays_in:
        verb = "Loosen only"
    return f"{verb} {counted(name, joint)}{_what(joint)}."


def make_sentence(name: str, joint: Joint) -> str:
    """
    Say how a joint is made again.

    Parameters
    ----------
    name
        Its name.
    joint
        The joint.

    Returns
    -------
    str
        The working line.
    """
    verb = MAKE_WORDS[joint.kind]
    if isinstance(joint.how, Screw) and joint.how.stays_in:
        verb = "Tighten"
    return f"{verb} {counted(name, joint)}{_what(joint)}."


def counted(name: str, joint: Joint) -> str:
    """
    Give a name with its count where there is more than one piece.

    Parameters
    ----------
    name
        Name of the joint.
    joint
        The joint.

    Returns
    -------
    str
        Such as ``board screws × 4``.
    """
    return f"{name} × {joint.n_pieces}" if joint.n_pieces > 1 else name


def _what(joint: Joint) -> str:
    match joint.how:
        case Screw(drive=drive, thread=thread, length_mm=length_mm):
            facts = [str(fact) for fact in (drive, thread) if fact is not None]
            if length_mm is not None:
                facts.append(f"{length_mm:g} mm")
            return f" ({', '.join(facts)})" if facts else ""
        case Socket(latch=latch):
            return f" ({latch})" if latch != "none" else " (no latch)"
        case Plug(kind=kind):
            return f" ({kind})"
        case Bond(kind=kind):
            return f" ({kind})"
    return ""


def renew_sentence(renew: Renew) -> str:
    """
    Say what is renewed.

    Parameters
    ----------
    renew
        What takes its place.

    Returns
    -------
    str
        Such as ``T-AD, 1 piece``.
    """
    only = f", only if {renew.only_if}" if renew.only_if else ""
    return f"{renew.spare}, {renew.n:g} {renew.unit}{only}"

"""Which tool does a joint ask for, if nobody has said so?"""

from turnscrew.core.model.connection import Lead, Plug, Socket
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.holding import Bond, Clip, Cover, Fusion, Pin, Press, Seal
from turnscrew.core.model.joint import How, Joint
from turnscrew.core.model.refit import BARE_HAND, ToolUse


def tools_for(joint: Joint) -> tuple[ToolUse, ...]:
    """
    Give the tools that undo a joint: as stated, else the usual one.

    Parameters
    ----------
    joint
        The joint.

    Returns
    -------
    tuple
        Tools, any one of which does it.
    """
    return joint.tools or (ToolUse(usual_tool(joint.how)),)


def refit_tools_for(joint: Joint) -> tuple[ToolUse, ...]:
    """
    Give the tools that make a joint again: as stated, else those that undo it.

    Parameters
    ----------
    joint
        The joint.

    Returns
    -------
    tuple
        Tools, any one of which does it.
    """
    if joint.refit.tools:
        return joint.refit.tools
    if not joint.tools and isinstance(joint.how, (Clip, Cover, Bond)):
        # What is levered or cut open is pressed home by hand.
        return (ToolUse(BARE_HAND),)
    return tools_for(joint)


def usual_tool(how: How | None) -> str:
    """
    Name the usual tool for a kind of joint.

    Parameters
    ----------
    how
        The kind, or ``None`` if not known.

    Returns
    -------
    str
        Name of the tool; ``hand`` for none.
    """
    match how:
        case Screw(drive=drive):
            return f"driver {drive}" if drive else "driver"
        case Nut(across_flats_mm=width_mm):
            return f"spanner {width_mm:g}" if width_mm else "spanner"
        case Clip() | Cover() | Press() | Bond():
            return "plastic card"
        case Socket() | Plug(kind="board to board" | "micro coaxial"):
            return "plastic pick"
        case Seal():
            return "tweezers"
        case Pin():
            return "pin punch"
        case Fusion(kind=kind):
            return "drill" if kind in ("heat-stake", "rivet") else "iron"
    return "iron" if isinstance(how, Lead) else BARE_HAND

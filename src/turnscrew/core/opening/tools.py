"""Which tools do one thing, and is the one in hand among them?"""

from turnscrew.core.model.doing import Doing
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.refit import BARE_HAND, ToolUse
from turnscrew.core.model.tool import refit_tools_for, tools_for
from turnscrew.core.opening.sentences import stop_after


def uses_for(doing: Doing, *, is_refit: bool) -> tuple[ToolUse, ...]:
    """
    Give the tools, any one of which does a thing.

    Parameters
    ----------
    doing
        The joint, part or move.
    is_refit
        It is on the way back.

    Returns
    -------
    tuple
        Tools as stated, else as usual; the bare hand is one of them.
    """
    if isinstance(doing, Joint):
        return refit_tools_for(doing) if is_refit else tools_for(doing)
    stated = doing.refit.tools if is_refit else ()
    return stated or doing.tools or (ToolUse(BARE_HAND),)


def tool_among(uses: tuple[ToolUse, ...], in_hand: str) -> str:
    """
    Name the tool that does a thing; what is in hand by the way does not count.

    Parameters
    ----------
    uses
        Tools, any one of which does it.
    in_hand
        The tool in hand.

    Returns
    -------
    str
        The tool in hand if it is one of them, else ``hand``.
    """
    return in_hand if in_hand in {use.name for use in uses} else BARE_HAND


def tool_words(doing: Doing, in_hand: str) -> tuple[str, ...]:
    """
    Say how the tool in hand is used here, where the description says so.

    Parameters
    ----------
    doing
        The joint, part or move.
    in_hand
        The tool in hand.

    Returns
    -------
    tuple
        Sentences.
    """
    return tuple(
        stop_after(use.says) for use in doing.tools if use.name == in_hand and use.says
    )

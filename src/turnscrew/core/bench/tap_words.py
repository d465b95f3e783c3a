"""Which kind of work and which element of it does the action of a tap name?"""

from collections.abc import Mapping
from typing import Literal

from turnscrew.core.model.times import ELEMENTS

Side = Literal["strip", "refit"]

_WAY_IN: Mapping[str, str] = {"undo": "", "lift": "lift", "aside": "aside"}
"""Verbs of the opening path, with the element of a part."""

_WAY_BACK: Mapping[str, str] = {
    "make": "",
    "refit": "",
    "lay in": "lift",
    "bring back": "aside",
}
"""Verbs of the refit list, with the element of a part."""

_OTHER_WORK: Mapping[str, str] = {
    "turn": "turning and tools",
    "tool": "turning and tools",
    "take up": "turning and tools",
    "test": "tests",
    "measure": "tests",
    "look": "looks and counts",
    "count": "looks and counts",
    "close": "looks and counts",
    "fit": "mending",
    "mend": "mending",
}

OPEN_CLOSE_WORK = ("opening", "refit", "turning and tools", "looks and counts")
"""Kinds of work that opening and closing a device is made of."""


def work_of(action: str) -> str:
    """
    Name the kind of work of an action.

    Parameters
    ----------
    action
        A verb and a kind.

    Returns
    -------
    str
        ``opening``, ``refit``, ``turning and tools``, ``tests``, ``looks and counts``
        ``mending`` or ``other``.
    """
    if _begun(action, _WAY_IN):
        return "opening"
    if _begun(action, _WAY_BACK):
        return "refit"
    verb = _begun(action, _OTHER_WORK)
    return _OTHER_WORK[verb] if verb else "other"


def element_of_action(action: str) -> tuple[str, Side] | None:
    """
    Name the element of work that an action is.

    Parameters
    ----------
    action
        A verb and a kind.

    Returns
    -------
    tuple or None
        Key of the default times and which of its two times; ``None`` if the times know
        no such element.
    """
    if action.split()[:1] == ["turn"]:
        return "turn", "strip"
    ways: tuple[tuple[Mapping[str, str], Side], ...] = (
        (_WAY_IN, "strip"),
        (_WAY_BACK, "refit"),
    )
    for verbs, side in ways:
        verb = _begun(action, verbs)
        element = verbs[verb] or action[len(verb) + 1 :] if verb else ""
        if element in ELEMENTS:
            return element, side
    return None


def _begun(action: str, verbs: Mapping[str, str]) -> str:
    """Give the verb that an action begins with; empty if it is none of these."""
    return next((v for v in verbs if action == v or action.startswith(f"{v} ")), "")

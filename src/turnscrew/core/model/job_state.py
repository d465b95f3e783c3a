"""In which state can the device of a job be, and which may follow?"""

from dataclasses import dataclass
from datetime import date
from typing import Literal, get_args

MainState = Literal[
    "received", "identified", "pre-checked", "diagnosed", "quoted", "kitted", "open",
    "tested open", "closed", "final-tested", "charged and clean", "packed",
    "handed back", "promise over",
]  # fmt: skip
SideState = Literal[
    "isolated", "awaiting answer", "awaiting part", "awaiting administrator",
    "parked open", "soaking", "second look", "donor", "returned unrepaired", "disposed",
]  # fmt: skip

MAIN_STATES: tuple[str, ...] = get_args(MainState)
SIDE_STATES: tuple[str, ...] = get_args(SideState)
STATES = (*MAIN_STATES, *SIDE_STATES)

BEGUN = frozenset(MAIN_STATES[MAIN_STATES.index("open") :])
"""Main states from the first opening on."""

OPENED = ("open", "tested open")
"""Main states in which the device lies open."""

OPEN = (*OPENED, "parked open")
"""The device lies open."""

ENDED = frozenset({"handed back", "promise over", "returned unrepaired", "disposed"})
"""The device is no longer here, or no longer a device."""

LEFT_MENDED = frozenset({"handed back", "promise over"})
"""The device went back with its work done."""

GIVEN_BACK = LEFT_MENDED | {"returned unrepaired"}
"""The device is with its owner again."""

BY_OWN_ACT = ENDED | {"donor"}
"""States that ask for a signature, a receipt or consent beside the move."""

BENCH_DONE = ENDED | {"final-tested", "charged and clean", "packed"}
"""No work at the bench is left."""

CLOSED = BENCH_DONE | {"closed"}
"""Nothing may be left in the tray."""

WAITING = frozenset(SIDE_STATES) - {"donor", "returned unrepaired", "disposed"}
"""States that wait for something: each needs a day, a person and a reason."""

_NEXT: dict[str, frozenset[str]] = {
    "received": frozenset({"identified", "pre-checked", "diagnosed", "quoted"}),
    "identified": frozenset({"pre-checked", "diagnosed", "quoted"}),
    "pre-checked": frozenset({"diagnosed", "quoted"}),
    "diagnosed": frozenset({"quoted"}),
    "quoted": frozenset({"kitted", "final-tested", "donor", "returned unrepaired"}),
    "kitted": frozenset({"open", "final-tested"}),
    "open": frozenset({"tested open"}),
    "tested open": frozenset({"closed", "open"}),
    "closed": frozenset({"final-tested", "open"}),
    "final-tested": frozenset({"charged and clean", "packed", "closed", "open"}),
    "charged and clean": frozenset({"packed", "closed", "open"}),
    "packed": frozenset({"handed back", "open"}),
    "handed back": frozenset({"promise over"}),
    "promise over": frozenset(),
    "donor": frozenset({"disposed", "returned unrepaired"}),
    "returned unrepaired": frozenset(),
    "disposed": frozenset(),
}

_FROM_ANY_BEFORE_OPENING = frozenset({"donor", "returned unrepaired"})


@dataclass(frozen=True)
class Standing:
    """
    Where a device is, who holds it, and what it waits for.

    Parameters
    ----------
    state
        Its state.
    place
        The one place where it is.
    holder
        The one who holds it.
    until
        Day until which it waits; ``None`` if it waits for nothing.
    main
        The last main state it was in.
    reason
        Why, in words.
    is_donor
        Its parts were promised to others, also while it is isolated.
    """

    state: str
    place: str
    holder: str
    until: date | None = None
    main: str = "received"
    reason: str = ""
    is_donor: bool = False


def may_follow(before: Standing | None) -> tuple[str, ...]:
    """
    List the states a device may be brought into.

    Parameters
    ----------
    before
        How it stands; ``None`` if it has not been received.

    Returns
    -------
    tuple[str, ...]
        States in their usual order; the present one among them while it is not ended,
        as place, holder and day may change alone.
    """
    if before is None:
        return ("received",)
    if before.state in ENDED:
        return tuple(s for s in STATES if s in _NEXT.get(before.state, frozenset()))
    if before.state == "donor" or before.is_donor:
        # A pack may swell while its device is stripped; it stays a donor all the same.
        allowed = {before.state, "donor", "isolated", *_NEXT["donor"]}
        return tuple(state for state in STATES if state in allowed)
    allowed = {before.state} | set(_NEXT.get(before.state, frozenset()))
    allowed |= WAITING - {"parked open"}
    if before.main in OPENED:
        allowed |= {"parked open"}
    if before.state in WAITING:
        allowed |= {before.main} | set(_NEXT[before.main])
    if MAIN_STATES.index(before.main) < MAIN_STATES.index("open"):
        allowed |= _FROM_ANY_BEFORE_OPENING
    return tuple(state for state in STATES if state in allowed)


def refusals(before: Standing | None, after: Standing) -> tuple[str, ...]:
    """
    Say what speaks against a move.

    Parameters
    ----------
    before
        How the device stands; ``None`` if it has not been received.
    after
        How it would stand.

    Returns
    -------
    tuple[str, ...]
        One sentence for each objection; empty if it may be done.
    """
    told: list[str] = []
    allowed = may_follow(before)
    if after.state not in allowed:
        wanted = ", ".join(allowed) or "no further state"
        told.append(f"state: found {after.state}, wanted one of {wanted}")
    if not after.place.strip():
        told.append("place: found none, wanted exactly one")
    if not after.holder.strip():
        told.append("holder: found none, wanted exactly one")
    if after.state in WAITING:
        if after.until is None:
            told.append(
                f"day: found none, wanted the day until which it is {after.state}"
            )
        if not after.reason.strip():
            told.append(f"reason: found none, wanted why it is {after.state}")
    return tuple(told)


def lies_open(state: str, main: str) -> bool:
    """
    Say whether a device lies open, also while it waits for something.

    Parameters
    ----------
    state
        The state it is in.
    main
        The last main state it was in.

    Returns
    -------
    bool
        ``True`` if pieces of it may lie in a tray.
    """
    return state in OPEN or (state in WAITING and main in OPENED)


def next_main(before: Standing | None, state: str) -> str:
    """
    Give the main state a device counts as being in after a move.

    Parameters
    ----------
    before
        How it stood.
    state
        The state it is brought into.

    Returns
    -------
    str
        The state if it is a main one, else the one it left.
    """
    if state in MAIN_STATES:
        return state
    return before.main if before else "received"

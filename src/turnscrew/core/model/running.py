"""May an open device have power, for how long, and if not, why not?"""

from collections.abc import Set
from dataclasses import dataclass

from turnscrew.core.model.blocking import comes_away_with, tying_joints
from turnscrew.core.model.device import Device
from turnscrew.core.model.power import MayRun

NOT_PROVIDED = ", not provided for"
"""Behind what is off in no state in which the device may run."""


@dataclass(frozen=True)
class MayPower:
    """
    Whether the device may have power.

    Parameters
    ----------
    is_allowed
        It may.
    for_s
        How long; ``None``: as long as wanted. [s]
    supports
        What must be supported, in words.
    reasons
        Why it may not, or why only so long, in words.
    """

    is_allowed: bool
    for_s: float | None = None
    supports: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()

    @property
    def is_limited(self) -> bool:
        """Say whether anything is to be heeded beyond that it may have power."""
        return not self.is_allowed or bool(self.for_s or self.supports or self.reasons)


def may_power(device: Device, off: Set[str]) -> MayPower:
    """
    Say whether the device may have power with some things off.

    A state counts only if the description allows it; what it does not mention is off
    without leave. Of several allowed states the longest one is given.

    Parameters
    ----------
    device
        The device.
    off
        Names of the parts and joints that are off or moved aside.

    Returns
    -------
    MayPower
        The answer with its reasons.
    """
    if not off:
        return MayPower(is_allowed=True)
    if not device.power.may_run:
        return _refused(("nothing says that it may run open",))
    judged = [(state, _reasons(device, state, off)) for state in device.power.may_run]
    allowed = [state for state, reasons in judged if not reasons]
    if not allowed:
        return _refused(min((reasons for _, reasons in judged), key=len))
    best = max(allowed, key=lambda s: float("inf") if s.for_s is None else s.for_s)
    why = (best.why,) if best.why and best.for_s is not None else ()
    return MayPower(
        is_allowed=True, for_s=best.for_s, supports=best.supports, reasons=why
    )


def _refused(reasons: tuple[str, ...]) -> MayPower:
    return MayPower(is_allowed=False, reasons=reasons)


def _reasons(device: Device, state: MayRun, off: Set[str]) -> tuple[str, ...]:
    missing = [f"{name} is off" for name in state.not_without if name in off]
    leave = _covered_by(device, state)
    cooling = [part for part in device.power.cooling if part in off - leave]
    missing += [f"{name} is off, and it cools" for name in cooling]
    told = {*state.not_without, *cooling}
    extra = sorted(off - leave - told)
    return (*missing, *(f"{name} off{NOT_PROVIDED}" for name in extra))


def _covered_by(device: Device, state: MayRun) -> frozenset[str]:
    """Give all that may be off: what leaves with a part, and what tied it."""
    found = set(state.with_off)
    for name in state.with_off:
        found |= comes_away_with(device, name)
        found.update(tying_joints(device, name))
        for joint, facts in device.joints.items():
            # Covers of fasteners that are off anyway need no leave of their own.
            if found.intersection(getattr(facts.how, "hides", ())):
                found.add(joint)
    return frozenset(found)

"""
What numeric problem does a device pose when certain parts are wanted?

Every removal of the description becomes an action: a joint undone, a part lifted off,
a part moved aside. Times are tenths of a second; a risk is added as the time that
its expected loss would buy at the workshop's rate.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import chain, combinations
from typing import Literal

from turnscrew.core.model.blocking import (
    Condition,
    Removal,
    Waits,
    clearings,
    comes_away_with,
    doing_of,
    removal_named,
    tying_joints,
    waits_of,
)
from turnscrew.core.model.customary import with_customs
from turnscrew.core.model.device import Device, FunctionTest
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import Easier
from turnscrew.core.model.refit import BARE_HAND, ToolUse
from turnscrew.core.model.times import (
    Who,
    element_time,
    joint_refit_s,
    joint_strip_s,
    lift_refit_s,
    lift_strip_s,
)
from turnscrew.core.model.turning import (
    end_posture,
    postures_for,
    postures_in,
    refit_postures_for,
    start_posture,
    turn_needs,
    turn_s,
)
from turnscrew.core.opening.problem import (
    Act,
    Check,
    Cnf,
    Guard,
    Mode,
    OpeningProblem,
)
from turnscrew.core.opening.solve.refitting import refit_knot
from turnscrew.core.opening.tools import uses_for
from turnscrew.errors import BadArgumentError

RISK_S_PER_MINOR = 0.75
"""Seconds of bench time that one minor unit of money buys at 48.00 an hour. [s]"""

EASIER_MOST = 3
"""Extras considered together for one action; more would double its modes each. [1]"""


@dataclass(frozen=True)
class Posed:
    """
    A numeric problem with the way back to the description.

    Parameters
    ----------
    problem
        The problem; costs in tenths of a second.
    removals
        For each action's name, what it removes.
    waits
        What every removal waits for by its description; customs cover nothing.
    risk_s_per_minor
        Time that one minor unit of expected loss counts as. [s]
    """

    problem: OpeningProblem
    removals: Mapping[str, Removal]
    waits: Waits
    risk_s_per_minor: float = RISK_S_PER_MINOR


def risk_s(doing: Doing, risk_s_per_minor: float) -> float:
    """
    Give the time the expected loss of one doing counts as.

    Parameters
    ----------
    doing
        The joint, part or move.
    risk_s_per_minor
        Time that one minor unit of expected loss counts as. [s]

    Returns
    -------
    float
        The time; zero where no risk is known. [s]
    """
    if doing.risk is None:
        return 0.0
    return doing.risk.p * doing.risk.loss_minor * risk_s_per_minor


def removal_wanted(device: Device, name: str) -> Removal:
    """
    Say which removal gets a wanted part or joint off.

    A part that only ever leaves inside another stands for that other one; a part
    named with ``aside`` is moved aside.

    Parameters
    ----------
    device
        The device.
    name
        What is wanted.

    Returns
    -------
    Removal
        The removal; its part may be one that never comes off.

    Raises
    ------
    BadArgumentError
        If the description has no part and no joint of that name.
    """
    removal = removal_named(device, name)
    moved = name.removesuffix(" aside")
    if removal is None and moved != name and moved in device.moves:
        return Removal("aside", moved)
    if removal is None:
        raise BadArgumentError(f"no part or joint named {name}")
    if removal.kind == "part" and not _is_tied(device, name):
        for outer in device.parts:
            if outer != name and name in comes_away_with(device, outer):
                return removal_wanted(device, outer)
    return removal


def _is_tied(device: Device, name: str) -> bool:
    return any(name in joint.holds for joint in device.joints.values())


def pose(
    device: Device,
    reach: tuple[str, ...],
    *,
    already_off: tuple[str, ...] = (),
    stays: tuple[str, ...] = (),
    risk_s_per_minor: float = RISK_S_PER_MINOR,
    pace: Who = "typical",
) -> Posed:
    """
    Pose the problem of reaching parts of a device.

    Parameters
    ----------
    device
        The device, in one revision.
    reach
        Parts and joints wanted off; none of them may be fixed.
    already_off
        Parts and joints that are off before the work begins.
    stays
        Parts and joints that cannot be moved in this very device.
    risk_s_per_minor
        Time that one minor unit of expected loss counts as. [s]
    pace
        Whose times are taken.

    Returns
    -------
    Posed
        The problem and the meaning of its actions.
    """
    waits = waits_of(device, stays)
    names = {removal: str(removal) for removal in waits}
    poser = _Poser(device, waits, names, risk_s_per_minor, pace)
    checks = tuple(
        poser.check(name, test)
        for name, test in device.tests.items()
        if test.while_open and test.before
    )
    gates = _gates(device)
    actions = tuple(poser.act(removal, gates) for removal in waits)
    tools = poser.tools(actions, checks)
    postures = tuple(postures_in(device))
    problem = OpeningProblem(
        name=device.name,
        unit="0.1 s",
        postures=postures,
        posture_cost=tuple(
            tuple(_tenths(turn_s(device, a, b)) for b in postures) for a in postures
        ),
        guards=tuple(poser.guards(postures)),
        tools=tools,
        tool_cost=tuple(
            tuple(0 if a == b else poser.fetch(b) for b in tools) for a in tools
        ),
        start_posture=start_posture(device),
        start_tool=tools[0],
        end_posture=end_posture(device),
        targets=tuple(
            dict.fromkeys(names[removal_wanted(device, name)] for name in reach)
        ),
        actions=actions,
        checks=checks,
        already_off=tuple(
            dict.fromkeys(names[removal_wanted(device, name)] for name in already_off)
        ),
    )
    removals = {name: removal for removal, name in names.items()}
    posed = Posed(problem, removals, waits, risk_s_per_minor)
    return _by_custom(poser, posed, with_customs(device, waits))


def _by_custom(poser: "_Poser", posed: Posed, waits: Waits) -> Posed:
    """Ask for customs too, but for those that keep something from going back."""
    while True:
        actions = tuple(
            replace(act, needs=poser.needs(waits[posed.removals[act.name]]))
            for act in posed.problem.actions
        )
        problem = replace(posed.problem, actions=actions)
        knot = refit_knot(problem) if waits != posed.waits else ()
        loosened = {
            removal: posed.waits[removal] if str(removal) in knot else conditions
            for removal, conditions in waits.items()
        }
        if loosened == waits:
            return replace(posed, problem=problem)
        waits = loosened


def _gates(device: Device) -> dict[str, tuple[str, ...]]:
    """For each part or joint, the tests that come before it goes back."""
    found: dict[str, tuple[str, ...]] = {}
    for name, test in device.tests.items():
        if test.while_open:
            for gated in test.before:
                found[gated] = (*found.get(gated, ()), name)
    return found


def _tenths(seconds: float) -> int:
    return round(10 * seconds)


@dataclass(frozen=True)
class _Poser:
    """Writes the parts of one problem."""

    device: Device
    waits: Waits
    names: Mapping[Removal, str]
    risk_s_per_minor: float
    pace: Who

    def needs(self, conditions: Iterable[Condition]) -> Cnf:
        """Write what an action waits for."""
        return self._cnf(condition.any_of for condition in conditions)

    def act(self, removal: Removal, gates: Mapping[str, tuple[str, ...]]) -> Act:
        """Write one action."""
        doing = doing_of(self.device, removal)
        return Act(
            name=self.names[removal],
            needs=self.needs(self.waits[removal]),
            modes=tuple(self._modes(removal, doing, is_refit=False)),
            refit_modes=tuple(self._modes(removal, doing, is_refit=True)),
            refit_after=self._refit_after(removal, doing),
            refit_checks=gates.get(removal.name, ()),
        )

    def check(self, name: str, test: FunctionTest) -> Check:
        """Write one check."""
        tool = test.tools[0].name if test.tools else BARE_HAND
        return Check(
            name=name,
            postures=test.postures or tuple(postures_in(self.device)),
            tool=None if tool == BARE_HAND else tool,
            cost=_tenths(test.seconds),
            fitted=self._actions(test.needs_fitted),
            applies_if_removed=self._actions(test.due_if),
            rework=tuple(
                (action, _tenths(seconds))
                for thing, seconds in test.rework.items()
                for action in self._actions((thing,))
            ),
        )

    def guards(self, postures: tuple[str, ...]) -> Iterable[Guard]:
        """Write the conditions on direct turns."""
        for start in postures:
            for end in postures:
                if start == end:
                    continue
                needs = self._cnf(
                    clearings(self.device, need)
                    for need in turn_needs(self.device, start, end)
                )
                if needs:
                    yield Guard(start, end, needs)

    def tools(
        self, actions: tuple[Act, ...], checks: tuple[Check, ...]
    ) -> tuple[str, ...]:
        """List the tools used, the empty hand first."""
        modes = chain.from_iterable((*a.modes, *a.refit_modes) for a in actions)
        used = [mode.tool for mode in modes] + [check.tool for check in checks]
        return (BARE_HAND, *dict.fromkeys(tool for tool in used if tool))

    def fetch(self, tool: str) -> int:
        """Give the cost of taking up a tool."""
        if tool == BARE_HAND:
            return 0
        stated = self.device.tools.get(tool)
        if stated is not None and stated.fetch_s is not None:
            return _tenths(stated.fetch_s)
        return _tenths(element_time("tool", self.device.times).strip_s)

    def _cnf(self, groups: Iterable[tuple[Removal, ...]]) -> Cnf:
        found = []
        for group in groups:
            known = tuple(self.names[r] for r in group if r in self.names)
            if known:
                found.append(known)
        return tuple(dict.fromkeys(found))

    def _actions(self, things: Iterable[str]) -> tuple[str, ...]:
        """Name the actions that take things off; what never comes off has none."""
        found = []
        for thing in things:
            removal = removal_named(self.device, thing)
            if removal is not None and removal in self.names:
                found.append(self.names[removal])
        return tuple(dict.fromkeys(found))

    def _modes(
        self, removal: Removal, doing: Doing, *, is_refit: bool
    ) -> Iterable[Mode]:
        wanted = refit_postures_for if is_refit else postures_for
        postures = wanted(self.device, removal.name, doing)
        for use in uses_for(doing, is_refit=is_refit):
            full = _tenths(self._seconds(removal, doing, use, is_refit=is_refit))
            tool = None if use.name == BARE_HAND else use.name
            for extras in _subsets(doing.easier[:EASIER_MOST]):
                saved = sum(e.refit_saves_s if is_refit else e.saves_s for e in extras)
                when = self._cnf(
                    (r,)
                    for e in extras
                    if (r := removal_named(self.device, e.off)) is not None
                )
                if len(when) == len(extras) and (saved or not extras):
                    yield Mode(postures, tool, max(0, full - _tenths(saved)), when)

    def _seconds(
        self, removal: Removal, doing: Doing, use: ToolUse, *, is_refit: bool
    ) -> float:
        own = self.device.times
        if isinstance(doing, Joint):
            reckon = joint_refit_s if is_refit else joint_strip_s
            seconds = reckon(doing, own, use, self.pace)
        else:
            lift = lift_refit_s if is_refit else lift_strip_s
            element: Literal["lift", "aside"] = (
                "lift" if removal.kind == "part" else "aside"
            )
            seconds = lift(doing, own, element, self.pace)
            stated = use.refit_s if is_refit else use.strip_s
            seconds = seconds if stated is None else stated
        if is_refit:
            return seconds
        return seconds + risk_s(doing, self.risk_s_per_minor)

    def _refit_after(self, removal: Removal, doing: Doing) -> tuple[str, ...]:
        """Name what goes back first: as stated, and cables before their cover."""
        things = list(doing.refit.after)
        for cable in self.device.cables.values():
            if removal.name in cable.dress_before and removal.kind == "part":
                # A socket on the part itself can only be made once the part is in;
                # there the dressing is told as a sentence.
                tied = tying_joints(self.device, removal.name)
                things += [joint for joint in cable.ends if joint not in tied]
        own = self.names[removal]
        return tuple(name for name in self._actions(things) if name != own)


def _subsets(extras: tuple[Easier, ...]) -> Iterable[tuple[Easier, ...]]:
    for size in range(len(extras) + 1):
        yield from combinations(extras, size)

"""
How is a leg laid out for what comes off?

Names of actions become item bits; each item comes after all it needs;
what is doable where is written down for every place.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from turnscrew.core.opening.solve.compact import (
    Compact,
    CompactMode,
    Masks,
    Table,
    bits_of,
)
from turnscrew.core.opening.solve.leg import Entry, Item, Leg, Scope


def way_in(problem: Compact, scope: Scope) -> Leg | None:
    """
    Lay out the way in for a scope.

    Parameters
    ----------
    problem
        The problem in bits.
    scope
        What comes off.

    Returns
    -------
    Leg | None
        The leg; ``None`` if it cannot be walked.
    """
    items = [
        Item(
            a,
            () if problem.already_off >> a & 1 else problem.acts[a].needs,
            problem.acts[a].modes,
        )
        for a in bits_of(scope.certain)
    ]
    starts = [(problem.start_posture, problem.start_tool)]
    return _laid_out(problem, scope, items, starts, is_back=False)


def way_back(problem: Compact, scope: Scope) -> Leg | None:
    """
    Lay out the way back, against the clock, for a scope.

    Parameters
    ----------
    problem
        The problem in bits.
    scope
        What has come off.

    Returns
    -------
    Leg | None
        The leg; ``None`` if it cannot be walked.
    """
    starts = [(problem.end_posture, tool) for tool in range(len(problem.changes))]
    items = _back_items(problem, scope)
    return _laid_out(problem, scope, items, starts, is_back=True)


def knot_on_the_way_back(problem: Compact, off: int) -> list[int]:
    """
    Find what can never go back because it waits for itself in the end.

    Parameters
    ----------
    problem
        The problem in bits.
    off
        Actions removed.

    Returns
    -------
    list[int]
        Indices of the actions, and ``-1 - index`` of the checks, that wait for one
        another; empty if the order alone bars nothing.
    """
    scope = Scope(off)
    _, left = _sorted_out(_back_items(problem, scope), scope)
    return [item.act for item in left]


def _back_items(problem: Compact, scope: Scope) -> list[Item]:
    due = due_checks(problem, scope.certain)
    items = []
    for a in bits_of(scope.certain):
        act = problem.acts[a]
        # Against the clock, what is refitted earlier comes later: so an action
        # comes before those it waits for, and after the checks that want it fitted.
        before = tuple(
            1 << b
            for b in bits_of(scope.certain)
            if problem.acts[b].refit_after >> a & 1
        )
        wanted = sum(1 << k for k in due if problem.checks[k].fitted >> a & 1)
        items.append(Item(a, act.needs + before, act.refit_modes, wanted))
    for k in due:
        closers = tuple(
            1 << a
            for a in bits_of(scope.certain)
            if problem.acts[a].refit_checks >> k & 1
        )
        items.append(Item(-1 - k, closers, (problem.checks[k].mode,)))
    return items


def due_checks(problem: Compact, off: int) -> list[int]:
    """
    List the checks that fall due once a set has been removed.

    Parameters
    ----------
    problem
        The problem in bits.
    off
        Actions removed.

    Returns
    -------
    list[int]
        Indices of the due checks.
    """
    return [
        k
        for k, check in enumerate(problem.checks)
        if not check.applies or check.applies & off
    ]


def _laid_out(
    problem: Compact,
    scope: Scope,
    items: list[Item],
    starts: list[tuple[int, int]],
    *,
    is_back: bool,
) -> Leg | None:
    items, left = _sorted_out(items, scope)
    if left:
        return None
    words = _ItemWords({item.act: 1 << i for i, item in enumerate(items)}, scope)
    begun = 0
    if not is_back:
        begun = _union(words.bit[a] for a in bits_of(problem.already_off))
    modes = [words.open_modes(item.modes) for item in items]
    if any(not mine and not begun >> i & 1 for i, mine in enumerate(modes)):
        return None
    least = [
        0 if begun >> i & 1 else min(mode.cost for mode in mine)
        for i, mine in enumerate(modes)
    ]
    need_all, need_any = words.needs(items)
    rework = _rework(problem, scope, words) if is_back else []
    turn = _flipped if is_back else tuple
    leg = Leg(
        items=items,
        need_all=need_all,
        need_any=need_any,
        least=least,
        base=sum(least),
        begun=begun,
        full=(1 << len(items)) - 1,
        turns=turn(problem.turns),
        guards=[
            (
                end if is_back else start,
                start if is_back else end,
                words.masks_or_none(needs),
            )
            for start, end, needs in problem.guards
        ],
        changes=turn(problem.changes),
        starts=starts,
        modes=modes,
        late=_union(check for _, check, _ in rework),
        rework=rework,
    )
    _fill_places(leg)
    return leg


def _rework(
    problem: Compact, scope: Scope, words: "_ItemWords"
) -> list[tuple[int, int, int]]:
    """List which items grow dearer once which check is done on this leg."""
    return [
        (words.bit[a.bit_length() - 1], words.bit[-1 - k], extra)
        for k, check in enumerate(problem.checks)
        if -1 - k in words.bit
        for a, extra in check.rework
        if a & scope.certain and extra
    ]


def _fill_places(leg: Leg) -> None:
    """Write down for every place (posture and tool) what can be done there."""
    n_tools = leg.n_tools
    for posture in range(len(leg.turns)):
        for tool in range(n_tools):
            cheap: list[Entry] = []
            dear: list[tuple[Entry, int, int]] = []
            for i, modes in enumerate(leg.modes):
                for mode in modes:
                    if not mode.postures >> posture & 1 or mode.tool not in (-1, tool):
                        continue
                    entry = (1 << i, leg.need_all[i], leg.need_any[i], mode.when)
                    if mode.cost == leg.least[i] and not leg.late >> i & 1:
                        cheap.append(entry)
                    else:
                        dear.append((entry, mode.cost - leg.least[i], mode.index))
            leg.ready_here.append(cheap)
            leg.dear_here.append(dear)
            leg.cheap_here.append(_union(entry[0] for entry in cheap))
            leg.sure_here.append(_union(e[0] for e in cheap if not e[3]))
            leg.mask_here.append(
                leg.cheap_here[-1] | _union(entry[0][0] for entry in dear)
            )


def _sorted_out(items: list[Item], scope: Scope) -> tuple[list[Item], list[Item]]:
    """Sort so that each item comes after what it needs; what knots is left over."""
    done, checks_done = 0, 0
    ordered: list[Item] = []
    left = items
    while left:
        now: list[Item] = []
        later: list[Item] = []
        for item in left:
            is_free = (
                all(mask & (done | scope.open) for mask in item.needs)
                and not item.after_checks & ~checks_done
            )
            (now if is_free else later).append(item)
        if not now:
            break
        for item in now:
            if item.act >= 0:
                done |= 1 << item.act
            else:
                checks_done |= 1 << (-1 - item.act)
        ordered += now
        left = later
    return ordered, left


@dataclass(frozen=True)
class _ItemWords:
    """Translates masks over actions into masks over items."""

    bit: dict[int, int]
    scope: Scope

    def needs(self, items: list[Item]) -> tuple[list[int], list[Masks]]:
        """Give per item what is needed outright and what in one of several ways."""
        need_all, need_any = [], []
        for item in items:
            masks = self.masks_or_none(item.needs) or ()
            outright = [mask for mask in masks if not mask & (mask - 1)]
            checks = [self.bit[-1 - k] for k in bits_of(item.after_checks)]
            need_all.append(_union([*outright, *checks]))
            need_any.append(tuple(mask for mask in masks if mask & (mask - 1)))
        return need_all, need_any

    def masks_or_none(self, needs: Masks) -> Masks | None:
        found = []
        for mask in needs:
            if mask & self.scope.open:
                continue
            mask &= self.scope.certain
            if not mask:
                return None
            found.append(_union(self.bit[a] for a in bits_of(mask)))
        return tuple(dict.fromkeys(found))

    def open_modes(self, modes: tuple[CompactMode, ...]) -> list[CompactMode]:
        found = []
        for mode in modes:
            when = self.masks_or_none(mode.when)
            if when is not None:
                found.append(
                    CompactMode(mode.postures, mode.tool, mode.cost, when, mode.index)
                )
        return found


def _union(masks: Iterable[int]) -> int:
    found = 0
    for mask in masks:
        found |= mask
    return found


def _flipped(table: Table) -> Table:
    return tuple(zip(*table, strict=True))

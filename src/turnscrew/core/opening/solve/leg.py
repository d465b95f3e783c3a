"""
What must be done on one leg of the round trip, and what is within reach where?

The way in starts at the closed device and removes.
The way back is reckoned from its end: it starts at the closed device too,
runs against the clock and grows the set of parts that are still off.
So both legs are the same question: bring a set of items from none to all.
An item is an action, or a check on the way back.
"""

from dataclasses import dataclass, field

from turnscrew.core.opening.solve.compact import (
    FAR,
    Compact,
    CompactMode,
    Masks,
    bits_of,
    closed,
    holds,
)


@dataclass(frozen=True)
class Scope:
    """
    What is known to come off.

    Parameters
    ----------
    certain
        Actions that come off for certain.
    open
        Actions whose coming off is undecided; conditions on them are waived.
    """

    certain: int
    open: int = 0


@dataclass
class Item:
    """
    One thing to do on a leg.

    Parameters
    ----------
    act
        Index of the action, or ``-1 - index`` of the check.
    needs
        Masks over actions, then over items once the leg is laid out.
    modes
        The modes that can ever be open.
    after_checks
        Checks (bits) that must have come before on this leg.
    """

    act: int
    needs: Masks
    modes: tuple[CompactMode, ...]
    after_checks: int = 0


Entry = tuple[int, int, Masks, Masks]
"""Bit, bits all needed, masks of alternatives, condition of the mode."""


@dataclass
class Leg:
    """
    One leg, laid out in item bits.

    Parameters
    ----------
    is_back
        True for the way back.
    items
        The items, each after all it needs.
    need_all
        Per item, bits that must all be done before.
    need_any
        Per item, masks of which one bit each must be done before.
    least
        Per item, cost of its cheapest mode.
    base
        Sum of the cheapest costs of what is not done at the start.
    begun
        Items done at the start.
    full
        All items.
    turns
        Direct turns on this leg.
    guards
        Guards of direct turns, in item bits; ``None`` where never open.
    changes
        Tool changes on this leg, closed.
    starts
        Pairs of posture and tool in which the leg may start.
    ready_here
        Per place, the entries doable there at their cheapest.
    dear_here
        Per place, the entries doable there only at a higher cost, with that surplus.
    mask_here
        Per place, the bits of both kinds.
    cheap_here
        Per place, the bits doable at their cheapest.
    sure_here
        Per place, the bits doable at their cheapest without any condition of a mode.
    late
        Checks (bits) that make later items dearer once they are done on this leg.
    rework
        Triples of item bit, check bit and surplus.
    """

    is_back: bool
    items: list[Item]
    need_all: list[int]
    need_any: list[Masks]
    least: list[int]
    base: int
    begun: int
    full: int
    turns: tuple[tuple[int, ...], ...]
    guards: list[tuple[int, int, Masks | None]]
    changes: tuple[tuple[int, ...], ...]
    starts: list[tuple[int, int]]
    modes: list[list[CompactMode]]
    late: int
    rework: list[tuple[int, int, int]]
    ready_here: list[list[Entry]] = field(default_factory=list)
    dear_here: list[list[tuple[Entry, int, int]]] = field(default_factory=list)
    mask_here: list[int] = field(default_factory=list)
    cheap_here: list[int] = field(default_factory=list)
    sure_here: list[int] = field(default_factory=list)
    distances: dict[int, tuple[tuple[int, ...], ...]] = field(default_factory=dict)

    @property
    def n_tools(self) -> int:
        """Count the tools. [1]."""
        return len(self.changes)

    def ways(self, done: int) -> tuple[tuple[int, ...], ...]:
        """
        Give the cheapest turns between all postures while a set is done.

        Parameters
        ----------
        done
            Items done.

        Returns
        -------
        tuple[tuple[int, ...], ...]
            Cost by row (from) and column (to).
        """
        shut = 0
        for i, (_, _, needs) in enumerate(self.guards):
            if needs is None or not holds(needs, done):
                shut |= 1 << i
        table = self.distances.get(shut)
        if table is None:
            rows = [list(row) for row in self.turns]
            for i in bits_of(shut):
                start, end, _ = self.guards[i]
                rows[start][end] = FAR
            table = closed(tuple(tuple(row) for row in rows))
            self.distances[shut] = table
        return table

    def absorb(self, done: int, place: int) -> int:
        """
        Do at once all that is free of set-up here and at its cheapest.

        Safe by exchange: conditions are only ever helped by doing more,
        and set-up costs obey the triangle rule.

        Parameters
        ----------
        done
            Items done so far.
        place
            Posture and tool in hand, as ``posture * n_tools + tool``.

        Returns
        -------
        int
            Items done afterwards.
        """
        left = self.cheap_here[place] & ~done
        if not left:
            return done
        again = True
        while again:
            again = False
            for bit, need, alternatives, when in self.ready_here[place]:
                if bit & done or need & ~done:
                    continue
                for mask in alternatives:
                    if not mask & done:
                        break
                else:
                    for mask in when:
                        if not mask & done:
                            break
                    else:
                        done |= bit
                        again = True
        return done

    def ready(self, done: int) -> int:
        """
        Find the items whose needs hold and which are not done.

        Parameters
        ----------
        done
            Items done.

        Returns
        -------
        int
            Bits of the ready items.
        """
        found = 0
        left = self.full & ~done
        while left:
            bit = left & -left
            left ^= bit
            i = bit.bit_length() - 1
            if not self.need_all[i] & ~done and holds(self.need_any[i], done):
                found |= bit
        return found


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
    bit = {item.act: 1 << i for i, item in enumerate(items)}
    words = _ItemWords(bit, scope)
    n = len(items)
    need_all, need_any, modes = [0] * n, [()] * n, []
    begun = 0
    for i, item in enumerate(items):
        for mask in words.masks(item.needs):
            if mask & (mask - 1):
                need_any[i] += (mask,)
            else:
                need_all[i] |= mask
        for k in bits_of(item.after_checks):
            need_all[i] |= bit[-1 - k]
        modes.append(words.open_modes(item.modes))
        if not is_back and item.act >= 0 and problem.already_off >> item.act & 1:
            begun |= 1 << i
        elif not modes[i]:
            return None
    least = [
        0 if begun >> i & 1 else min(mode.cost for mode in modes[i]) for i in range(n)
    ]
    rework = []
    if is_back:
        for k in range(len(problem.checks)):
            if -1 - k in bit:
                rework += [
                    (bit[a.bit_length() - 1], bit[-1 - k], extra)
                    for a, extra in problem.checks[k].rework
                    if a & scope.certain and extra
                ]
    guards = [
        ((end, start) if is_back else (start, end)) + (words.masks_or_none(needs),)
        for start, end, needs in problem.guards
    ]
    leg = Leg(
        is_back=is_back,
        items=items,
        need_all=need_all,
        need_any=need_any,
        least=least,
        base=sum(least),
        begun=begun,
        full=(1 << n) - 1,
        turns=_flipped(problem.turns) if is_back else problem.turns,
        guards=guards,
        changes=_flipped(problem.changes) if is_back else problem.changes,
        starts=starts,
        modes=modes,
        late=_union(check for _, check, _ in rework),
        rework=rework,
    )
    _fill_places(leg)
    return leg


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
            is_free = all(
                mask & (done | scope.open) for mask in item.needs
            ) and not item.after_checks & ~checks_done
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

    def masks(self, needs: Masks) -> Masks:
        return self.masks_or_none(needs) or ()

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


def _union(masks) -> int:
    found = 0
    for mask in masks:
        found |= mask
    return found


def _flipped(table):
    return tuple(zip(*table, strict=True))

"""
What can come off at all, and what certainly must?

Both are fixpoints: what can come off grows from nothing,
what must come off first shrinks from everything.
"""

from dataclasses import dataclass

from turnscrew.core.opening.solve.compact import (
    FAR,
    Compact,
    CompactMode,
    bits_of,
    holds,
)


def removable(problem: Compact, shut: int) -> int:
    """
    Find what can come off at all, costs and order of turns aside.

    Parameters
    ----------
    problem
        The problem in bits.
    shut
        Actions that stay on.

    Returns
    -------
    int
        Bits of the actions that can come off.
    """
    done = problem.already_off
    postures = 1 << problem.start_posture
    left = ((1 << problem.n) - 1) & ~shut & ~done
    again = True
    while again:
        again = False
        grown = _postures(problem, postures, done)
        if grown != postures:
            postures, again = grown, True
        for a in bits_of(left):
            act = problem.acts[a]
            if holds(act.needs, done) and any(
                mode.postures & postures and holds(mode.when, done)
                for mode in act.modes
            ):
                done |= 1 << a
                left ^= 1 << a
                again = True
    return done


def _postures(problem: Compact, reached: int, done: int) -> int:
    shut = {
        (start, end) for start, end, needs in problem.guards if not holds(needs, done)
    }
    for start in bits_of(reached):
        for end, cost in enumerate(problem.turns[start]):
            if cost < FAR and (start, end) not in shut:
                reached |= 1 << end
    return reached


@dataclass(frozen=True)
class Musts:
    """
    What must come off with each action, and what that costs at least.

    Parameters
    ----------
    before
        Per action, itself and all that must come off for it.
    least
        Per action, its cheapest removal and refit. [problem's unit]
    """

    before: tuple[int, ...]
    least: tuple[int, ...]

    def cost(self, mask: int) -> int:
        """
        Add up the cheapest costs of a set.

        Parameters
        ----------
        mask
            The set.

        Returns
        -------
        int
            The sum. [problem's unit]
        """
        return sum(self.least[a] for a in bits_of(mask))


def musts(problem: Compact, can: int, *, one_way: bool) -> Musts:
    """
    Find for every action what certainly comes off with it.

    Parameters
    ----------
    problem
        The problem in bits.
    can
        What can come off at all.
    one_way
        True if only removals count.

    Returns
    -------
    Musts
        The sets, as the greatest fixpoint, and their costs.
    """
    everything = (1 << problem.n) - 1
    before = [everything if can >> a & 1 else 1 << a for a in range(problem.n)]
    needs = [
        ()
        if one_way and problem.already_off >> a & 1
        else tuple(mask & can for mask in act.needs)
        for a, act in enumerate(problem.acts)
    ]
    again = True
    while again:
        again = False
        for a in bits_of(can):
            found = 1 << a
            for mask in needs[a]:
                found |= _common(before, mask, everything)
            if found != before[a]:
                before[a] = found
                again = True
    least = [
        _least(act.modes) * (not problem.already_off >> a & 1)
        + _least(act.refit_modes) * (not one_way)
        for a, act in enumerate(problem.acts)
    ]
    return Musts(tuple(before), tuple(least))


def _common(before: list[int], mask: int, everything: int) -> int:
    for b in bits_of(mask):
        everything &= before[b]
    return everything


def _least(modes: tuple[CompactMode, ...]) -> int:
    return min((mode.cost for mode in modes), default=0)

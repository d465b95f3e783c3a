"""
What is the cheapest way in and way back?

Method: what comes off is settled by a best-first search over the open choices;
for each settled set both legs are searched by A* over absorbed states,
the way back against the clock, with turns and tool changes bounded apart and exactly.
See ``docs/methods.md``.
"""

from collections.abc import Callable

from turnscrew.core.opening.answer import NumericAnswer, Status
from turnscrew.core.opening.problem import OpeningProblem
from turnscrew.core.opening.solve.choices import ChoiceSearch
from turnscrew.core.opening.solve.compact import Compact, bits_of, compact, holds
from turnscrew.core.opening.solve.reach import musts, removable
from turnscrew.core.opening.solve.refitting import knot_names
from turnscrew.core.opening.solve.write_out import moves_of

__all__ = ["solve"]


def solve(
    problem: OpeningProblem,
    *,
    one_way: bool = False,
    is_time_up: Callable[[], bool] = lambda: False,
) -> NumericAnswer:
    """
    Find the cheapest plan and say how far it is proven.

    Parameters
    ----------
    problem
        The numeric problem.
    one_way
        True for the way in alone.
    is_time_up
        Asked now and then; once true, the best plan so far is given with its bound.

    Returns
    -------
    NumericAnswer
        The plan, or why there is none.
    """
    bits = compact(problem)
    can = removable(bits, 0)
    if bits.targets & ~can:
        return _unreachable(bits, can)
    trip = ChoiceSearch(bits, can, is_time_up, one_way=one_way).run()
    if trip.inward is None:
        return _not_closed(problem, bits, can, one_way=one_way)
    plan = moves_of(problem, trip)
    status: Status = "optimal" if trip.bound >= trip.total else "bounded"
    return NumericAnswer(status, trip.total, min(trip.bound, trip.total), plan)


def _not_closed(
    problem: OpeningProblem, bits: Compact, can: int, *, one_way: bool
) -> NumericAnswer:
    """Say why what comes off cannot all go back, and name the knot if there is one."""
    if one_way:
        reason = "no order of turns and tools gets there"
        return NumericAnswer("impossible", None, None, (), (), reason)
    wanted = musts(bits, can, one_way=False).before
    off = bits.targets | bits.already_off
    for a in bits_of(off):
        off |= wanted[a]
    knot = knot_names(problem, bits, off)
    reason = "it can come off, but cannot all go back"
    if knot:
        reason += f"; on the way back these wait for one another: {', '.join(knot)}"
    stuck = tuple(name for name in knot if name in bits.names)
    return NumericAnswer("impossible", None, None, (), stuck, reason)


def _unreachable(bits: Compact, can: int) -> NumericAnswer:
    """Name what bars the way: what is wanted, and the ring or gap behind it."""
    stuck = bits.targets & ~can
    while True:
        grown = stuck
        for a in bits_of(stuck):
            for mask in bits.acts[a].needs:
                if not mask & can:
                    grown |= mask
        if grown == stuck:
            break
        stuck = grown
    names = [bits.names[a] for a in bits_of(stuck)]
    waiting = [a for a in bits_of(stuck) if not holds(bits.acts[a].needs, can)]
    if waiting:
        reason = "these wait for one another: " + ", ".join(
            bits.names[a] for a in waiting
        )
    else:
        reason = "there is no posture and tool in which these can come off: " + (
            ", ".join(names)
        )
    return NumericAnswer("impossible", None, None, (), tuple(names), reason)

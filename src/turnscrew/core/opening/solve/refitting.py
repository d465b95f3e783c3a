"""Can all that comes off go back, and if not, what waits for itself?"""

from turnscrew.core.opening.problem import OpeningProblem
from turnscrew.core.opening.solve.compact import Compact, compact
from turnscrew.core.opening.solve.layout import knot_on_the_way_back
from turnscrew.core.opening.solve.reach import removable


def refit_knot(problem: OpeningProblem) -> tuple[str, ...]:
    """
    Find what can never go back once everything removable is off.

    Parameters
    ----------
    problem
        The numeric problem.

    Returns
    -------
    tuple[str, ...]
        Names of actions and checks that wait for one another; empty if none do.
    """
    bits = compact(problem)
    return knot_names(problem, bits, removable(bits, 0))


def knot_names(problem: OpeningProblem, bits: Compact, off: int) -> tuple[str, ...]:
    """
    Name the knot on the way back of a set.

    Parameters
    ----------
    problem
        The problem with its names.
    bits
        The same in bits.
    off
        Actions removed.

    Returns
    -------
    tuple[str, ...]
        Names; a check bears the word ``check`` before its name.
    """
    knot = knot_on_the_way_back(bits, off)
    names = [bits.names[a] for a in knot if a >= 0]
    checks = [f"check {problem.checks[-1 - a].name}" for a in knot if a < 0]
    return tuple(names + checks)

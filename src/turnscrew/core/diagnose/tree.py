"""What is an explicit decision tree worth, rolled back from its ends?"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Choice:
    """
    A choice among actions.

    Parameters
    ----------
    actions
        For each action its cost [cost] and, for each of its outcomes, the probability
        [1] and what follows.
    """

    actions: dict[str, "tuple[float, tuple[tuple[float, Choice | float], ...]]"]


def rolled_back(choice: Choice) -> dict[str, float]:
    """
    Reckon the expected cost of each action of a choice.

    Parameters
    ----------
    choice
        The choice.

    Returns
    -------
    dict
        The expected cost by action, each followed by the best. [cost]
    """
    return {
        name: cost + sum(p * _least(after) for p, after in outcomes)
        for name, (cost, outcomes) in choice.actions.items()
    }


def _least(after: Choice | float) -> float:
    if isinstance(after, Choice):
        return min(rolled_back(after).values())
    return after

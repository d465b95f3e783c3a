"""How do the chances of the faults move along a strategy, one fault at a time?"""

from collections.abc import Iterator, Mapping

from turnscrew.core.diagnose.answer import WORKS, Policy, Step
from turnscrew.core.diagnose.problem import DiagnosisProblem
from turnscrew.core.model.faults import NOTHING_WRONG

Weights = Mapping[str, float]
"""Weight of each fault, and of nothing wrong (any more) [1]."""


class Walk:
    """
    The steps of strategies for one problem.

    Parameters
    ----------
    problem
        The problem, one fault at a time.
    """

    def __init__(self, problem: DiagnosisProblem) -> None:
        self.problem = problem
        self._tests = {test.name: test for test in problem.tests}
        self._repairs = {repair.name: repair for repair in problem.repairs}
        self._opening = {node.name: node.open_cost for node in problem.nodes}
        self._closing = {node.name: node.close_cost for node in problem.nodes}

    def start(self) -> Weights:
        """
        Give the weights before the first step.

        Returns
        -------
        Weights
            Those of the problem.
        """
        return {**self.problem.faults, NOTHING_WRONG: self.problem.p_ok}

    def mended(self, step: Step, weights: Weights) -> float:
        """
        Give the weight that a repair mends.

        Parameters
        ----------
        step
            A repair.
        weights
            Weights before it. [1]

        Returns
        -------
        float
            The weight. [1]
        """
        mends = self._repairs[step.action].mends
        return sum(weights.get(fault, 0.0) * chance for fault, chance in mends.items())

    def cost(self, step: Step, weights: Weights) -> float:
        """
        Reckon what a step costs at some weights.

        A part tried from stock is paid for by the weight that it mends.

        Parameters
        ----------
        step
            The step.
        weights
            Weights before it. [1]

        Returns
        -------
        float
            The cost times the weight of all. [cost]
        """
        mass = sum(weights.values())
        if step.kind != "repair":
            return step.cost * mass
        repair = self._repairs[step.action]
        access = sum(self._closing[name] for name in step.closes)
        access += sum(self._opening[name] for name in step.opens)
        kept = repair.keep_cost * self.mended(step, weights)
        return (access + repair.cost) * mass + kept

    def after(self, step: Step, weights: Weights) -> Iterator[tuple[Policy, Weights]]:
        """
        Give what follows a step, with the weights there.

        Parameters
        ----------
        step
            The step.
        weights
            Weights before it. [1]

        Yields
        ------
        tuple[Policy, Weights]
            Each branch with its weights.
        """
        for name, _, rest in step.branches:
            yield rest, self._in_branch(step, name, weights)

    def _in_branch(self, step: Step, name: str, weights: Weights) -> Weights:
        if step.kind == "repair":
            mends = self._repairs[step.action].mends
            left = {f: w * (1 - mends.get(f, 0.0)) for f, w in weights.items()}
            works = weights[NOTHING_WRONG] + self.mended(step, weights)
            return {**left, NOTHING_WRONG: works}
        if step.kind == "verify":
            return {
                fault: weight if (fault == NOTHING_WRONG) == (name == WORKS) else 0.0
                for fault, weight in weights.items()
            }
        test = self._tests[step.action]
        o = test.outcomes.index(name)
        rows = {**test.p, NOTHING_WRONG: test.p_ok}
        return {fault: weight * rows[fault][o] for fault, weight in weights.items()}

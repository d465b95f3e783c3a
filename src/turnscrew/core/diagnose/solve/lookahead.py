"""
Which action is best if only a few steps are looked ahead?

Method: every alternative and outcome for a few steps, then the best strategy without
tests (``plan``). Branches that must cost more than the best so far are left out by the
same bounds as in the search. The value is that of a real strategy, so it bounds the
optimum from above.
"""

from math import inf

from turnscrew.core.diagnose.solve.bounds import State
from turnscrew.core.diagnose.solve.plan import Plan, Planner
from turnscrew.core.diagnose.solve.search import Option, OutOfTimeError, Search


class Lookahead:
    """
    A look a few steps ahead, on the states of a search.

    Parameters
    ----------
    search
        The search whose actions and bounds are used.
    """

    def __init__(self, search: Search) -> None:
        self.search = search
        self.planner: Planner | None = None
        if search.whole.is_single:
            self.planner = Planner(search.whole, search.mode)
        self.n_states = 0
        self.most_states = inf

    def value(self, state: State, n_steps: int, limit: float) -> float:
        """
        Find what a state costs if so many steps are looked ahead.

        Parameters
        ----------
        state
            The state.
        n_steps
            Number of steps. [1]
        limit
            What is too much anyway. [cost]

        Returns
        -------
        float
            The value, or anything not below the limit. [cost]

        Raises
        ------
        OutOfTimeError
            If the time is up or enough states were looked at.
        """
        if state.least >= limit:
            return state.least
        self.n_states += 1
        if self.n_states % 32 == 0 and (
            self.n_states > self.most_states or self.search.is_time_up()
        ):
            raise OutOfTimeError
        best = self.plan(state)
        if n_steps:
            best = min(best, self.best(state, n_steps, min(best, limit))[1])
        return best

    def plan(self, state: State) -> float:
        """
        Find what a state costs without tests.

        Parameters
        ----------
        state
            The state.

        Returns
        -------
        float
            The value. [cost]
        """
        return self.planned(state).value

    def planned(self, state: State) -> Plan:
        """
        Find the strategy without tests.

        Parameters
        ----------
        state
            The state.

        Returns
        -------
        Plan
            The strategy; giving up, if several faults may be there at once.
        """
        if self.planner is None:
            value = self.search.whole.giving_up(state.open_set) * state.mass
            return Plan(value, (), gives_up=True)
        return self.planner.plan(state)

    def best(
        self, state: State, n_steps: int, limit: float
    ) -> tuple[Option | None, float]:
        """
        Find the best action if so many steps are looked ahead.

        Parameters
        ----------
        state
            The state.
        n_steps
            Number of steps, at least one. [1]
        limit
            What is too much anyway. [cost]

        Returns
        -------
        tuple
            The action, none if nothing is below the limit, and its value. [cost]

        Raises
        ------
        OutOfTimeError
            If the time is up or enough states were looked at.
        """
        chosen: Option | None = None
        best = limit
        for option in self.search.options(state):
            if option.total >= best:
                break
            value = self.option_value(state, option, n_steps, best)
            if value < best:
                chosen, best = option, value
        return chosen, best

    def option_value(
        self, state: State, option: Option, n_steps: int, limit: float
    ) -> float:
        """
        Find what an action costs if so many steps are looked ahead.

        Parameters
        ----------
        state
            The state before.
        option
            The action, which is the first step.
        n_steps
            Number of steps, at least one. [1]
        limit
            What is too much anyway. [cost]

        Returns
        -------
        float
            The value, or anything not below the limit. [cost]

        Raises
        ------
        OutOfTimeError
            If the time is up or enough states were looked at.
        """
        total = option.total
        for o, least in enumerate(option.leasts):
            if total >= limit:
                break
            after = self.search.after(state, option, o)
            if least <= 0 and after.mass <= 0:
                continue
            total += self.value(after, n_steps - 1, limit - (total - least)) - least
        return total

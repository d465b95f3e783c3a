"""
What does it cost to open and close what an action needs?

Method: lazy access. Before an action only what it needs closed is closed, and only
what it needs open is opened; an open set is a bit mask over the nodes.
Keeping a node open costs nothing, and closing it later costs the same, so no plan
gains by doing either earlier.
"""

from dataclasses import dataclass, field

from turnscrew.core.diagnose.problem import Node
from turnscrew.errors import BadArgumentError


@dataclass(frozen=True)
class Move:
    """
    The opening and closing before one action.

    Parameters
    ----------
    open_set
        What is open afterwards, as a bit mask.
    cost
        What it costs. [cost]
    closes
        Nodes closed, in order, by index.
    opens
        Nodes opened, in order, by index.
    """

    open_set: int
    cost: float
    closes: tuple[int, ...]
    opens: tuple[int, ...]


@dataclass(frozen=True)
class Access:
    """
    The nodes of access with their closures.

    Parameters
    ----------
    nodes
        The nodes, in an order in which each follows what it needs.
    under
        For each node the mask of itself and all it needs.
    above
        For each node the mask of itself and all that stands on it.
    moves
        Moves reckoned already.
    """

    nodes: tuple[Node, ...]
    under: tuple[int, ...]
    above: tuple[int, ...]
    moves: dict[tuple[int, int, int], Move] = field(default_factory=dict, repr=False)

    def opened(self, names: tuple[str, ...]) -> int:
        """
        Take nodes together with everything they need.

        Parameters
        ----------
        names
            Names of nodes.

        Returns
        -------
        int
            The mask.
        """
        return self._joined(names, self.under)

    def shut(self, names: tuple[str, ...]) -> int:
        """
        Take nodes together with everything that stands on them.

        Parameters
        ----------
        names
            Names of nodes.

        Returns
        -------
        int
            The mask.
        """
        return self._joined(names, self.above)

    def move(self, open_set: int, need: int, shut: int) -> Move:
        """
        Close what must be closed and open what must be open.

        Parameters
        ----------
        open_set
            What is open now.
        need
            What must be open, with all it needs.
        shut
            What must be closed, with all that stands on it.

        Returns
        -------
        Move
            The cheapest way there.
        """
        key = (open_set, need, shut)
        move = self.moves.get(key)
        if move is None:
            order = range(len(self.nodes))
            closes = tuple(i for i in reversed(order) if open_set & shut & 1 << i)
            kept = open_set & ~shut
            opens = tuple(i for i in order if need & ~kept & 1 << i)
            cost = sum(self.nodes[i].close_cost for i in closes)
            cost += sum(self.nodes[i].open_cost for i in opens)
            move = self.moves[key] = Move(kept | need, cost, closes, opens)
        return move

    def closing(self, open_set: int) -> float:
        """
        Reckon what closing everything costs.

        Parameters
        ----------
        open_set
            What is open.

        Returns
        -------
        float
            The cost. [cost]
        """
        return self.move(open_set, 0, (1 << len(self.nodes)) - 1).cost

    def _joined(self, names: tuple[str, ...], masks: tuple[int, ...]) -> int:
        index = {node.name: i for i, node in enumerate(self.nodes)}
        joined = 0
        for name in names:
            joined |= masks[index[name]]
        return joined


def access_of(nodes: tuple[Node, ...]) -> Access:
    """
    Put the nodes in order and close them under what they need.

    Parameters
    ----------
    nodes
        The nodes.

    Returns
    -------
    Access
        The nodes with their closures.

    Raises
    ------
    BadArgumentError
        If nodes need one another in a ring.
    """
    placed: list[Node] = []
    left = list(nodes)
    while left:
        names = {node.name for node in placed}
        ready = [node for node in left if names.issuperset(node.needs)]
        if not ready:
            ring = ", ".join(node.name for node in left)
            raise BadArgumentError(f"access nodes need one another in a ring: {ring}")
        placed += ready
        left = [node for node in left if node not in ready]
    index = {node.name: i for i, node in enumerate(placed)}
    under: list[int] = []
    for i, node in enumerate(placed):
        mask = 1 << i
        for name in node.needs:
            mask |= under[index[name]]
        under.append(mask)
    above = [
        sum(1 << j for j in range(len(placed)) if under[j] & 1 << i)
        for i in range(len(placed))
    ]
    return Access(tuple(placed), tuple(under), tuple(above))

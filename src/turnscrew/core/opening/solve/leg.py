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

    def absorb(self, done: int, place: int) -> int:  # noqa: C901 - the hottest loop
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

"""
What must the rest of a leg cost at least in turns and in tool changes?

Turning costs and tool costs add up, so they can be bounded apart:
once as if every tool lay in every hand, once as if every posture were always up.
Each of the two is solved exactly by a table over what is done;
where that table grows too large the tools are split into groups,
and in each group only the taking up of its own tools is counted.
"""

from collections.abc import Callable, Sequence

from turnscrew.core.opening.solve.compact import FAR, Masks, bits_of
from turnscrew.core.opening.solve.leg import Leg

EFFORT = 8_000_000
"""Largest table, in states times items, before tools are split. [1]"""


POLLED = 256
"""States of a table between two looks at the clock. [1]"""


class TooWideError(Exception):
    """Say that a table has outgrown its limit or its time."""


class Alone:
    """
    The exact cost of changing between letters, all else being free.

    Parameters
    ----------
    leg
        The leg.
    letters
        Per item, the letters (postures, or tools) under which it can be done, in bits.
    table
        Cost of changing from row to column.
    most_states
        Number of states at which the table is given up.
    final
        Cost of ending the leg under each letter.
    is_time_up
        Asked now and then; once true, the table is given up.
    """

    def __init__(
        self,
        leg: Leg,
        letters: Sequence[int],
        table: Sequence[Sequence[int]],
        most_states: int,
        final: Sequence[int] = (),
        *,
        is_time_up: Callable[[], bool],
    ) -> None:
        size = len(table)
        kept = covered(leg, letters, (1 << size) - 1)
        self.full = kept
        self.table = table
        self.final = tuple(final) or (0,) * size
        self.size = size
        self.most_states = most_states
        self.is_time_up = is_time_up
        self.is_given_up = False
        self.known: dict[tuple[int, int], int] = {}
        self.asked: dict[tuple[int, int], int] = {}
        self.entries: list[list[tuple[int, int, Masks]]] = []
        self.masks: list[int] = []
        for letter in range(size):
            here = [
                (1 << i, leg.need_all[i], leg.need_any[i])
                for i in range(len(letters))
                if letters[i] >> letter & 1 and kept >> i & 1
            ]
            self.entries.append(here)
            self.masks.append(sum(entry[0] for entry in here))

    def least(self, done: int, letter: int) -> int:
        """
        Give the exact remaining cost of changes.

        Parameters
        ----------
        done
            Items done.
        letter
            Posture, or tool, at hand.

        Returns
        -------
        int
            Cost of the changes still needed. [problem's unit]

        Raises
        ------
        TooWideError
            If the table outgrows its limit.
        """
        key = (done & self.full, letter)
        value = self.asked.get(key)
        if value is None:
            if self.is_given_up:
                raise TooWideError
            try:
                value = self._value(self._absorbed(done & self.full, letter), letter)
            except (TooWideError, RecursionError) as error:
                # A chain of very many changes is too deep a table, so too wide as well.
                self.is_given_up = True
                raise TooWideError from error
            self.asked[key] = value
        return value

    def _absorbed(self, done: int, letter: int) -> int:
        if not self.masks[letter] & ~done:
            return done
        again = True
        while again:
            again = False
            for bit, need, alternatives in self.entries[letter]:
                if bit & done or need & ~done:
                    continue
                for mask in alternatives:
                    if not mask & done:
                        break
                else:
                    done |= bit
                    again = True
        return done

    def _value(self, done: int, letter: int) -> int:
        if done == self.full:
            return self._end(letter)
        key = (done, letter)
        best = self.known.get(key)
        if best is not None:
            return best
        n = len(self.known)
        if n > self.most_states or (n % POLLED == POLLED - 1 and self.is_time_up()):
            raise TooWideError
        best = FAR
        row = self.table[letter]
        for other in range(self.size):
            if other == letter or row[other] >= best or not self.masks[other] & ~done:
                continue
            after = self._absorbed(done, other)
            if after != done:
                value = row[other] + self._value(after, other)
                best = min(best, value)
        self.known[key] = best
        return best

    def _end(self, letter: int) -> int:
        row = self.table[letter]
        return min(row[i] + self.final[i] for i in range(self.size))


def covered(leg: Leg, letters: Sequence[int], every: int) -> int:
    """
    Leave out items that another item always brings along.

    Item x needs no letter of its own if nothing waits for it and some y, which comes
    no earlier than all that x needs, can only be done under letters that suit x.

    Parameters
    ----------
    leg
        The leg.
    letters
        Per item, the letters under which it can be done.
    every
        All letters.

    Returns
    -------
    int
        Bits of the items that must be followed.
    """
    n = len(leg.items)
    waiting = _waiting(leg)
    brought = _Brought(leg, letters)
    kept = leg.full
    again = True
    while again:
        again = False
        for x in range(n - 1, -1, -1):
            if not kept >> x & 1 or waiting[x] & kept:
                continue
            if letters[x] == every or brought.along(x, kept):
                kept &= ~(1 << x)
                again = True
    return kept


def _waiting(leg: Leg) -> list[int]:
    """For each item, the items that mention it in their needs."""
    waiting = [0] * len(leg.items)
    for i, wants in enumerate(leg.need_all):
        for mask in leg.need_any[i]:
            wants |= mask
        for j in bits_of(wants):
            waiting[j] |= 1 << i
    return waiting


def _before(leg: Leg) -> list[int]:
    """For each item, itself and all that certainly comes before it."""
    before: list[int] = []
    for i, need in enumerate(leg.need_all):
        found = 1 << i
        while need:
            low = need & -need
            found |= before[low.bit_length() - 1]
            need ^= low
        for mask in leg.need_any[i]:
            common = -1
            while mask:
                low = mask & -mask
                j = low.bit_length() - 1
                common &= before[j] if j < i else low
                mask ^= low
            found |= common
        before.append(found)
    return before


class _Brought:
    """Tells which items another item brings along."""

    def __init__(self, leg: Leg, letters: Sequence[int]) -> None:
        self.leg = leg
        self.letters = letters
        self.before = _before(leg)
        self.by_letters: dict[int, list[int]] = {}
        for i, mask in enumerate(letters):
            self.by_letters.setdefault(mask, []).append(i)

    def along(self, x: int, kept: int) -> bool:
        """Tell whether some kept item always brings an item along."""
        return any(
            self._reaches(y, x)
            for suits, items in self.by_letters.items()
            if not suits & ~self.letters[x]
            for y in items
            if y != x and kept >> y & 1
        )

    def _reaches(self, y: int, x: int) -> bool:
        reach = self.before[y]
        return not self.leg.need_all[x] & ~reach and all(
            mask & reach for mask in self.leg.need_any[x]
        )


class SetUps:
    """
    Lower bounds on turns and tool changes together.

    Parameters
    ----------
    leg
        The leg.
    final_postures
        Cost of ending the leg in each posture.
    final_tools
        Cost of ending the leg with each tool.
    is_time_up
        Asked now and then; once true, tables are given up and bounds grow weaker.
    """

    def __init__(
        self,
        leg: Leg,
        final_postures: Sequence[int] = (),
        final_tools: Sequence[int] = (),
        *,
        is_time_up: Callable[[], bool],
    ) -> None:
        self.leg = leg
        self.is_time_up = is_time_up
        n = max(1, len(leg.items))
        states = EFFORT // n
        places = [_suiting(leg, i) for i in range(len(leg.items))]
        self.postures = Alone(
            leg,
            [place[0] for place in places],
            leg.ways(leg.full),
            states,
            final_postures,
            is_time_up=is_time_up,
        )
        self.letters = [place[1] for place in places]
        self.tools: Alone | None = Alone(
            leg,
            self.letters,
            leg.changes,
            states,
            final_tools,
            is_time_up=is_time_up,
        )
        self.groups: list[tuple[tuple[int, ...], Alone]] = []

    def least(self, done: int, posture: int, tool: int) -> int:
        """
        Bound the set-ups still needed.

        Parameters
        ----------
        done
            Items done.
        posture
            Posture of the device.
        tool
            Tool in hand.

        Returns
        -------
        int
            A cost no continuation can undercut. [problem's unit]
        """
        turns = _least_or_nothing(self.postures, done, posture)
        if turns >= FAR:
            return FAR
        return turns + self.least_tools(done, tool)

    def least_tools(self, done: int, tool: int) -> int:
        """
        Bound the tool changes still needed.

        Parameters
        ----------
        done
            Items done.
        tool
            Tool in hand.

        Returns
        -------
        int
            A cost no continuation can undercut. [problem's unit]
        """
        if self.tools is not None:
            try:
                return self.tools.least(done, tool)
            except TooWideError:
                self.tools = None
                self.groups = self._split()
        return sum(
            _least_or_nothing(
                group, done, tools.index(tool) if tool in tools else len(tools)
            )
            for tools, group in self.groups
        )

    def _split(self) -> list[tuple[tuple[int, ...], Alone]]:
        """Form groups of tools whose tables stay small, largest groups first."""
        leg = self.leg
        used = [t for t in range(leg.n_tools) if any(m == 1 << t for m in self.letters)]
        weight = {t: sum(m == 1 << t for m in self.letters) for t in used}
        used.sort(key=lambda t: (-self._arrival(t), -weight[t], t))
        groups: list[tuple[tuple[int, ...], Alone]] = []
        while used:
            size = min(4, len(used))
            while True:
                chosen = tuple(used[:size])
                group = self._group(chosen)
                try:
                    group.least(leg.begun, len(chosen))
                    break
                except TooWideError:
                    if size == 1:
                        break
                    size -= 1
            groups.append((chosen, group))
            used = used[size:]
        return groups

    def _arrival(self, tool: int) -> int:
        rows = self.leg.changes
        return min(rows[i][tool] for i in range(len(rows)) if i != tool)

    def _group(self, chosen: tuple[int, ...]) -> Alone:
        size = len(chosen)
        every = (1 << (size + 1)) - 1
        letters = []
        for mask in self.letters:
            inside = [i for i, tool in enumerate(chosen) if mask >> tool & 1]
            outside = mask & ~sum(1 << tool for tool in chosen)
            letters.append(every if outside else sum(1 << i for i in inside))
        row = [self._arrival(tool) for tool in chosen] + [0]
        table = [
            [0 if i == j else row[j] for j in range(size + 1)] for i in range(size + 1)
        ]
        return Alone(
            self.leg,
            letters,
            table,
            EFFORT // max(1, len(letters)),
            is_time_up=self.is_time_up,
        )


def _least_or_nothing(table: Alone, done: int, letter: int) -> int:
    """Ask a table; one that has outgrown its limit says nothing."""
    try:
        return table.least(done, letter)
    except TooWideError:
        return 0


def _suiting(leg: Leg, i: int) -> tuple[int, int]:
    """Postures and tools under which an item can be done at any cost, in bits."""
    if leg.begun >> i & 1:
        return (1 << len(leg.turns)) - 1, (1 << leg.n_tools) - 1
    postures, tools = 0, 0
    for mode in leg.modes[i]:
        postures |= mode.postures
        tools |= (1 << leg.n_tools) - 1 if mode.tool < 0 else 1 << mode.tool
    return postures, tools

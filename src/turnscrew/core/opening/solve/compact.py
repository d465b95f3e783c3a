"""
How does the numeric problem look in bits and closed cost tables?

Every action is one bit of a whole number; a condition is a tuple of masks,
each of which must share a bit with the set of removed actions.
Tool changes are closed under the triangle rule; turns keep their direct edges,
since each may be guarded.
"""

from dataclasses import dataclass

from turnscrew.core.opening.problem import Act, Check, Cnf, Mode, OpeningProblem

FAR = 10**12
"""A cost no plan reaches; stands for "no way". [problem's unit]"""

Masks = tuple[int, ...]
Table = tuple[tuple[int, ...], ...]


@dataclass(frozen=True)
class CompactMode:
    """One way of doing an action: posture bits, tool index or -1, cost, condition."""

    postures: int
    tool: int
    cost: int
    when: Masks
    index: int


@dataclass(frozen=True)
class CompactAct:
    """One action in bits."""

    needs: Masks
    modes: tuple[CompactMode, ...]
    refit_modes: tuple[CompactMode, ...]
    refit_after: int
    refit_checks: int


@dataclass(frozen=True)
class CompactCheck:
    """One check in bits."""

    mode: CompactMode
    fitted: int
    applies: int
    rework: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Compact:
    """The whole problem in bits."""

    n: int
    names: tuple[str, ...]
    acts: tuple[CompactAct, ...]
    checks: tuple[CompactCheck, ...]
    turns: Table
    guards: tuple[tuple[int, int, Masks], ...]
    changes: Table
    start_posture: int
    start_tool: int
    end_posture: int
    targets: int
    already_off: int


def bits_of(mask: int) -> list[int]:
    """
    List the positions of the set bits, lowest first.

    Parameters
    ----------
    mask
        Any whole number not below zero.

    Returns
    -------
    list[int]
        Positions of its set bits.
    """
    found = []
    while mask:
        low = mask & -mask
        found.append(low.bit_length() - 1)
        mask ^= low
    return found


def holds(masks: Masks, done: int) -> bool:
    """
    Tell whether every mask shares a bit with the set.

    Parameters
    ----------
    masks
        The condition.
    done
        The set of removed actions.

    Returns
    -------
    bool
        True if the condition holds.
    """
    for mask in masks:
        if not mask & done:
            return False
    return True


def closed(table: Table) -> Table:
    """
    Close a cost table under the triangle rule.

    Parameters
    ----------
    table
        Direct costs; ``FAR`` where there is no direct way.

    Returns
    -------
    Table
        Cheapest costs by any way round.
    """
    rows = [list(row) for row in table]
    size = range(len(rows))
    for middle in size:
        through = rows[middle]
        for row in rows:
            first = row[middle]
            if first < FAR:
                for end in size:
                    if first + through[end] < row[end]:
                        row[end] = first + through[end]
    return tuple(tuple(row) for row in rows)


def compact(problem: OpeningProblem) -> Compact:
    """
    Turn a named problem into bits.

    Parameters
    ----------
    problem
        A problem whose names all exist.

    Returns
    -------
    Compact
        The same problem in bits.
    """
    bit = {act.name: 1 << i for i, act in enumerate(problem.actions)}
    posture = {name: i for i, name in enumerate(problem.postures)}
    tool = {name: i for i, name in enumerate(problem.tools)}
    check = {c.name: 1 << i for i, c in enumerate(problem.checks)}
    words = _Words(bit, posture, tool, check)
    return Compact(
        n=len(problem.actions),
        names=tuple(act.name for act in problem.actions),
        acts=tuple(words.act(act) for act in problem.actions),
        checks=tuple(words.check(c) for c in problem.checks),
        turns=tuple(
            tuple(
                0 if i == j else FAR if cost is None else cost
                for j, cost in enumerate(row)
            )
            for i, row in enumerate(problem.posture_cost)
        ),
        guards=tuple(
            (posture[g.start], posture[g.end], words.cnf(g.needs))
            for g in problem.guards
        ),
        changes=closed(
            tuple(
                tuple(0 if i == j else cost for j, cost in enumerate(row))
                for i, row in enumerate(problem.tool_cost)
            )
        ),
        start_posture=posture[problem.start_posture],
        start_tool=tool[problem.start_tool],
        end_posture=posture[problem.end_posture],
        targets=words.mask(problem.targets),
        already_off=words.mask(problem.already_off),
    )


@dataclass(frozen=True)
class _Words:
    """The dictionaries from names to bits and indices."""

    bits: dict[str, int]
    postures: dict[str, int]
    tools: dict[str, int]
    checks: dict[str, int]

    def mask(self, names: tuple[str, ...]) -> int:
        found = 0
        for name in names:
            found |= self.bits[name]
        return found

    def cnf(self, clauses: Cnf) -> Masks:
        return tuple(dict.fromkeys(self.mask(clause) for clause in clauses))

    def mode(self, mode: Mode, index: int) -> CompactMode:
        return CompactMode(
            postures=sum({1 << self.postures[name] for name in mode.postures}),
            tool=-1 if mode.tool is None else self.tools[mode.tool],
            cost=mode.cost,
            when=self.cnf(mode.when),
            index=index,
        )

    def act(self, act: Act) -> CompactAct:
        return CompactAct(
            needs=self.cnf(act.needs),
            modes=tuple(self.mode(m, i) for i, m in enumerate(act.modes)),
            refit_modes=tuple(self.mode(m, i) for i, m in enumerate(act.refit_modes)),
            refit_after=self.mask(act.refit_after),
            refit_checks=sum({self.checks[name] for name in act.refit_checks}),
        )

    def check(self, check: Check) -> CompactCheck:
        plain = Mode(check.postures, check.tool, check.cost)
        return CompactCheck(
            mode=self.mode(plain, 0),
            fitted=self.mask(check.fitted),
            applies=self.mask(check.applies_if_removed),
            rework=tuple((self.bits[name], extra) for name, extra in check.rework),
        )

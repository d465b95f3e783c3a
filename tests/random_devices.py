"""
Small random problems, the same for the same seed.

The draws come in a fixed order; a change here changes every device.
"""

import random

from turnscrew.core.opening.problem import (
    Act,
    Check,
    Cnf,
    Guard,
    Mode,
    OpeningProblem,
)

POSTURES = ("base-up", "lid-open", "aside")
TOOLS = ("none", "driver", "pick", "heat")


def random_problem(rng: random.Random, n_actions: int) -> OpeningProblem:
    """
    Draw one problem with at most n_actions actions.

    Now and then it cannot be solved; that is wanted.
    """
    postures = POSTURES[: rng.choice((1, 2, 2, 3, 3))]
    tools = TOOLS[: rng.randint(1, 4)]
    names = tuple(f"a{index}" for index in range(n_actions))
    guards = draw_guards(rng, postures, names)
    checks = tuple(
        draw_check(rng, f"check {index}", postures, tools, names)
        for index in range(rng.choice((0, 1, 1, 2)))
    )
    acts = tuple(
        draw_act(rng, index, names, postures, tools, checks)
        for index in range(n_actions)
    )
    n_targets = rng.choice((1, 1, 2, 3))
    return OpeningProblem(
        name="random",
        unit="1 s",
        postures=postures,
        posture_cost=draw_turns(rng, postures),
        guards=guards,
        tools=tools,
        tool_cost=draw_tool_cost(rng, len(tools)),
        start_posture=rng.choice(postures),
        start_tool=rng.choice(tools),
        end_posture=rng.choice(postures),
        targets=tuple(rng.sample(names, min(n_targets, n_actions))),
        actions=acts,
        checks=checks,
        already_off=draw_already_off(rng, acts),
    )


def draw_guards(
    rng: random.Random, postures: tuple[str, ...], names: tuple[str, ...]
) -> tuple[Guard, ...]:
    if len(postures) < 3 or rng.random() < 0.4:
        return ()
    guards = [Guard("base-up", "aside", draw_groups(rng, names, 1))]
    if rng.random() < 0.3:
        guards.append(Guard("aside", "base-up", draw_groups(rng, names, 1)))
    return tuple(guards)


def draw_groups(
    rng: random.Random, names: tuple[str, ...], n_groups: int, p_or: float = 0.4
) -> Cnf:
    if not names:
        return ()
    groups = []
    for _ in range(n_groups):
        size = 2 if len(names) > 1 and rng.random() < p_or else 1
        groups.append(tuple(rng.sample(names, size)))
    return tuple(groups)


def draw_turns(
    rng: random.Random, postures: tuple[str, ...]
) -> tuple[tuple[int | None, ...], ...]:
    n = len(postures)
    turns: list[list[int | None]] = [[0] * n for _ in range(n)]
    for row in range(n):
        for column in range(row):
            turns[row][column] = rng.randint(2, 12)
            is_skewed = rng.random() < 0.2
            back = rng.randint(2, 12)
            turns[column][row] = back if is_skewed else turns[row][column]
    # With three postures one direct turn may be missing: it goes by way of the third.
    if n == 3 and rng.random() < 0.6:
        turns[1][2] = turns[2][1] = None
    return tuple(tuple(row) for row in turns)


def draw_tool_cost(rng: random.Random, n: int) -> tuple[tuple[int, ...], ...]:
    usual = rng.randint(1, 6)
    is_skewed = rng.random() < 0.5
    cost = [[0 if row == column else usual for column in range(n)] for row in range(n)]
    if is_skewed:
        for row in range(n):
            for column in range(n):
                extra = rng.randint(0, 9)
                cost[row][column] = 0 if row == column else usual + extra
    return tuple(tuple(row) for row in cost)


def draw_check(
    rng: random.Random,
    name: str,
    postures: tuple[str, ...],
    tools: tuple[str, ...],
    names: tuple[str, ...],
) -> Check:
    fitted = tuple(rng.sample(names, rng.randint(0, min(2, len(names)))))
    triggers = tuple(rng.sample(names, min(2, len(names))))
    reworked = rng.sample(names, min(rng.randint(0, 3), len(names)))
    return Check(
        name=name,
        postures=(rng.choice(postures),),
        tool=rng.choice((None, None, rng.choice(tools))),
        cost=rng.randint(1, 9),
        fitted=fitted,
        applies_if_removed=triggers if rng.random() < 0.5 else (),
        rework=tuple((other, rng.randint(1, 8)) for other in reworked),
    )


def draw_act(
    rng: random.Random,
    index: int,
    names: tuple[str, ...],
    postures: tuple[str, ...],
    tools: tuple[str, ...],
    checks: tuple[Check, ...],
) -> Act:
    earlier, own = names[:index], names[index]
    others = earlier + names[index + 1 :]
    needs = draw_groups(rng, earlier, rng.choice((0, 1, 1, 2)))
    # A need on a later action may close a ring, which an OR may break again.
    if rng.random() < 0.06:
        needs += draw_groups(rng, others, 1, p_or=0.8)
    modes = draw_modes(rng, others, postures, tools)
    refit_modes = draw_modes(rng, others, postures, tools)
    is_same_back = rng.random() < 0.3
    after = tuple(rng.sample(others, 1)) if others and rng.random() < 0.15 else ()
    closes = tuple(check.name for check in checks if rng.random() < 0.2)
    return Act(
        name=own,
        needs=needs,
        modes=modes,
        refit_modes=modes if is_same_back else refit_modes,
        refit_after=after,
        # What a check wants fitted cannot wait for that check.
        refit_checks=tuple(
            check.name
            for check in checks
            if check.name in closes and own not in check.fitted
        ),
    )


def draw_modes(
    rng: random.Random,
    others: tuple[str, ...],
    postures: tuple[str, ...],
    tools: tuple[str, ...],
) -> tuple[Mode, ...]:
    modes = []
    for number in range(rng.choice((1, 1, 2, 2, 3))):
        where = tuple(rng.sample(postures, rng.choice((1, 1, len(postures)))))
        tool = rng.choice((None, rng.choice(tools), rng.choice(tools)))
        has_condition = rng.random() < (0.5 if number else 0.08)
        when = draw_groups(rng, others, 1) if has_condition else ()
        modes.append(Mode(where, tool, rng.randint(0, 20), when))
    return tuple(modes)


def draw_already_off(rng: random.Random, acts: tuple[Act, ...]) -> tuple[str, ...]:
    if rng.random() < 0.8:
        return ()
    off: set[str] = set()
    for act in acts:
        is_free = all(any(name in off for name in group) for group in act.needs)
        if is_free and rng.random() < 0.3:
            off.add(act.name)
    return tuple(sorted(off))

"""
Random laptop-like devices, like the stored ones, for more rows than are stored.

Four postures, eight tools, 15 % of the modules reached in more than one way, a battery
plug that makes other plugs cheaper once it is off, one check with rework.
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

POSTURES = ("base-up", "lid-open", "lid-flat", "board-lifted")
TURNS = ((0, 90, 110, 150), (90, 0, 40, None), (110, 40, 0, None), (150, None, None, 0))
DRIVERS = ("H0", "H00", "hexalobular 5")
TOOLS = (*DRIVERS, "plastic lever", "tweezers", "pick", "nut-driver", "heat")


def laptop(n_actions: int, n_targets: int | None, rng: random.Random) -> OpeningProblem:
    """
    Make one device.

    Parameters
    ----------
    n_actions
        About how many actions.
    n_targets
        How many parts are wanted; ``None`` for all.
    rng
        Chance.

    Returns
    -------
    OpeningProblem
        The problem, in tenths of a second.
    """
    acts = _case(rng)
    parts = ["bottom cover", "keyboard"]
    while len(acts) < n_actions:
        acts += _module(len(parts) - 1, parts, rng)
        parts.append(acts[-1].name)
    wanted = parts if n_targets is None else rng.sample(parts[2:], n_targets)
    fitted = ("battery plug", *wanted)
    rework = tuple((name, 20) for name in ("keyboard clips", "keyboard"))
    check = Check("power-on", ("lid-open",), None, 300, fitted, (), rework)
    size = range(len(TOOLS))
    return OpeningProblem(
        name=f"laptop {n_actions}",
        unit="0.1 s",
        postures=POSTURES,
        posture_cost=TURNS,
        guards=(Guard("base-up", "board-lifted", ((rng.choice(parts[2:]),),)),),
        tools=TOOLS,
        tool_cost=tuple(
            tuple(0 if i == j else 252 if j == 7 else 42 for j in size) for i in size
        ),
        start_posture="lid-open",
        start_tool="H0",
        end_posture="lid-open",
        targets=tuple(wanted),
        actions=tuple(acts),
        checks=(check,),
    )


def _act(name: str, needs: Cnf, mode: Mode, refit: Mode, **more: object) -> Act:
    return Act(name, needs, (mode,), (refit,), **more)  # type: ignore[arg-type]


def _screws(
    name: str, needs: Cnf, postures: tuple[str, ...], rng: random.Random
) -> Act:
    cost = 20 + 55 * rng.randint(2, 8)
    tool = rng.choice(DRIVERS)
    back = Mode(postures, tool, cost * 6 // 5)
    return _act(name, needs, Mode(postures, tool, cost), back)


def _case(rng: random.Random) -> list[Act]:
    base, lid = ("base-up",), ("lid-open",)
    covered = (("bottom cover",),)
    return [
        _screws("bottom screws", (), base, rng),
        _act(
            "bottom clips",
            (("bottom screws",),),
            Mode(base, "plastic lever", 150),
            Mode(base, None, 75),
            refit_checks=("power-on",),
        ),
        _act(
            "bottom cover",
            (("bottom clips",),),
            Mode(base, None, 40),
            Mode(base, None, 44),
        ),
        _act(
            "battery plug",
            covered,
            Mode(base, "plastic lever", 50),
            Mode(base, "plastic lever", 65),
        ),
        _screws("keyboard screws", covered, base, rng),
        _act(
            "keyboard clips",
            (("keyboard screws",),),
            Mode(lid, "pick", 140),
            Mode(lid, None, 70),
        ),
        _act(
            "keyboard",
            (("keyboard clips",),),
            Mode(lid, None, 40),
            Mode(lid, None, 44),
        ),
    ]


def _module(number: int, parts: list[str], rng: random.Random) -> list[Act]:
    """Make the plugs, screws and part of one module."""
    name = f"M{number}"
    if rng.random() < 0.15:
        needs: Cnf = (tuple(rng.sample(parts, 2)),)
    else:
        needs = tuple((part,) for part in rng.sample(parts, rng.choice((1, 1, 1, 2))))
    postures = rng.choice((("base-up",), ("lid-open",), ("base-up", "lid-open")))
    acts = [
        _plug(f"{name} plug {i}", needs, postures, rng)
        for i in range(1, rng.randint(0, 3) + 1)
    ]
    acts += [
        _screws(f"{name} screws {i}", needs, postures, rng)
        for i in range(1, rng.randint(1, 2) + 1)
    ]
    if rng.random() < 0.1:
        hot = Mode(postures, "heat", 300)
        acts.append(_act(f"{name} bond", needs, hot, Mode(postures, "heat", 450)))
    cost = rng.randint(30, 120)
    held = tuple((act.name,) for act in acts)
    lift = Mode(postures, rng.choice((None, None, "tweezers")), cost)
    back = Mode(postures, lift.tool, cost * 11 // 10)
    return [*acts, _act(f"{name} part", held, lift, back)]


def _plug(name: str, needs: Cnf, postures: tuple[str, ...], rng: random.Random) -> Act:
    cost = rng.randint(50, 90)
    tool = rng.choice((None, "plastic lever", "tweezers"))
    modes = [Mode(postures, tool, cost)]
    if rng.random() < 0.4:
        saved = rng.choice((15, 30))
        modes.append(Mode(postures, tool, cost - saved, (("battery plug",),)))
    return Act(name, needs, tuple(modes), (Mode(postures, tool, cost * 13 // 10),))

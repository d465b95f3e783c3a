"""
Random laptop-like devices, like the stored ones, for more rows than are stored.

Four postures, one of them open only once a certain part is off; eight tools; 15 % of
the modules reached in more than one way; a battery plug that makes about half of the
other plugs cheaper once it is off; one check with rework.
A module hangs on one or two of the eight modules before it;
one worked on with the board lifted hangs on the part that keeps the board down.
Single wishes are drawn from the later modules. Every device can be opened and closed.
"""

import random
from dataclasses import dataclass, field

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

BASE, LID, FLAT = ("base-up",), ("lid-open",), ("lid-flat",)
UNDER = ("board-lifted",)
FREE = (BASE, BASE, BASE, ("base-up", "lid-open"), LID)
LIFTED = (*FREE, UNDER, UNDER)
"""Where a module is worked on, before and after the board can be lifted."""


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
    maker = _Maker(rng, rng.randint(4, 8))
    maker.case()
    while len(maker.acts) < n_actions:
        maker.module()
    modules = maker.parts[2:]
    if n_targets is None:
        wanted = [*maker.parts, "panel"]
    else:
        late = modules[-max(n_targets, 2 * len(modules) // 5) :]
        wanted = rng.sample(late, min(n_targets, len(late)))
    fitted = ("battery plug", *wanted)
    first = modules[min(maker.lifting, len(modules)) - 1]
    size = range(len(TOOLS))
    return OpeningProblem(
        name=f"laptop {n_actions}",
        unit="0.1 s",
        postures=POSTURES,
        posture_cost=TURNS,
        guards=(Guard("base-up", "board-lifted", ((first,),)),),
        tools=TOOLS,
        tool_cost=tuple(
            tuple(0 if i == j else 252 if j == 7 else 42 for j in size) for i in size
        ),
        start_posture="lid-open",
        start_tool="H0",
        end_posture="lid-open",
        targets=tuple(wanted),
        actions=tuple(maker.acts),
        checks=(Check("power-on", LID, None, 300, fitted, (), maker.rework()),),
    )


@dataclass
class _Maker:
    """Draws actions in a fixed order; ``lifting`` is the module under the board."""

    rng: random.Random
    lifting: int
    acts: list[Act] = field(default_factory=list)
    parts: list[str] = field(default_factory=list)

    def case(self) -> None:
        """Make bottom cover, battery plug, keyboard and panel."""
        covered = (("bottom cover",),)
        self.screws("bottom screws", (), BASE)
        self.add(
            "bottom clips", (("bottom screws",),), BASE, "plastic lever", (150, 75)
        )
        self.add("bottom cover", (("bottom clips",),), BASE, None, (40, 44))
        self.add("battery plug", covered, BASE, "plastic lever", (50, 65))
        self.screws("keyboard screws", covered, BASE)
        self.add("keyboard clips", (("keyboard screws",),), LID, "pick", (140, 70))
        self.add("keyboard ribbon", (("keyboard clips",),), LID, "tweezers", (60, 78))
        self.add("keyboard", (("keyboard ribbon",),), LID, None, (40, 44))
        lid = ("lid-open", "lid-flat")
        self.add("bezel clips", (), lid, "pick", (220, 110))
        self.screws("panel screws", (("bezel clips",),), lid)
        self.add("panel plug", (("panel screws",),), FLAT, "tweezers", (60, 78))
        self.add("panel", (("panel plug",),), FLAT, None, (60, 66))
        self.parts += ["bottom cover", "keyboard"]

    def module(self) -> None:
        """Make the plugs, screws, perhaps the bond, and the part of one module."""
        rng, number = self.rng, len(self.parts) - 1
        name, near = f"M{number}", self.parts[-8:]
        needs: Cnf = tuple(
            (part,) for part in rng.sample(near, 1 + (rng.random() < 1 / 6))
        )
        if rng.random() < 0.15:
            needs = (tuple(rng.sample(near, 2)),)
        postures = rng.choice(FREE if number <= self.lifting else LIFTED)
        if postures == UNDER:
            needs = ((f"M{self.lifting} part",),)
        begun = len(self.acts)
        for i in range(rng.choice((0, 1, 1, 2, 3))):
            self.plug(f"{name} plug {i + 1}", needs, postures)
        for i in range(rng.choice((1, 1, 2))):
            self.screws(f"{name} screws {i + 1}", needs, postures)
        if rng.random() < 0.1:
            self.add(f"{name} bond", needs, postures, "heat", (300, 450))
        held = tuple((act.name,) for act in self.acts[begun:])
        cost = rng.randint(30, 120)
        tool = rng.choice((None, None, None, None, "tweezers"))
        self.add(f"{name} part", held, postures, tool, (cost, cost * 11 // 10))
        self.parts.append(f"{name} part")

    def screws(self, name: str, needs: Cnf, postures: tuple[str, ...]) -> None:
        cost = 20 + 55 * self.rng.randint(2, 9)
        tool = self.rng.choice(DRIVERS)
        self.add(name, needs, postures, tool, (cost, cost * 6 // 5))

    def plug(self, name: str, needs: Cnf, postures: tuple[str, ...]) -> None:
        cost = self.rng.randint(30, 90)
        tool = self.rng.choice((None, "plastic lever", "tweezers"))
        dearer = self.rng.choice((0, 0, 15, 30, 60))
        modes = [Mode(postures, tool, cost + dearer)]
        if dearer:
            modes.append(Mode(postures, tool, cost, (("battery plug",),)))
        back = Mode(postures, tool, cost * 13 // 10)
        self.acts.append(Act(name, needs, tuple(modes), (back,)))

    def add(
        self,
        name: str,
        needs: Cnf,
        postures: tuple[str, ...],
        tool: str | None,
        costs: tuple[int, int],
    ) -> None:
        # Clips go back by hand.
        refit = Mode(postures, None if name.endswith("clips") else tool, costs[1])
        checks = ("power-on",) if name == "bottom clips" else ()
        mode = Mode(postures, tool, costs[0])
        self.acts.append(Act(name, needs, (mode,), (refit,), (), checks))

    def rework(self) -> tuple[tuple[str, int], ...]:
        """Say what refitting the keyboard before the check would cost."""
        return tuple(
            (act.name, 20) for act in self.acts[4:8] if "ribbon" not in act.name
        )

"""
Small hidden devices and legal openings of them, the same for the same seed.

The slow truth: an order is legal if, thing by thing, every OR of its needs is met.
"""

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from turnscrew.core.opening.problem import Act, Cnf, Mode, OpeningProblem
from turnscrew.core.recording.orders import Opened, Rules
from turnscrew.core.recording.recorded import Recorded, RecordedOpening

JOINT_KINDS = ("screw", "screw", "clip", "plug", "socket", "bond", "unknown")
PART_KINDS = ("part", "cover", "board", "battery", "fan")


@dataclass(frozen=True)
class Hidden:
    """A device whose needs nobody knows; things named lid come aside as well."""

    needs: dict[str, Cnf]
    costs: dict[str, tuple[int, int]]
    kinds: dict[str, tuple[str, str]]

    @property
    def things(self) -> tuple[str, ...]:
        return tuple(self.needs)


def hidden_device(
    rng: random.Random,
    *,
    n_things: tuple[int, int] = (6, 12),
    most_alternatives: int = 2,
) -> Hidden:
    names = [f"thing {place}" for place in range(rng.randint(*n_things))]
    rng.shuffle(names)
    needs: dict[str, Cnf] = {}
    for place, name in enumerate(names):
        needs[name] = tuple(
            drawn_clause(rng, names[:place], most_alternatives)
            for _ in range(rng.choice((0, 1, 1, 2, 2)) if place else 0)
        )
    return Hidden(
        needs=needs,
        costs={name: (rng.randint(1, 20), rng.randint(1, 20)) for name in names},
        kinds={name: drawn_kind(rng) for name in names},
    )


def drawn_clause(
    rng: random.Random, earlier: Sequence[str], most_alternatives: int
) -> tuple[str, ...]:
    sizes = (1, 1, *range(2, most_alternatives + 1))
    return tuple(rng.sample(earlier, min(rng.choice(sizes), len(earlier))))


def drawn_kind(rng: random.Random) -> tuple[str, str]:
    if rng.random() < 0.6:
        return ("joint", rng.choice(JOINT_KINDS))
    return (rng.choice(("part", "part", "part", "aside")), rng.choice(PART_KINDS))


def is_legal(needs: Rules, order: Sequence[str]) -> bool:
    """Look at every thing and every need of it, with what came before."""
    for place, thing in enumerate(order):
        for clause in needs[thing]:
            if not any(other in order[:place] for other in clause):
                return False
    return True


def legal_orders(
    needs: Rules, begun: tuple[str, ...] = ()
) -> Iterator[tuple[str, ...]]:
    """Give every legal order, the unfinished ones too."""
    yield begun
    for thing in needs:
        if thing not in begun and is_legal(needs, (*begun, thing)):
            yield from legal_orders(needs, (*begun, thing))


def drawn_opening(rng: random.Random, hidden: Hidden) -> Opened:
    """Reach one or two things in a legal order, now and then with too much undone."""
    wanted: set[str] = set()
    for thing in rng.sample(hidden.things, rng.choice((1, 1, 2))):
        add_with_needs(rng, hidden, thing, wanted)
    for thing in hidden.things:
        if rng.random() < 0.12:
            add_with_needs(rng, hidden, thing, wanted)
    order: list[str] = []
    while len(order) < len(wanted):
        left = sorted(wanted - set(order))
        order.append(
            rng.choice([t for t in left if is_legal(hidden.needs, [*order, t])])
        )
    if rng.random() < 0.15:
        order = order[: rng.randint(1, len(order))]
    return Opened(tuple(order))


def add_with_needs(
    rng: random.Random, hidden: Hidden, thing: str, wanted: set[str]
) -> None:
    if thing not in wanted:
        wanted.add(thing)
        for clause in hidden.needs[thing]:
            if wanted.isdisjoint(clause):
                add_with_needs(rng, hidden, rng.choice(clause), wanted)


def drawn_openings(rng: random.Random, hidden: Hidden, n: int) -> tuple[Opened, ...]:
    return tuple(drawn_opening(rng, hidden) for _ in range(n))


def problem_of(hidden: Hidden, needs: Rules, target: str) -> OpeningProblem:
    """Ask for one thing under some needs, at the hidden costs."""
    acts = tuple(
        Act(
            name=thing,
            needs=needs[thing],
            modes=(Mode(("flat",), None, hidden.costs[thing][0]),),
            refit_modes=(Mode(("flat",), None, hidden.costs[thing][1]),),
        )
        for thing in needs
    )
    return OpeningProblem(
        name="hidden",
        unit="1 s",
        postures=("flat",),
        posture_cost=((0,),),
        guards=(),
        tools=("hand",),
        tool_cost=((0,),),
        start_posture="flat",
        start_tool="hand",
        end_posture="flat",
        targets=(target,),
        actions=acts,
    )


def recorded_opening(
    rng: random.Random, hidden: Hidden, opened: Opened, number: int = 1
) -> RecordedOpening:
    """Record an order with whatever facts the recorder took down."""
    return RecordedOpening(
        serial=f"S{number}",
        by=f"P{number % 3}",
        on=date(2025, 3, 1) + timedelta(days=number),
        removals=tuple(recorded(rng, hidden, thing) for thing in opened.order),
    )


def recorded(rng: random.Random, hidden: Hidden, thing: str) -> Recorded:
    removal, kind = hidden.kinds[thing]
    is_screw = kind == "screw"
    return Recorded(
        name=thing,
        removal=removal,
        kind=kind,
        n=rng.choice((None, 3, 3, 4)) if removal == "joint" else None,
        length_mm=rng.choice((None, 3.5, 4.0)) if is_screw else None,
        is_straight_out=rng.choice((None, True, False)),
        fits_other_way=None if removal == "joint" else rng.choice((None, True, False)),
        view=rng.choice(("", "base", "lid")),
        tool=rng.choice(("", "plastic card")),
        is_destroyed=rng.choice((None, False)) if removal == "joint" else None,
        photos=rng.choice(((), ("photo 1",))),
    )

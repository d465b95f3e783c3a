"""
A device of separate pieces, two hands that slip once, and eyes that look where told.

Nothing here asks the bench how a device stands: what is off, what lies where and what
can be seen follows from the description and from what the hands did. Chance comes
from a seeded source, so every rebuild is the same for the same seed.
"""

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, Protocol

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Fact, Stroke
from turnscrew.core.model.cable import Cable, Pinch
from turnscrew.core.model.connection import Plug, Socket
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.holding import Cover, Latch, Pin
from turnscrew.core.model.need import Blocker
from turnscrew.flows.bench.seals import YES

SlipKind = Literal["skip", "swap", "way", "latch", "lead"]
SLIPS: tuple[SlipKind, ...] = ("skip", "swap", "way", "latch", "lead")

P_SEEN = 0.99
"""How often what is wrong is seen where one is told to look; assumed. [1]"""

ALIKE_MM = 1.5
"""Lengths closer than this are mistaken in a tray; common practice, no source. [mm]"""

WAY_IN = ("undo", "lift", "aside")
WAY_BACK = ("make", "lay in", "bring back")


@dataclass(frozen=True)
class Piece:
    """One fastener, with the joint whose kind it is."""

    of: str
    length_mm: float | None


@dataclass(frozen=True)
class Slip:
    """
    One slip of the hands at one line of a run.

    ``name`` is the joint, part or cable it happens to; ``other`` the joint a piece is
    exchanged with, or the gap a lead is caught in; ``n`` the pieces left behind, 0 for
    all.
    """

    kind: SlipKind
    line: int
    name: str
    other: str = ""
    n: int = 0

    def __str__(self) -> str:
        more = f" / {self.other}" if self.other else ""
        return f"{self.kind} at line {self.line}: {self.name}{more} ({self.n})"


class HandsError(AssertionError):
    """What a line asks for cannot be done to the device as it lies."""


def is_loose(device: Device, name: str) -> bool:
    """Say whether the pieces of a joint come out one by one."""
    how = device.joints[name].how
    if isinstance(how, Screw):
        return not how.captive and how.loosen_turns is None
    if isinstance(how, Nut):
        return not how.captive
    return isinstance(how, (Pin, Cover))


def with_all_inside(device: Device, part: str) -> set[str]:
    """Give a part and all that leaves with it."""
    found = {part}
    for inner in (*device.parts[part].contains, *device.parts[part].carries):
        found |= with_all_inside(device, inner)
    return found


@dataclass
class Thing:
    """The device itself, whole at first, and what lies around it."""

    device: Device
    made: set[str] = field(default_factory=set)
    holes: dict[str, list[Piece | None]] = field(default_factory=dict)
    parts_on: set[str] = field(default_factory=set)
    parts_aside: set[str] = field(default_factory=set)
    open_latches: set[str] = field(default_factory=set)
    wrong_way: set[str] = field(default_factory=set)
    caught: set[tuple[str, str]] = field(default_factory=set)
    tray: dict[str, list[Piece]] = field(default_factory=dict)
    is_strict: bool = True

    def __post_init__(self) -> None:
        self.made = set(self.device.joints)
        self.parts_on = set(self.device.parts)
        for name, joint in self.device.joints.items():
            if is_loose(self.device, name):
                self.holes[name] = [self.piece_of(name)] * joint.n_pieces

    def piece_of(self, name: str) -> Piece:
        how = self.device.joints[name].how
        return Piece(name, how.length_mm if isinstance(how, Screw) else None)

    # --- what can be seen -----------------------------------------------------

    def lies_over(self, name: str) -> list[str]:
        """Name what covers a joint or a part now."""
        device = self.device
        thing = device.joints.get(name) or device.parts.get(name)
        found = [
            str(need)
            for need in (thing.under if thing else ())
            if not any(self.is_away(blocker, name) for blocker in need.any_of)
        ]
        found += [
            other
            for other, part in device.parts.items()
            if name in part.covers and not self.is_away(Blocker(other), name)
        ]
        return found + [
            other
            for other, joint in device.joints.items()
            if isinstance(joint.how, Cover)
            and name in joint.how.hides
            and other in self.made
        ]

    def is_away(self, blocker: Blocker, seen: str) -> bool:
        name = blocker.name
        if name in self.device.joints:
            is_off = name not in self.made
        else:
            is_off = self.lies_in(name) != ""
        move = self.device.moves.get(name)
        frees = move is not None and (blocker.state == "aside" or seen in move.frees)
        return is_off or (frees and name in self.parts_aside)

    def lies_in(self, part: str) -> str:
        """Name the part off the device that a part is, or hangs on; empty if none."""
        if part not in self.parts_on:
            return part
        outer = [
            other
            for other, facts in self.device.parts.items()
            if part in (*facts.contains, *facts.carries)
        ]
        return next((o for o in map(self.lies_in, outer) if o), "")

    def is_gap_seen(self, pinch: Pinch) -> bool:
        """Say whether a gap lies open: nothing that covers it is back."""
        return not any(self.is_in_place(name) for name in pinch.before)

    def is_in_place(self, name: str) -> bool:
        if name in self.device.joints:
            return name in self.made
        return not self.lies_in(name) and name not in self.parts_aside

    # --- what is wrong with it ------------------------------------------------

    def is_wrong(self, name: str, words: str) -> bool:
        """Say whether a joint or part shows that it is not as the words say."""
        if name in self.device.joints and self.is_joint_wrong(name):
            return True
        part = self.device.parts.get(name)
        if part is None:
            return False
        if name not in self.device.joints and name not in self.parts_on:
            return True
        right = part.orientation.right if part.orientation else ""
        # Who is not told which way is right does not see a wrong one.
        return name in self.wrong_way and right.casefold() in words.casefold()

    def is_joint_wrong(self, name: str) -> bool:
        if name not in self.made or name in self.open_latches:
            return True
        own = self.piece_of(name)
        return any(
            piece is None or (piece.length_mm or 0) > (own.length_mm or 0)
            for piece in self.holes.get(name, ())
        )

    def faults(self) -> list[str]:
        """Name all that is not as it was before anybody opened it."""
        joints, parts = self.device.joints, self.device.parts
        found = [f"{name} is not made" for name in joints if name not in self.made]
        found += [f"{name} is not on" for name in parts if name not in self.parts_on]
        found += [f"{name} is aside" for name in self.parts_aside]
        found += [f"{name} is open" for name in self.open_latches]
        found += [f"{name} is the wrong way round" for name in self.wrong_way]
        found += [f"{name} is caught" for name, _ in self.caught]
        found += [
            f"{letter} is not empty" for letter, in_it in self.tray.items() if in_it
        ]
        return found + [
            f"a hole of {name} is not right"
            for name, pieces in self.holes.items()
            if pieces != [self.piece_of(name)] * len(pieces)
        ]

    # --- what hands do --------------------------------------------------------

    def refuse(self, is_wrong: bool, words: str) -> None:
        if is_wrong and self.is_strict:
            raise HandsError(words)

    def undo(self, line: Line) -> None:
        name = line.name
        self.refuse(name not in self.made, f"{name} is off already")
        self.refuse(bool(self.lies_over(name)), f"{name} under {self.lies_over(name)}")
        self.made.discard(name)
        if name in self.holes:
            out = [piece for piece in self.holes[name] if piece is not None]
            self.refuse(not line.letter, f"{name} has no compartment")
            self.tray.setdefault(line.letter, []).extend(out)
            self.holes[name] = [None] * len(self.holes[name])
        # What is a part by the same name leaves with its joint.
        self.parts_on.discard(name)
        self.open_latches.discard(name)

    def lift(self, line: Line) -> None:
        name = line.name
        self.refuse(name not in self.parts_on, f"{name} is off already")
        self.refuse(bool(self.lies_over(name)), f"{name} under {self.lies_over(name)}")
        tied = self.tied(name)
        self.refuse(bool(tied), f"{name} is still held by {tied}")
        self.parts_on.discard(name)

    def tied(self, part: str) -> list[str]:
        group = with_all_inside(self.device, part)
        return [
            name
            for name, joint in self.device.joints.items()
            if name in self.made
            and group & set(joint.holds)
            and not group >= set(joint.holds)
        ]

    def move_aside(self, line: Line) -> None:
        name, move = line.name, self.device.moves[line.name]
        self.refuse(name not in self.parts_on, f"{name} is off")
        self.refuse(name in self.parts_aside, f"{name} is aside already")
        if move.needs is None:
            tied = set(self.tied(name)) - {*move.frees, *move.keeps}
            self.refuse(bool(tied), f"{name} is still held by {tied}")
        self.parts_aside.add(name)

    def bring_back(self, line: Line) -> None:
        name = line.name
        self.refuse(name not in self.parts_aside, f"{name} is not aside")
        self.parts_aside.discard(name)

    def lay_in(self, line: Line, *, is_wrong_way: bool = False) -> None:
        name = line.name
        self.refuse(name in self.parts_on, f"{name} is on already")
        self.refuse(bool(self.lies_over(name)), f"{name} under {self.lies_over(name)}")
        self.parts_on.add(name)
        if is_wrong_way:
            self.wrong_way.add(name)

    def make(self, line: Line, *, n_left: int = 0) -> None:
        name = line.name
        self.refuse(name in self.made, f"{name} is made already")
        self.refuse(bool(self.lies_over(name)), f"{name} under {self.lies_over(name)}")
        held = [part for part in self.device.joints[name].holds if part != name]
        places = {part: self.lies_in(part) for part in held}
        # Alone, it is held to what stays; else all must be on the same thing.
        is_apart = len({*places.values()} | ({""} if len(held) == 1 else set())) > 1
        self.refuse(is_apart, f"{name} holds what is apart: {places}")
        self.made.add(name)
        if name in self.device.parts:
            self.parts_on.add(name)
        if name in self.holes:
            lying = self.tray.get(line.letter, [])
            n_back = len(lying) - n_left
            back, self.tray[line.letter] = lying[:n_back], lying[n_back:]
            n_holes = len(self.holes[name])
            self.refuse(n_back > n_holes, f"{name}: {n_back} pieces, {n_holes} holes")
            self.holes[name] = [*back, *[None] * (n_holes - len(back))][:n_holes]


@dataclass
class Hands:
    """Hands that do what a line says, but for one slip."""

    thing: Thing
    slip: Slip | None = None

    def do(self, line: Line) -> None:
        """Do one line."""
        slip = self.slip
        if slip is not None and slip.line == line.number:
            if slip.kind in ("swap", "lead"):
                self.slip_beside(slip)
            if slip.kind == "skip" and not slip.n:
                return
        doing = {
            "undo": self.thing.undo,
            "lift": self.thing.lift,
            "aside": self.thing.move_aside,
            "bring back": self.thing.bring_back,
            "lay in": self.lay_in,
            "make": self.make,
        }
        if line.does in doing:
            doing[line.does](line)

    def lay_in(self, line: Line) -> None:
        self.thing.lay_in(line, is_wrong_way=self.slips("way", line))

    def make(self, line: Line) -> None:
        n_left = self.slip.n if self.slip and self.slips("skip", line) else 0
        self.thing.make(line, n_left=n_left)
        if self.slips("latch", line):
            self.thing.open_latches.add(line.name)
        if self.slips("way", line):
            self.thing.wrong_way.add(line.name)

    def slips(self, kind: SlipKind, line: Line) -> bool:
        slip = self.slip
        return slip is not None and slip.kind == kind and slip.line == line.number

    def slip_beside(self, slip: Slip) -> None:
        """Exchange two pieces in the tray, or let a lead slide into its gap."""
        tray = self.thing.tray
        if slip.kind == "lead":
            self.thing.caught.add((slip.name, slip.other))
            return
        one = next(le for le, got in tray.items() if slip.name in {p.of for p in got})
        two = next(le for le, got in tray.items() if slip.other in {p.of for p in got})
        tray[one][0], tray[two][0] = tray[two][0], tray[one][0]


@dataclass
class Eyes:
    """Eyes that look at what a line names, and see it nearly always."""

    thing: Thing
    rng: random.Random
    p_seen: float = P_SEEN
    overlooked: list[str] = field(default_factory=list)

    def answer(self, line: Line) -> dict[str, Fact]:
        """Give the honest answer of somebody who only looks where told."""
        facts: dict[str, Fact] = {"other": "P2"} if line.second_look else {}
        match line.asks:
            case "look":
                # What is on record is no matter of the device: it is there.
                points = () if line.kind == YES else line.points
                wrong = [p for p in points if self.is_told_wrong(p)]
                facts |= {"signed": True} if line.wants_photo else {}
                return facts | {"answer": "no" if wrong else "yes"}
            case "count":
                return facts | self.counted(line)
            case "test":
                return facts | self.tested(line)
            case "number":
                value = line.low if line.low is not None else line.high
                return facts | {"value": str(value if value is not None else 1)}
        return facts

    def is_told_wrong(self, point: str) -> bool:
        name, _, words = point.partition(":")
        if name == "Beside the device":
            is_left = set(self.thing.device.parts) - self.thing.parts_on
            return self.sees(point) if is_left else False
        gaps = [
            (cable, pinch)
            for cable, pinch in gaps_of(self.thing.device)
            if cable.casefold() == name.casefold()
            and f"nothing caught between {pinch.between}" in words
        ]
        if gaps:
            (cable, pinch) = gaps[0]
            if not self.thing.is_gap_seen(pinch):
                return True
            is_caught = (cable, pinch.between) in self.thing.caught
            return is_caught and self.sees(point)
        return self.is_thing_wrong(name, words, point)

    def is_thing_wrong(self, name: str, words: str, point: str) -> bool:
        device = self.thing.device
        known = [
            one
            for one in (*device.joints, *device.parts)
            if one.casefold() == name.casefold()
        ]
        # What is not there to be seen cannot be called right.
        if not known or self.thing.lies_over(known[0]):
            return True
        return self.thing.is_wrong(known[0], words) and self.sees(point)

    def sees(self, what: str) -> bool:
        is_seen = self.rng.random() < self.p_seen
        if not is_seen:
            self.overlooked.append(what)
        return is_seen

    def counted(self, line: Line) -> dict[str, Fact]:
        for letter in line.compartments:
            left = len(self.thing.tray.get(letter, ()))
            if left and self.sees(f"compartment {letter}"):
                return {"left": left, "letter": letter}
        return {"left": 0}

    def tested(self, line: Line) -> dict[str, Fact]:
        if not line.may_power:
            return {"answer": "not possible", "reason": line.power}
        test = self.thing.device.tests.get(line.name)
        absent = [
            name
            for name in (test.needs_fitted if test else ())
            if not self.thing.is_in_place(name) and name not in self.thing.parts_aside
        ]
        return {"answer": "failed" if absent else "passed"}


def is_right(line: Line, facts: dict[str, Fact]) -> bool:
    """Say whether an honest answer lets the work go on."""
    if line.asks in ("look", "test"):
        return facts.get("answer") in ("yes", "passed")
    return line.asks != "count" or facts.get("left") == 0


def gaps_of(device: Device) -> Iterator[tuple[str, Pinch]]:
    cables: dict[str, Cable] = dict(device.cables)
    for name, cable in cables.items():
        for pinch in cable.pinch:
            yield name, pinch


# --- where hands could slip -------------------------------------------------------


def possible_slips(
    device: Device, run: Run, kind: SlipKind, rng: random.Random
) -> list[Slip]:
    """List the slips of one kind that could happen in a run."""
    back = [line for line in run.lines if line.does in WAY_BACK]
    if kind == "lead":
        out = [line for line in run.lines if line.does in WAY_IN]
        return list(_leads(device, out[-1:], back, rng))
    finders: dict[SlipKind, Callable[[Device, list[Line]], Iterator[Slip]]] = {
        "skip": _skips, "swap": _swaps, "way": _ways, "latch": _latches,
    }  # fmt: skip
    return list(finders[kind](device, back))


def _skips(device: Device, back: list[Line]) -> Iterator[Slip]:
    for line in back:
        if line.does == "bring back":
            continue
        yield Slip("skip", line.number, line.name)
        if line.name in device.joints and is_loose(device, line.name):
            if device.joints[line.name].n_pieces > 1:
                yield Slip("skip", line.number, line.name, n=1)


def _swaps(device: Device, back: list[Line]) -> Iterator[Slip]:
    made = [
        line
        for line in back
        if line.name in device.joints and is_loose(device, line.name)
    ]
    for index, line in enumerate(made):
        for other in made[index + 1 :]:
            if are_mistaken(device, line.name, other.name):
                yield Slip("swap", line.number, line.name, other.name)


def are_mistaken(device: Device, one: str, other: str) -> bool:
    """Say whether two screws turn in the same hole and nearly look alike."""
    mine, theirs = device.joints[one].how, device.joints[other].how
    if not (isinstance(mine, Screw) and isinstance(theirs, Screw)):
        return False
    if (mine.drive, mine.thread) != (theirs.drive, theirs.thread):
        return False
    if mine.length_mm is None or theirs.length_mm is None:
        return False
    return 0 < abs(mine.length_mm - theirs.length_mm) < ALIKE_MM


def _ways(device: Device, back: list[Line]) -> Iterator[Slip]:
    for line in back:
        part = device.parts.get(line.name)
        if line.does != "bring back" and part is not None and part.orientation:
            yield Slip("way", line.number, line.name)


def _latches(device: Device, back: list[Line]) -> Iterator[Slip]:
    for line in back:
        joint = device.joints.get(line.name)
        if joint is not None and isinstance(joint.how, (Socket, Plug, Latch)):
            yield Slip("latch", line.number, line.name)


def _leads(
    device: Device, last_out: list[Line], back: list[Line], rng: random.Random
) -> Iterator[Slip]:
    for cable, pinch in gaps_of(device):
        n_before = [i for i, line in enumerate(back) if line.name in pinch.before][:1]
        # It may slide in at any action before the one that covers its gap.
        when = [*last_out, *back[: n_before[0]]] if n_before else []
        if when:
            yield Slip("lead", rng.choice(when).number, cable, pinch.between)


# --- one rebuild ------------------------------------------------------------------


class State(Protocol):
    """What the bench says of a device; only its next line is asked for here."""

    @property
    def at(self) -> int: ...


@dataclass
class Bench:
    """What takes strokes: the rules of the bench, given as two functions."""

    run: Run
    state_of: Callable[[Run, Sequence[Stroke]], Any]
    refusal: Callable[[Run, Any, Stroke, str], str]
    strokes: list[Stroke] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.state: State = self.state_of(self.run, self.strokes)

    @property
    def line(self) -> Line | None:
        """Give the next line."""
        at = self.state.at
        return self.run.lines[at] if at < len(self.run.lines) else None

    def tell(self, stroke: Stroke, by: str = "P1") -> str:
        """Write a stroke if nothing speaks against it."""
        found = self.refusal(self.run, self.state, stroke, by)
        if not found:
            self.strokes.append(stroke)
            self.state = self.state_of(self.run, self.strokes)
        return found


@dataclass(frozen=True)
class Stop:
    """Where a rebuild was stopped, and by what."""

    line: int
    phase: str
    words: str


@dataclass
class Rebuild:
    """One device, the hands and eyes on it, and its bench."""

    bench: Bench
    hands: Hands
    eyes: Eyes

    def one_line(self) -> Stop | None:
        """Do the next line and tell it."""
        line = self.bench.line
        assert line is not None
        if line.asks in ("done", "close"):
            self.hands.do(line)
            stroke = Stroke("done", line.number)
        else:
            facts = self.eyes.answer(line)
            # A test that no slip prevents tells nothing of a slip.
            is_untold = facts.get("answer") == "not possible" and self.hands.slip
            if not is_right(line, facts) and not is_untold:
                asked = "; ".join(line.points) or line.says
                return Stop(line.number, line.phase, f"{asked} -> {facts}")
            stroke = Stroke("answer", line.number, facts)
        words = self.bench.tell(stroke)
        return Stop(line.number, line.phase, words) if words else None

    def to_the_end(self) -> Stop | None:
        """Go on until something stops it; None if nothing does."""
        while self.bench.line is not None:
            stop = self.one_line()
            if stop is not None:
                return stop
        return None


def rebuild(
    device: Device, bench: Bench, slip: Slip | None, rng: random.Random
) -> Rebuild:
    """Set a whole device on a bench."""
    thing = Thing(device, is_strict=slip is None)
    return Rebuild(bench, Hands(thing, slip), Eyes(thing, rng))

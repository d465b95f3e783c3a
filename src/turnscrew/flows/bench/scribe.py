"""How do an opening path and a refit list become the lines of a run?"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from turnscrew.core.bench.looks import look_at
from turnscrew.core.bench.owed import ALL_OUT
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.model.blocking import Waits, isolating_joints
from turnscrew.core.model.device import Device
from turnscrew.core.model.lying_open import is_reachable
from turnscrew.core.model.refit import BARE_HAND
from turnscrew.core.model.running import MayPower, may_power
from turnscrew.core.model.stopping import is_at_rest
from turnscrew.core.opening.answer import Action, OpeningAnswer
from turnscrew.core.opening.around import take_out_sentences
from turnscrew.core.opening.sentences import stop_after
from turnscrew.core.opening.taken_out import TakenOut
from turnscrew.flows.bench import packs
from turnscrew.flows.bench.faces import face_to_draw, face_up
from turnscrew.flows.bench.fasteners import (
    fasteners_in,
    letters_of_no_joint,
    words_in_tray,
)
from turnscrew.flows.bench.goal import Goal, Lying, Work
from turnscrew.flows.bench.left import settings_left, tests_left
from turnscrew.flows.bench.seals import YES, is_seal, yes_to_see
from turnscrew.flows.bench.telling import (
    count_words,
    power_line,
    together,
    with_bar,
    with_stops,
)

SAFE_STOP = "Safe stop."

_NO_LINE = ("take", "take out", "put back")
"""Tools are taken in passing; what is beside the path is written here."""

_WAY_IN = ("undo", "lift", "aside")
_WAY_BACK = ("make", "lay in", "bring back")


@dataclass
class Scribe:
    """Writes the lines of one run while it keeps what is off."""

    device: Device
    goal: Goal
    lying: Lying
    waits: Waits
    lines: list[Line] = field(default_factory=list)
    off: set[str] = field(default_factory=set)
    aside: set[str] = field(default_factory=set)
    letters: dict[str, str] = field(default_factory=dict)
    to_look: dict[str, str] = field(default_factory=dict)
    to_look_now: dict[str, tuple[str, ...]] = field(default_factory=dict)
    to_count: dict[str, str] = field(default_factory=dict)
    turns: list[Action] = field(default_factory=list)
    taken: set[str] = field(default_factory=set)
    taken_out: TakenOut = field(init=False)
    posture: str = ""
    seen_in: dict[str, str] = field(default_factory=dict)
    left_out: frozenset[str] = frozenset()
    left_letters: list[str] = field(default_factory=list)
    is_mended: bool = False
    is_powered: bool = False

    def __post_init__(self) -> None:
        self.off |= self.lying.off
        self.taken |= self.lying.off
        self.aside |= self.lying.aside
        self.letters |= self.lying.letters
        self.posture = self.lying.posture
        # What is back, but was not looked at yet, is asked as if it came back now.
        self.taken |= {*self.lying.to_look, *self.lying.to_count}
        for name in self.lying.to_look:
            self._will_look(name)
        for name in self.lying.to_count:
            self.to_count[name] = self.letters[name]
        self.is_powered = self.lying.is_powered
        self.left_out = packs.left_out(self.device, self.goal)

    def written(self, answer: OpeningAnswer) -> Run:
        """Write an answer."""
        if answer.status != "impossible":
            self.taken_out = TakenOut(self.device, self.waits)
            self.taken_out.are_out({*self.lying.out})
            if self.lying.is_open:
                # What lies free was taken out on the way here.
                list(self.taken_out.come_free(self.off, self.aside))
            if answer.is_opened or self.lying.is_open:
                self._power_off("before")
            for name, words in packs.not_boxed(self.device, self.goal, self.lying):
                self._add("before", "done", "box", name, says=words)
            self._before(answer)
            for action in answer.opening:
                self._act(action, "opening")
                self._take_out("opening")
            self._mend(answer)
            self.is_mended = packs.makes_good(self.device, self.goal)
            for action in answer.refit:
                self._act(action, "refit")
            self._before_turning()
            self._told(self.turns, "refit")
            if self.lying.is_open or answer.is_opened:
                self._close()
            self._final(answer)
        return Run(
            device=self.device.name,
            revision=self.device.revision,
            reach=self.goal.reach,
            status=answer.status,
            reason=answer.reason,
            lines=tuple(with_stops(self.lines)),
            off=self.lying.off,
            aside=self.lying.aside,
            tray=self.lying.tray,
            fasteners=fasteners_in(self.device, self.letters, self.lying),
            letters=dict(self.letters),
            stays=self.goal.stays,
            posture=self.lying.posture,
        )

    def _add(self, phase: str, asks: str, does: str, name: str, **facts: Any) -> None:
        away = frozenset(self.off | self.aside)
        power = self._power(away)
        at_rest = is_at_rest(
            self.device, self.off, self.aside, is_powered=self.is_powered
        )
        values: dict[str, Any] = {
            "number": len(self.lines),
            "phase": phase,
            "asks": asks,
            "does": does,
            "name": name,
            "kind": does,
            "posture": self.posture,
            "stop": SAFE_STOP if at_rest else "",
            "power": power_line(power, is_live=self._is_live()),
            "may_power": power.is_allowed,
            "power_s": power.for_s,
            "n_off": sum(n in self.device.parts for n in self.off),
            "n_unplugged": sum(
                n in self.device.joints and self.device.joints[n].is_electrical
                for n in self.off
            ),
            "n_aside": len(self.aside - self.off),
        }
        line = Line(**(values | facts))
        if self.goal.is_pack_bad and not self.is_mended:
            told = packs.with_pack_cautions(self.device, self.off, line, line.cautions)
            line = replace(line, cautions=told)
        self.lines.append(line)

    def _power(self, away: frozenset[str]) -> MayPower:
        if barred := self._barred():
            return MayPower(is_allowed=False, reasons=(barred,))
        return may_power(self.device, away)

    def _barred(self) -> str:
        return self.goal.no_start or ("" if self.is_mended else self.goal.no_power)

    def _is_live(self) -> bool:
        """Say whether the pack of an open device is still connected."""
        isolating = set(isolating_joints(self.device))
        return bool(self.off and isolating) and not self.off & isolating

    def _before(self, answer: OpeningAnswer) -> None:
        for words in self.goal.heed:
            self._add("before", "done", "heed", words, says=words)
        if not answer.opening:
            return
        if not self.off and not self.aside:
            # Gloves come before the first thing that is taken hold of.
            out = set(take_out_sentences(self.device))
            for words in answer.before_opening:
                if words not in out:
                    self._add("before", "done", "see to", words, says=words)
            self._take_out("before")
        for words in answer.confusable:
            self._add(
                "before", "done", "read", words,
                says="Easily mistaken: read before the first is taken out.",
                details=(stop_after(words),),
            )  # fmt: skip

    def _take_out(self, phase: str) -> None:
        for one in self.taken_out.come_free(self.off, self.aside):
            self._add(
                phase, "done", "see to", one.what, says=one.says, cautions=one.cautions
            )

    def _put_back(self, action: Action) -> None:
        off, aside = self.off - {action.name}, self.aside - {action.name}
        for thing in self.taken_out.go_back_before(action.name, off, aside):
            if thing.what in self.left_out:
                self._leave_out(thing.what)
                continue
            self._add(
                "refit", "done", "give back", thing.what, says=thing.says,
                cautions=thing.cautions,
            )  # fmt: skip

    def _leave_out(self, name: str, letter: str = "") -> None:
        joint = self.device.joints.get(name)
        if joint is None:
            says = packs.LEAVE_OUT.format(name[0].upper() + name[1:])
            self._add("refit", "done", "leave out", name, says=says)
        elif letter and joint.goes_in_tray:
            self.left_letters.append(letter)

    def _act(self, action: Action, phase: str) -> None:
        if action.verb in _NO_LINE:
            return
        if phase == "refit" and action.verb == "turn":
            # What is covered next is looked at before the device is turned.
            self.turns.append(action)
            return
        if action.verb == "look":
            place = f"{action.name}, as it lies"
            # A cable may have more than one gap behind the same cover.
            n_more = sum(told.startswith(place) for told in self.to_look_now)
            place += f" ({n_more + 1})" if n_more else ""
            self.to_look[place] = action.says.removeprefix("Look: ")
            self.to_look_now[place] = action.details
            self.seen_in[place] = self.posture
            return
        if action.verb in _WAY_BACK and action.name in self.left_out:
            self._leave_out(action.name, action.letter)
            return
        if action.verb in _WAY_BACK:
            self._power_off()
            self._put_back(action)
            self._before_covering(action)
        elif action.verb == "test":
            # What is askew is found before it has power, not after.
            self._look("refit", list(self.to_look), (), "before it has power")
            self.is_powered = True
        elif to_see := yes_to_see(self.device, action):
            self._add(
                phase, "look", "look", action.name, kind=YES, says="Look:",
                points=(to_see,), cautions=action.cautions,
            )  # fmt: skip
        self._before_turning()
        self._told((*self.turns, action), phase)
        self.turns.clear()
        self._keep(action)

    def _told(self, actions: Iterable[Action], phase: str) -> None:
        for action in actions:
            self.posture = action.posture
            self._line(action, phase)

    def _line(self, action: Action, phase: str) -> None:
        is_test = action.verb == "test"
        if is_test and (barred := self._barred()):
            action = with_bar(action, barred)
        words = words_in_tray(self.device, action.name, action.letter, self.lying)
        in_tray = bool(words) and not is_test
        moves = "taken" if action.verb == "undo" else "refitted"
        self._add(
            phase,
            "test" if is_test else "done",
            "test open" if is_test else action.verb,
            action.name,
            kind=action.kind,
            says=action.says,
            letter=action.letter,
            n=action.n,
            fastener=words if in_tray else "",
            moves=moves if in_tray else "",
            cautions=action.cautions,
            details=action.details,
            why=action.why,
            view=face_to_draw(self.device, action),
            tool="" if action.tool == BARE_HAND else action.tool,
            seconds=action.seconds,
            sign_off=action.sign_off,
            renew=action.renew,
            **({"stop": action.stop} if action.stop else {}),
        )
        if action.letter:
            self.letters[action.name] = action.letter

    def _keep(self, action: Action) -> None:
        """Keep what is off from here on, and what is to be looked at and counted."""
        name = action.name
        if action.verb in ("undo", "lift"):
            self.off.add(name)
            self.taken.add(name)
            self.to_look.pop(name, None)
            self.to_count.pop(name, None)
            if words := packs.box_words(self.device, self.goal, name):
                self._add("opening", "done", "box", name, says=words)
        elif action.verb == "aside":
            self.aside.add(name)
        elif action.verb == "bring back":
            self.aside.discard(name)
        elif action.verb in _WAY_BACK:
            self.off.discard(name)
            if action.letter and self.device.joints[name].goes_in_tray:
                self.to_count[name] = action.letter
        if action.verb in _WAY_BACK and name not in self.off | self.aside:
            self._will_look(name)

    def _power_off(self, phase: str = "refit") -> None:
        if self.is_powered:
            self._add(
                phase, "done", "power off", "power",
                says="Take the power off again; adapter out.",
            )  # fmt: skip
            self.is_powered = False

    def _will_look(self, name: str) -> None:
        words = look_at(self.device, name, self.taken)
        self.to_look |= {name: words} if words else {}
        self.seen_in[name] = self.posture

    def _before_turning(self) -> None:
        """Ask for what came back in this posture and is turned away now."""
        if self.turns:
            seen = [name for name in self.to_look if self.seen_in[name] == self.posture]
            self._look("refit", seen, (), "before it is turned away")

    def _before_covering(self, action: Action) -> None:
        """Ask for what this action would put out of reach."""
        off, aside = self.off - {action.name}, self.aside - {action.name}
        is_last = is_seal(self.device, action)
        covered = [
            name
            for name in self.to_look
            if is_last
            or name in self.to_look_now
            or is_reachable(self.waits, name, self.off, self.aside)
            and not is_reachable(self.waits, name, off, aside)
        ]
        details = tuple(d for words in self.to_look_now.values() for d in words)
        self.to_look_now.clear()
        self._look("refit", covered, details, f"before {action.name} covers it")
        if action.verb == "make" and not is_last:
            return
        counted = [
            name
            for name in self.to_count
            if name not in self.off
            and (is_last or not is_reachable(self.waits, name, off, aside))
        ]
        self._count("refit", counted, f"before {action.name} covers it")

    def _look(
        self, phase: str, names: Iterable[str], details: tuple[str, ...], why: str
    ) -> None:
        for some in together({name: self.to_look[name] for name in names}):
            points = tuple(stop_after(self.to_look.pop(name)) for name in some)
            self._add(
                phase, "look", "look", ", ".join(some),
                says="Look: is each of these so?" if len(some) > 1 else "Look:",
                names=tuple(some),
                points=points,
                details=details,
                why=why,
                view=face_up(self.device, self.posture),
                second_look=any(self._wants_second_look(name) for name in some),
            )  # fmt: skip

    def _wants_second_look(self, name: str) -> bool:
        thing = self.device.joints.get(name) or self.device.parts.get(name)
        return thing is not None and thing.refit.second_look

    def _count(self, phase: str, names: list[str], why: str) -> None:
        if not names:
            return
        kept = {self.to_count.pop(name): self._compartment(name) for name in names}
        self._add(
            phase, "count", "count", ", ".join(kept),
            says=count_words(kept),
            names=tuple(names),
            compartments=tuple(kept),
            why=why,
        )  # fmt: skip

    def _compartment(self, name: str) -> str:
        joint = self.device.joints.get(name)
        return "" if joint is None else joint.compartment

    def _work(self, work: Work) -> None:
        freed = packs.frees(self.device, self.goal, work)
        if words := packs.again_words(self.goal, self.lying, work, freed):
            self._add("opening", "done", "box", work.reach, says=words)
        self._add(
            "work", "done", "fit" if work.spare else "mend", work.reach or work.says,
            kind="work",
            says=work.says,
            spare=work.spare,
            cautions=work.cautions,
            details=work.details,
            seconds=work.seconds,
            sign_off=work.sign_off,
            view=face_up(self.device, self.posture),
            frees=freed,
        )  # fmt: skip

    def _mend(self, answer: OpeningAnswer) -> None:
        for work in self.goal.work:
            self._work(work)
        if self.goal.usual and self.goal.work and answer.refit:
            self._look_further()

    def _look_further(self) -> None:
        """Ask for each fault that is usual in such a device, while it lies open."""
        for one in self.goal.usual:
            self._add(
                "refit", "look", "look", "other faults",
                says="Look:",
                points=(f"Without this fault: {one.says}.",),
                found=one.code,
                if_found=one.cautions,
                why="a second fault found now is mended in the same opening",
                view=face_up(self.device, self.posture),
            )  # fmt: skip

    def _close(self) -> None:
        """Write the close gate."""
        self._power_off()
        self._look("close", list(self.to_look), (), "last look before it is closed")
        self._count("close", list(self.to_count), "last look before it is closed")
        self._count_strays()
        self._add(
            "close", "look", "look", "bench",
            says="Look:",
            points=("Beside the device: no part, foot, spring or tape is left.",),
            why="what is left over belongs somewhere",
        )  # fmt: skip
        is_tested = any(line.asks == "test" for line in self.lines)
        tested = "tested" if is_tested else "not tested open"
        self._add(
            "close", "close", "close", "close gate",
            says=f"Close gate: tray empty, looked at, {tested}. Closed?",
        )  # fmt: skip

    def _count_strays(self) -> None:
        """Ask what becomes of pieces whose joint this revision does not have."""
        strays = letters_of_no_joint(self.device, self.letters, self.lying)
        for name, letters, why in (
            (
                "pieces of another revision",
                strays,
                "no joint of this revision takes them",
            ),
            ("pieces of the pack", self.left_letters, "the pack they hold stays out"),
        ):
            if letters:
                self._add(
                    "close", "count", "count", name,
                    says=count_words(dict.fromkeys(letters, "")),
                    compartments=tuple(letters),
                    why=why,
                )  # fmt: skip

    def _final(self, answer: OpeningAnswer) -> None:
        out = [one.what for one in self.taken_out.out if one.what not in self.left_out]
        if out:
            self._add(
                "final", "done", "give back", ALL_OUT,
                says=f"Put back what was taken out: {', '.join(out)}.",
            )  # fmt: skip
        for words in settings_left(self.device, self.lying, answer):
            self._add("final", "done", "set", words, says=words)
        for i, words in enumerate(tests_left(self.device, self.lying, answer)):
            name, _, says = words.partition(": ")
            details = answer.signals if i == 0 else ()
            self._add("final", "test", "test", name, says=words, details=details)
        is_barred = self.goal.no_power and not self.is_mended
        for one in self.goal.finish:
            # What goes back with a bad pack in it is never charged.
            if is_barred and one.name == "charge":
                continue
            self._add(
                "final", one.asks, one.name, one.name,
                says=one.says, unit=one.unit, low=one.low, high=one.high,
                cautions=one.cautions,
                **({"may_power": True} if one.is_outside else {}),
            )  # fmt: skip

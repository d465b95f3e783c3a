"""
How does a numeric plan read at the bench?

Every move becomes a line in words, with its dangers, its reason and its count;
places to look at are put in before what would cover them,
and what the opening uses up, keeps apart and must test is drawn together.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from turnscrew.core.model.alike import item_letter
from turnscrew.core.model.blocking import Removal, doing_of, isolating_joints
from turnscrew.core.model.device import Device
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.refit import BARE_HAND
from turnscrew.core.model.running import may_power
from turnscrew.core.model.stopping import is_at_rest
from turnscrew.core.model.times import band_s
from turnscrew.core.model.turning import turns_between
from turnscrew.core.opening.answer import (
    Action,
    Gate,
    Move,
    NumericAnswer,
    OpeningAnswer,
)
from turnscrew.core.opening.around import (
    final_tests_due,
    heeded_before,
    mistakable,
    settings_due,
    used_up_by,
)
from turnscrew.core.opening.cautions import (
    HEAT,
    SECOND_PAIR,
    caution_sentence,
    cautions_for,
    pack_cautions_before,
)
from turnscrew.core.opening.compile import Posed, risk_s
from turnscrew.core.opening.details import (
    cable_details,
    details_back,
    details_in,
    easier_details,
    equal_details,
    posture_details,
    stand_in_details,
)
from turnscrew.core.opening.power import (
    apart_details,
    live_sentences,
    power_words,
    signal_sentences,
    start_details,
)
from turnscrew.core.opening.sentences import (
    make_sentence,
    renew_sentence,
    stop_after,
    undo_sentence,
)
from turnscrew.core.opening.taken_out import Beside, TakenOut
from turnscrew.core.opening.tools import tool_among, tool_words, uses_for
from turnscrew.core.opening.whole import (
    about,
    mark_details,
    origin_details,
    photo_sentences,
    slip_sentence,
)

NO_LETTERS: Mapping[str, str] = {}

WAY_IN_ONLY = ("This joint does not survive", HEAT)
"""Beginnings of cautions that do not concern the way back."""

STOP_WORDS = "Safe stop: nothing hangs by a lead or lies half undone."


def in_bench_words(
    device: Device,
    reach: tuple[str, ...],
    posed: Posed,
    answer: NumericAnswer,
    *,
    letters: Mapping[str, str] = NO_LETTERS,
) -> OpeningAnswer:
    """
    Say a numeric answer in the words of the bench.

    Parameters
    ----------
    device
        The device.
    reach
        What was wanted.
    posed
        The problem posed.
    answer
        Its answer.
    letters
        Item letters that joints bear already.

    Returns
    -------
    OpeningAnswer
        The opening path and the refit list.
    """
    if answer.cost is None or answer.bound is None:
        return OpeningAnswer(
            device=device.name,
            revision=device.revision,
            reach=reach,
            status="impossible",
            cost_s=None,
            bound_s=None,
            reason=answer.reason,
            stuck=answer.stuck,
        )
    before = [posed.removals[name] for name in posed.problem.already_off]
    off_before = {r.name for r in before if r.kind != "aside"}
    writer = _Writer(
        device,
        posed,
        off=set(off_before),
        aside={r.name for r in before if r.kind == "aside"},
        all_off=off_before,
        letters=dict(letters),
        posture=posed.problem.start_posture,
        planned={posed.removals[m.name].name for m in answer.plan if _is_removal(m)},
    )
    out_first = writer.begin()
    for move in answer.plan:
        writer.write(move)
    writer.end()
    off = writer.all_off
    hands_on_s = round(sum(a.seconds for a in writer.opening + writer.refit), 1)
    return OpeningAnswer(
        device=device.name,
        revision=device.revision,
        reach=reach,
        status=answer.status,
        cost_s=answer.cost / 10,
        bound_s=answer.bound / 10,
        hands_on_s=hands_on_s,
        band_s=band_s(hands_on_s),
        opening=tuple(writer.opening),
        refit=tuple(writer.refit),
        gates=tuple(writer.gates),
        used_up=tuple(used_up_by(device, off)),
        untouched=tuple(name for name in device.joints if name not in off),
        confusable=tuple(mistakable(device, off)),
        before_opening=(*out_first, *heeded_before(device), *writer.first),
        settings=tuple(settings_due(device, off)),
        final_tests=tuple(final_tests_due(device, off)),
        about=about(device),
        signals=() if writer.has_tested else signal_sentences(device),
        photos=photo_sentences(device, off),
    )


def _is_removal(move: Move) -> bool:
    return move.kind == "remove"


@dataclass
class _Writer:
    """Writes lines while it keeps what is off."""

    device: Device
    posed: Posed
    opening: list[Action] = field(default_factory=list)
    refit: list[Action] = field(default_factory=list)
    gates: list[Gate] = field(default_factory=list)
    off: set[str] = field(default_factory=set)
    aside: set[str] = field(default_factory=set)
    all_off: set[str] = field(default_factory=set)
    letters: dict[str, str] = field(default_factory=dict)
    planned: set[str] = field(default_factory=set)
    first: list[str] = field(default_factory=list)
    posture: str = ""
    is_back: bool = False
    has_tested: bool = False
    was_clean: bool = False
    taken_out: TakenOut = field(init=False)

    def __post_init__(self) -> None:
        self.taken_out = TakenOut(self.device, self.posed.waits)

    def begin(self) -> tuple[str, ...]:
        """Take out what lies free before anything is undone; say it."""
        free = list(self.taken_out.come_free(self.off, self.aside))
        return tuple(one.says for one in free)

    def end(self) -> None:
        """Give back at the end what nothing covers."""
        out = ", ".join(thing.what for thing in self.taken_out.out)
        if out and self.refit:
            last = self.refit[-1]
            here = Move("refit", out, 0, 0, last.posture, last.tool)
            all_of_it = Beside(out, f"Put back what was taken out: {out}.")
            self._beside(here, "put back", all_of_it)

    def write(self, move: Move) -> None:
        """Write one move."""
        match move.kind:
            case "turn-round":
                self.is_back = True
            case "turn" | "take":
                self._set_up(move)
            case "check":
                self._test(move)
            case _:
                self._do(move)

    def _add(self, move: Move, **facts: object) -> None:
        lines = self.refit if self.is_back else self.opening
        values = {
            "number": len(lines) + 1,
            "posture": move.posture,
            "tool": BARE_HAND,
            "seconds": move.cost / 10,
            "off": len(self.off),
        } | facts
        lines.append(Action(**values))  # type: ignore[arg-type]

    def _set_up(self, move: Move) -> None:
        if move.kind == "take":
            # Laying a tool down is no work worth a line.
            if move.name != BARE_HAND:
                tool = self.device.tools.get(move.name)
                size = f": {tool.size}" if tool and tool.size else ""
                says = stop_after(f"Take {move.name}{size}")
                self._add(
                    move, verb="take", name=move.name, kind="tool", says=says,
                    tool=move.name,
                )  # fmt: skip
            return
        lie = self.device.postures.get(move.name)
        support = f" Support: {stop_after(lie.support)}" if lie and lie.support else ""
        turns = turns_between(self.device, self.posture, move.name)
        self.posture = move.name
        self._add(
            move,
            verb="turn",
            name=move.name,
            kind="posture",
            says=f"Turn it: {move.name}.{support}",
            cautions=(SECOND_PAIR,) if any(t.hands > 2 for t in turns) else (),
            details=posture_details(lie, turns, move.name),
        )

    def _test(self, move: Move) -> None:
        test = self.device.tests[move.name]
        state = may_power(self.device, frozenset(self.off))
        power = power_words(state)
        # What limits or guards it is read first; that it may run at all is not.
        heeded, told = ((power,), ()) if state.is_limited else ((), (power,))
        self.gates.append(
            Gate(
                name=move.name,
                says=stop_after(test.says),
                before=test.before,
                seconds=test.seconds,
                supports=(*test.supports, *test.leads),
                power=power,
            )
        )
        self._add(
            move,
            verb="test",
            name=move.name,
            tool=tool_among(test.tools, move.tool),
            kind="test",
            says=f"Test {move.name}: {stop_after(test.says)}",
            cautions=tuple(stop_after(s) for s in (*heeded, *test.supports)),
            details=(
                *(stop_after(s) for s in (*told, *test.leads)),
                *(() if self.has_tested else signal_sentences(self.device)),
            ),
            why=f"before {', '.join(test.before)} goes back",
        )
        self.has_tested = True

    def _do(self, move: Move) -> None:
        removal = self.posed.removals[move.name]
        doing = doing_of(self.device, removal)
        if self.is_back:
            self._put_back(move, removal, doing)
        else:
            self._take_off(move, removal, doing)

    def _take_off(self, move: Move, removal: Removal, doing: Doing) -> None:
        stop = self._stop_words(doing)
        details = (
            *tool_words(doing, move.tool),
            *details_in(doing),
            *easier_details(doing, self.off),
            *equal_details(self.device, removal.name, self.planned, self.off),
            *origin_details(self.device, removal.name, doing),
            *mark_details(self.device, removal.name, doing),
        )
        cautions = self._cautions_in(removal, doing)
        if removal.kind == "aside":
            self.aside.add(removal.name)
        else:
            self.off.add(removal.name)
            self.all_off.add(removal.name)
        own_s = move.cost / 10 - risk_s(doing, self.posed.risk_s_per_minor)
        if self._isolates(removal):
            cautions = (*cautions, *live_sentences(self.device))
            details = (*details, *apart_details(self.device))
        if isinstance(doing, Joint) and doing.survival.is_destroyed:
            self._warn_before(removal.name)
        self._add(
            move,
            verb={"joint": "undo", "part": "lift", "aside": "aside"}[removal.kind],
            name=removal.name,
            says=self._says_in(removal, doing),
            seconds=max(0.0, round(own_s, 1)),
            cautions=cautions,
            details=details,
            why=self._why(removal),
            stop=stop,
            **self._common(move, removal, doing),
        )
        for thing in self.taken_out.come_free(self.off, self.aside):
            self._beside(move, "take out", thing)

    def _beside(self, move: Move, verb: str, thing: Beside) -> None:
        """Write what is taken out, or put back, beside the path."""
        self._add(
            move, verb=verb, name=thing.what, kind="part", says=thing.says,
            cautions=thing.cautions, seconds=0.0,
        )  # fmt: skip

    def _isolates(self, removal: Removal) -> bool:
        isolating = isolating_joints(self.device)
        return removal.kind == "joint" and removal.name in isolating

    def _warn_before(self, name: str) -> None:
        """Warn one action before a joint that does not survive."""
        words = f"{name} does not survive: have its replacement at hand."
        for i in reversed(range(len(self.opening))):
            line = self.opening[i]
            # Tools are taken in passing, and have no line at the bench.
            if line.verb != "take":
                told = (*line.details, f"Next, {words}")
                self.opening[i] = replace(line, details=told)
                return
        self.first.append(f"{words[0].upper()}{words[1:]}")

    def _cautions_in(self, removal: Removal, doing: Doing) -> tuple[str, ...]:
        """Give the dangers at a removal on the way in; the first bears the whole."""
        verbs = ("undo", "lift", "aside")
        is_first = not any(line.verb in verbs for line in self.opening)
        pack = pack_cautions_before(self.device, doing, self.off, is_first=is_first)
        whole: list[str] = []
        if is_first:
            whole = [caution_sentence(c) for c in self.device.cautions]
            whole += [slip_sentence(e, "before") for e in self.device.known_errors]
        at = self._cautions_at(removal, doing)
        return tuple(dict.fromkeys((*pack, *whole, *at)))

    def _cautions_at(self, removal: Removal, doing: Doing) -> tuple[str, ...]:
        """Give the dangers at a removal; a part moved aside keeps its own."""
        cautions = cautions_for(self.device, doing)
        if removal.kind == "aside":
            own = cautions_for(self.device, self.device.parts[removal.name])
            cautions = tuple(dict.fromkeys((*cautions, *own)))
        return cautions

    def _put_back(self, move: Move, removal: Removal, doing: Doing) -> None:
        # A part hinged open covers nothing until it is brought back.
        if removal.kind == "aside" or removal.name not in self.aside:
            self._look_before(move, removal.name)
        kept = self.aside if removal.kind == "aside" else self.off
        kept.discard(removal.name)
        for thing in self.taken_out.go_back_before(removal.name, self.off, self.aside):
            self._beside(move, "put back", thing)
        joint = doing if isinstance(doing, Joint) else None
        renews = [joint.renew] if joint and joint.renew else []
        renew = "; ".join(renew_sentence(r) for r in (*renews, *doing.refit.renew))
        if joint and joint.renew is None and joint.survival.is_destroyed:
            renew = "replacement not recorded: find one first"
        verbs = {"joint": "make", "part": "lay in", "aside": "bring back"}
        self._add(
            move,
            verb=verbs[removal.kind],
            name=removal.name,
            says=self._says_back(removal, doing),
            cautions=tuple(
                c
                for c in self._cautions_at(removal, doing)
                if not c.startswith(WAY_IN_ONLY)
            ),
            details=(
                *details_back(doing),
                *self._dressing(removal),
                *stand_in_details(self.device, removal.name),
                *(start_details(self.device) if self._isolates(removal) else ()),
            ),
            renew=renew,
            **self._common(move, removal, doing),
        )

    def _dressing(self, removal: Removal) -> tuple[str, ...]:
        """Say how the cable lies whose end is made, or that is covered from here on."""
        name = removal.name
        return tuple(
            words
            for cable in self.device.cables.values()
            if name in (*cable.ends, *cable.dress_before) and removal.kind != "aside"
            for words in cable_details(cable)
        )

    def _common(self, move: Move, removal: Removal, doing: Doing) -> dict[str, object]:
        joint = doing if isinstance(doing, Joint) else None
        return {
            "tool": tool_among(uses_for(doing, is_refit=self.is_back), move.tool),
            "kind": joint.kind if joint else "part",
            "n": joint.n_pieces if joint else 1,
            "view": joint.at[0].view if joint and joint.at else "",
            "letter": self._letter(removal.name) if joint else "",
            "sign_off": doing.sign_off,
        }

    def _letter(self, name: str) -> str:
        if name not in self.letters:
            self.letters[name] = item_letter(len(self.letters))
        return self.letters[name]

    def _says_in(self, removal: Removal, doing: Doing) -> str:
        if isinstance(doing, Joint):
            return undo_sentence(removal.name, doing)
        if removal.kind == "aside":
            move = self.device.moves[removal.name]
            support = f" Support: {stop_after(move.support)}" if move.support else ""
            limit = f" Limit: {stop_after(move.limit)}" if move.limit else ""
            return (
                f"Move {removal.name} aside: {stop_after(move.aside)}{support}{limit}"
            )
        part = self.device.parts[removal.name]
        with_it = (*part.contains, *part.carries)
        joined = f", with {', '.join(with_it)} still on it" if with_it else ""
        return stop_after(doing.says) or f"Lift off {removal.name}{joined}."

    def _says_back(self, removal: Removal, doing: Doing) -> str:
        if isinstance(doing, Joint):
            return make_sentence(removal.name, doing)
        if removal.kind == "aside":
            return f"Bring {removal.name} back from aside."
        return f"Lay in {removal.name}."

    def _why(self, removal: Removal) -> str:
        """Name what this removal opens the way to, in the order of the description."""
        freed = [
            str(other)
            for other, conditions in self.posed.waits.items()
            if any(removal in c.any_of for c in conditions)
        ]
        return f"frees {', '.join(freed[:4])}" if freed else "wanted"

    def _stop_words(self, doing: Doing) -> str:
        """Say whether one may walk away just before a line."""
        stated = doing.stop.says if doing.stop and doing.stop.safe_before else ""
        is_clean = is_at_rest(self.device, self.off, self.aside)
        words = stop_after(stated)
        if not words and is_clean and not self.was_clean and self.off:
            words = STOP_WORDS
        self.was_clean = is_clean
        if doing.stop and doing.stop.last_reversible:
            words = f"{words} Last reversible point.".strip()
        return words

    def _look_before(self, move: Move, name: str) -> None:
        """Put in a look at each place that this refit would pinch or cover."""
        for cable_name, cable in self.device.cables.items():
            for pinch in cable.pinch:
                if name not in pinch.before:
                    continue
                says = f"Look: {cable_name}: nothing caught between {pinch.between}."
                look = Move("check", cable_name, 0, 0, move.posture, move.tool)
                self.gates.append(Gate(cable_name, says, (name,), 0.0))
                self._add(
                    look,
                    verb="look",
                    name=cable_name,
                    kind="look",
                    says=says,
                    details=cable_details(cable),
                    view=pinch.at.view if pinch.at else "",
                    why=f"before {name} covers it",
                )

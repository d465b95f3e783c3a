"""How is one doing said at the bench, with its dangers beside it?"""

from collections.abc import Iterator

from turnscrew.core.model.connection import Lead, Plug, Socket
from turnscrew.core.model.device import Device
from turnscrew.core.model.doing import Caution, Doing
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.geometry import Zone
from turnscrew.core.model.holding import Bond, Clip, Cover, Hook, Latch, Slide
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Part
from turnscrew.core.model.refit import Renew, SeatCheck

UNDO_WORDS = {
    "screw": "Take out", "nut": "Take off", "clip": "Free", "slide": "Slide",
    "hook": "Unhook", "latch": "Open", "pin": "Drive out", "magnet": "Pull off",
    "press": "Ease off", "bond": "Loosen", "fusion": "Open up", "seal": "Take out",
    "thermal": "Part", "contact": "Lift clear", "cover": "Lift", "socket": "Unlatch",
    "plug": "Unplug", "lead": "Unsolder", "unknown": "Undo",
}  # fmt: skip
"""What the hands do to each kind of joint on the way in."""

MAKE_WORDS = {
    "screw": "Refit", "nut": "Refit", "clip": "Press home", "slide": "Slide home",
    "hook": "Hook in", "latch": "Shut", "pin": "Drive in", "magnet": "Lay on",
    "press": "Press home", "bond": "Renew", "fusion": "Close up", "seal": "Lay in",
    "thermal": "Renew", "contact": "Seat", "cover": "Stick on", "socket": "Seat",
    "plug": "Plug in", "lead": "Solder", "unknown": "Make",
}  # fmt: skip
"""What the hands do to each kind of joint on the way back."""

SENSITIVE_WORDS = {
    "static": "Static: strap on, and hold it by the edges.",
    "light": "Light: cover it at once.",
    "dust": "Dust: cap or cover it at once.",
    "magnets": "Magnets: keep it away from drivers and readers.",
    "pressure": "Pressure: do not press on its face.",
}

PACK_WORDS = (
    "Battery pack: do not bend, pierce or heat it; "
    "if it is swollen, hot or smells, stop, isolate it and call the lead."
)


def stop_after(text: str) -> str:
    """
    Make a sentence of words that may lack their full stop.

    Parameters
    ----------
    text
        The words.

    Returns
    -------
    str
        The words with a capital and a full stop.
    """
    text = text.strip()
    if not text:
        return ""
    end = "" if text[-1] in ".!?" else "."
    return text[0].upper() + text[1:] + end


def undo_sentence(name: str, joint: Joint) -> str:
    """
    Say how a joint is undone.

    Parameters
    ----------
    name
        Its name.
    joint
        The joint.

    Returns
    -------
    str
        The working line.
    """
    if joint.says:
        return stop_after(joint.says)
    verb = UNDO_WORDS[joint.kind]
    if isinstance(joint.how, Screw) and joint.how.stays_in:
        verb = "Loosen only"
    return f"{verb} {counted(name, joint)}{_what(joint)}."


def make_sentence(name: str, joint: Joint) -> str:
    """
    Say how a joint is made again.

    Parameters
    ----------
    name
        Its name.
    joint
        The joint.

    Returns
    -------
    str
        The working line.
    """
    verb = MAKE_WORDS[joint.kind]
    if isinstance(joint.how, Screw) and joint.how.stays_in:
        verb = "Tighten"
    return f"{verb} {counted(name, joint)}{_what(joint)}."


def counted(name: str, joint: Joint) -> str:
    """
    Give a name with its count where there is more than one piece.

    Parameters
    ----------
    name
        Name of the joint.
    joint
        The joint.

    Returns
    -------
    str
        Such as ``board screws × 4``.
    """
    return f"{name} × {joint.n_pieces}" if joint.n_pieces > 1 else name


def _what(joint: Joint) -> str:
    match joint.how:
        case Screw(drive=drive, thread=thread, length_mm=length_mm):
            facts = [str(fact) for fact in (drive, thread) if fact is not None]
            if length_mm is not None:
                facts.append(f"{length_mm:g} mm")
            return f" ({', '.join(facts)})" if facts else ""
        case Socket(latch=latch):
            return f" ({latch})" if latch != "none" else " (no latch)"
        case Plug(kind=kind):
            return f" ({kind})"
        case Bond(kind=kind):
            return f" ({kind})"
    return ""


def cautions_for(device: Device, doing: Doing) -> tuple[str, ...]:
    """
    List the dangers at one doing.

    Parameters
    ----------
    device
        The device.
    doing
        The joint, part or move.

    Returns
    -------
    tuple
        Sentences.
    """
    found = [caution_sentence(caution) for caution in doing.cautions]
    found += [stop_after(f"not with {tool}") for tool in doing.unsuitable]
    found += _zone_sentences(doing.no_lever, "Do not lever")
    found += [
        stop_after(f"not deeper than {z.max_depth_mm:g} mm here: {z.why}")
        for z in doing.depth
    ]
    if doing.springs:
        found.append(stop_after(f"springs under tension: hold {doing.springs.hold}"))
    if isinstance(doing, Joint):
        found += _joint_cautions(device, doing)
    if isinstance(doing, Part):
        found += _part_cautions(doing)
    if doing.risk and doing.risk.what:
        found.append(stop_after(f"known to go wrong: {doing.risk.what}"))
    found += [stop_after(f"slip met here: {e.what}") for e in doing.known_errors]
    return tuple(dict.fromkeys(sentence for sentence in found if sentence))


def caution_sentence(caution: Caution) -> str:
    """
    Say one caution.

    Parameters
    ----------
    caution
        The caution.

    Returns
    -------
    str
        Kind, danger and what to do then.
    """
    lead = "" if caution.kind == "care" else f"{caution.kind}: "
    then = f" {stop_after(caution.then)}" if caution.then else ""
    return stop_after(lead + caution.says) + then


def _zone_sentences(zones: tuple[Zone, ...], lead: str) -> list[str]:
    return [
        stop_after(f"{lead} in the hatched zone{f': {z.why}' if z.why else ''}")
        for z in zones
    ]


def _joint_cautions(device: Device, joint: Joint) -> Iterator[str]:
    how = joint.how
    if isinstance(how, Screw) and how.behind is not None:
        at = how.behind.at_length_mm
        reach = f"a screw of {at:g} mm or more" if at else "a longer screw"
        yield f"{reach[0].upper()}{reach[1:]} reaches {how.behind.what} here."
    if isinstance(how, Cover) and how.crossing != "free":
        words = how.crossing_says or "ask the customer in writing first"
        yield stop_after(f"{how.kind}: {words}")
    if joint.soften is not None:
        heat = f"{joint.soften.c:g} °C" if joint.soften.c is not None else "warm"
        then = f"then wait {joint.soften.wait_s:g} s"
        yield f"Heat: {heat}, {joint.soften.heat_s:g} s, {then}."
    if joint.survival.is_destroyed:
        yield "This joint does not survive: have its replacement at hand first."
    if any(
        name in device.parts and device.parts[name].kind == "battery"
        for name in joint.holds
    ) and not isinstance(how, Screw):
        yield PACK_WORDS
    if joint.power.state != "any":
        yield _power_sentence(joint)


def _power_sentence(joint: Joint) -> str:
    need = joint.power
    words = {
        "off": "device off",
        "adapter out": "adapter out",
        "isolated": "pack disconnected",
    }[need.state]
    wait = f", wait {need.wait_s:g} s" if need.wait_s else ""
    hold = f", {need.hold_key}" if need.hold_key else ""
    return f"Power: {words}{hold}{wait}."


def _part_cautions(part: Part) -> Iterator[str]:
    for word in part.sensitive:
        yield SENSITIVE_WORDS[word]
    if part.kind == "battery":
        yield PACK_WORDS
        if part.pack is not None and part.pack.if_swollen:
            yield stop_after(f"if swollen: {part.pack.if_swollen}")
    if part.data_bearing:
        yield "Data: it leaves custody only with a recorded end state."
    if part.hands > 2:
        yield "A second pair of hands is needed."


def details_in(doing: Doing) -> tuple[str, ...]:
    """
    List where to hold, how it moves and what is normal, on the way in.

    Parameters
    ----------
    doing
        The joint, part or move.

    Returns
    -------
    tuple
        Sentences.
    """
    found = [doing.direction]
    found.append(f"hold {doing.hold_at}" if doing.hold_at else "")
    found.append(f"push {doing.push}" if doing.push else "")
    found.append(f"noise: {doing.noise}" if doing.noise else "")
    found.append(doing.variation)
    if isinstance(doing, Joint):
        found += _how_in(doing)
        found.append(
            f"keep in compartment {doing.compartment}" if doing.compartment else ""
        )
    if isinstance(doing, Part):
        found.append(f"keep {doing.keep}" if doing.keep else "")
    return tuple(stop_after(words) for words in found if words)


def _how_in(joint: Joint) -> Iterator[str]:  # noqa: C901 - one arm a kind of joint
    match joint.how:
        case Clip(rows=rows, hidden=hidden, order=order):
            for row in rows:
                yield f"{row.n} along {row.edge}: {row.release}".rstrip(": ")
            for catch in hidden:
                yield f"one hidden catch {catch.where}"
            if order:
                yield f"in this order: {', '.join(order)}"
        case Slide(travel_mm=travel_mm, towards=towards, then=then):
            yield f"{travel_mm or 0:g} mm towards {towards}, then {then}"
        case Hook(swing=swing) if swing:
            yield f"swing {swing}"
        case Latch(turn_deg=turn_deg, springs_out=springs_out):
            yield f"turn {turn_deg:g} degrees" if turn_deg else ""
            yield "it springs out" if springs_out else ""
        case Socket(lift_from=lift_from) if lift_from:
            yield f"latch: {lift_from}"
        case Plug(pull=pull) if pull:
            yield f"pull {pull}"
        case Cover(lift_at=lift_at) if lift_at:
            yield f"where: {lift_at}"
        case Lead(leave_mm=leave_mm) if leave_mm:
            yield f"leave a tail of {leave_mm:g} mm"


def details_back(doing: Doing) -> tuple[str, ...]:
    """
    List what makes a refit right: seat, orientation, cleaning, alignment.

    Parameters
    ----------
    doing
        The joint, part or move.

    Returns
    -------
    tuple
        Sentences.
    """
    refit = doing.refit
    found = [refit.says]
    found.append(f"clean: {refit.clean}" if refit.clean else "")
    found.append(f"grease: {refit.grease}" if refit.grease else "")
    found.append(f"first: {refit.preload}" if refit.preload else "")
    found.append(f"align: {refit.align}" if refit.align else "")
    if isinstance(doing, Part):
        found += _part_back(doing)
    if isinstance(doing, Joint):
        found += _how_back(doing)
    found += _seat(refit.seat)
    found.append("second look by another person" if refit.second_look else "")
    return tuple(stop_after(words) for words in found if words)


def _part_back(part: Part) -> Iterator[str]:
    if part.loose:
        yield f"place first: {', '.join(part.loose)}"
    if part.orientation is not None:
        wrong = part.orientation.if_wrong
        yield f"right way: {part.orientation.right}" + (
            f"; wrong: {wrong}" if wrong else ""
        )
    for twin in part.twins:
        yield f"not the same as {twin.part}: {twin.tell}"
    if part.paired_with:
        yield f"stays with {', '.join(part.paired_with)}"


def _how_back(joint: Joint) -> Iterator[str]:  # noqa: C901 - one arm a kind of joint
    match joint.how:
        case Screw(forming=forming, tighten=tighten):
            if forming is not None and forming.turn_back:
                yield "turn back until it drops in, then tighten"
            if tighten is not None:
                if tighten.all_started_first:
                    yield "start all before any is tight"
                yield tighten.pattern
                yield tighten.feel
                if tighten.torque_nm:
                    yield f"{tighten.torque_nm:g} N·m if you own the driver"
        case Socket(seated=seated, contacts=contacts, lugs=lugs):
            yield f"in when: {seated}" if seated else ""
            yield f"contacts {contacts}" if contacts else ""
            yield lugs
        case Plug(clicks=clicks, key=key, press_at=press_at, pairs=pairs):
            yield f"press {press_at}" if press_at else ""
            yield _clicks(clicks)
            yield f"key: {key}" if key else ""
            for pair in pairs:
                yield f"{pair.sleeve} sleeve to {pair.post}"


def _clicks(n: int) -> str:
    return "" if n == 0 else "one click" if n == 1 else f"{n} clicks"


def _seat(seat: SeatCheck | None) -> Iterator[str]:
    if seat is None:
        return
    yield f"seat: {seat.looks}" if seat.looks else ""
    yield f"gap {seat.gap_mm:g} mm" if seat.gap_mm is not None else ""
    yield f"stands {seat.stands_mm:g} mm" if seat.stands_mm is not None else ""
    yield _clicks(seat.clicks)
    yield f"hold test: {seat.retention}" if seat.retention else ""


def renew_sentence(renew: Renew) -> str:
    """
    Say what is renewed.

    Parameters
    ----------
    renew
        What takes its place.

    Returns
    -------
    str
        Such as ``T-AD, 1 piece``.
    """
    only = f", only if {renew.only_if}" if renew.only_if else ""
    return f"{renew.spare}, {renew.n:g} {renew.unit}{only}"

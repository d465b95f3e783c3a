"""How is one doing done, and how does one see that it is right?"""

from collections.abc import Iterator, Set

from turnscrew.core.model.alike import stand_ins
from turnscrew.core.model.cable import Cable
from turnscrew.core.model.connection import Lead, Matings, Plug, Socket
from turnscrew.core.model.device import Device
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.fastener import Forming, Nut, Screw, Tighten
from turnscrew.core.model.holding import (
    Bond,
    Clip,
    Cover,
    Fusion,
    Hook,
    Latch,
    Pin,
    Press,
    Seal,
    Slide,
    SpringContact,
    Thermal,
)
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Part
from turnscrew.core.model.posture import Posture, Turn
from turnscrew.core.model.refit import SeatCheck
from turnscrew.core.opening.sentences import stop_after


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
    found.append(f"about {doing.force_n:g} N" if doing.force_n else "")
    found.append(f"noise: {doing.noise}" if doing.noise else "")
    found.append(f"why so late: {doing.after_why}" if doing.after_why else "")
    found.append(doing.variation)
    if isinstance(doing, Joint):
        found += _how_in(doing)
        found.append(
            f"keep in compartment {doing.compartment}" if doing.compartment else ""
        )
    if isinstance(doing, Part):
        found.append(f"keep {doing.keep}" if doing.keep else "")
        found.append(f"marks: {doing.marks}" if doing.marks else "")
    return tuple(stop_after(words) for words in found if words)


def _how_in(joint: Joint) -> Iterator[str]:  # noqa: C901 - one arm a kind of joint
    yield from _contact_in(joint)
    yield from _fastener_in(joint)
    yield from _mated(joint.matings)
    match joint.how:
        case Clip(rows=rows, hidden=hidden, order=order):
            for row in rows:
                where = f"{row.n} along {row.edge}" if row.edge else ""
                told = ": ".join(filter(None, (where, row.release)))
                if told:
                    yield told
            for catch in hidden:
                yield f"one hidden catch {catch.where}: {catch.release}".rstrip(": ")
            if order:
                yield f"in this order: {', '.join(order)}"
        case Slide(travel_mm=travel_mm, towards=towards, then=then):
            yield f"{travel_mm or 0:g} mm towards {towards}, then {then}"
        case Hook(swing=swing) if swing:
            yield f"swing {swing}"
        case Pin(out_towards=out_towards) if out_towards:
            yield f"out towards {out_towards}"
        case Bond(pull=pull) if pull:
            yield f"pull {pull}"
        case Press(where=where) if where:
            yield f"where: {where}"
        case Cover(lift_at=lift_at, sizes=sizes):
            yield f"where: {lift_at}" if lift_at else ""
            for size in sizes:
                yield f"{size.n} of {size.height_mm:g} mm: {size.where}"


def _mated(matings: Matings | None) -> Iterator[str]:
    """Tell a count that no rating can be held against."""
    if matings is not None and matings.done and matings.rated is None:
        yield f"mated here: {matings.done}, rating not known"


def _fastener_in(joint: Joint) -> Iterator[str]:
    match joint.how:
        case Screw(loosen_turns=turns) if turns is not None:
            yield f"{turns:g} turn{'s' if turns != 1 else ''}, not out"
        case Latch(turn_deg=turn_deg, towards=towards, springs_out=springs_out):
            yield f"turn {turn_deg:g} degrees" if turn_deg else ""
            yield f"direction: {towards}" if towards else ""
            yield "it springs out" if springs_out else ""


def _contact_in(joint: Joint) -> Iterator[str]:
    match joint.how:
        case Socket(lift_from=lift_from) if lift_from:
            yield f"latch: {lift_from}"
        case Plug(pull=pull, lock=lock):
            yield f"lock: {lock}" if lock and lock != "none" else ""
            yield f"pull {pull}" if pull else ""
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
    for look_alike in part.look_alikes:
        yield f"not {look_alike.spare}: {look_alike.tell}"
    for twin in part.twins:
        yield f"not the same as {twin.part}: {twin.tell}"
    if part.paired_with:
        yield f"stays with {', '.join(part.paired_with)}"


def _how_back(joint: Joint) -> Iterator[str]:
    yield from _contact_back(joint)
    yield from _fastener_back(joint)
    match joint.how:
        case Hook(in_first=in_first) if in_first:
            yield f"first in: {in_first}"
        case Press(proud_mm=proud_mm, push_n=push_n):
            yield f"proud by {proud_mm:g} mm until seated" if proud_mm else ""
            yield f"push with {push_n:g} N" if push_n else ""
        case Fusion(replace_by=replace_by) if replace_by:
            yield f"in its place: {replace_by}"
        case Seal(lubricant=lubricant, no_twist=no_twist, groove=groove):
            yield f"lubricant: {lubricant}" if lubricant else ""
            yield "no twist" if no_twist else ""
            yield f"groove: {groove}" if groove else ""
        case Thermal(thickness_mm=thickness_mm, preload=preload, not_instead=other):
            yield f"{thickness_mm:g} mm thick" if thickness_mm else ""
            yield f"preload: {preload}" if preload else ""
            yield f"not in its place: {other}" if other else ""
        case Cover(shape=shape, way=way):
            yield f"shape: {shape}" if shape else ""
            yield f"way round: {way}" if way else ""


def _fastener_back(joint: Joint) -> Iterator[str]:
    yield f"it is the earth of {joint.earths}" if joint.earths else ""
    match joint.how:
        case Screw():
            yield from _screw_back(joint.how)
        case Nut(stack=stack, tighten=tighten):
            yield f"under the nut: {', '.join(stack)}" if stack else ""
            yield from _tight(tighten)


def _contact_back(joint: Joint) -> Iterator[str]:
    match joint.how:
        case SpringContact(height_mm=height_mm, sits_on=sits_on):
            yield f"stands {height_mm:g} mm" if height_mm else ""
            yield f"sits on {sits_on}" if sits_on else ""
            yield f"clean: {joint.how.clean}" if joint.how.clean else ""
            yield joint.how.if_low
        case Lead(polarity=polarity) if polarity:
            yield f"polarity: {polarity}"
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


def _screw_back(screw: Screw) -> Iterator[str]:
    if screw.bare_metal:
        yield "bare metal under it, for the earth"
    if screw.patch:
        yield f"patch: {screw.patch}"
    if screw.shoulder is not None and screw.shoulder.carries:
        yield f"in or on it: {screw.shoulder.carries}"
    if screw.stack:
        yield f"under the head: {', '.join(screw.stack)}"
    if screw.forming is not None:
        yield "turn back until it drops in, then tighten" * screw.forming.turn_back
        yield _refits(screw.forming)
    yield from _tight(screw.tighten)


def _tight(tighten: Tighten | None) -> Iterator[str]:
    if tighten is None:
        return
    if tighten.all_started_first:
        yield "start all before any is tight"
    yield tighten.pattern
    yield tighten.feel
    if tighten.torque_nm:
        yield f"{tighten.torque_nm:g} N·m if you own the driver"


def _refits(forming: Forming) -> str:
    if forming.refits_max is None:
        return ""
    then = f", then {forming.then}" if forming.then else ""
    return f"refitted {forming.refits_done} of {forming.refits_max} times{then}"


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


def cable_details(cable: Cable) -> tuple[str, ...]:
    """
    List how a cable lies when it is right.

    Parameters
    ----------
    cable
        The cable.

    Returns
    -------
    tuple
        Sentences.
    """
    found = [f"route: {' – '.join(cable.route)}"] if cable.route else []
    found += [f"{way.how} {way.part}" for way in cable.passes]
    found += [
        f"slack at {slack.at}: {slack.mm:g} mm" + (f" {slack.why}" if slack.why else "")
        for slack in cable.slack
    ]
    found += [
        f"tape at {tape.at}{f', {tape.kind}' if tape.kind else ''}: {tape.stays}"
        for tape in cable.tapes
    ]
    if cable.bend is not None:
        if cable.bend.radius_mm:
            found.append(f"bend no tighter than {cable.bend.radius_mm:g} mm")
        if cable.bend.no_fold:
            found.append(f"no fold {cable.bend.no_fold}")
    return tuple(stop_after(words) for words in found)


def easier_details(doing: Doing, off: Set[str]) -> Iterator[str]:
    """
    Say which other removals help, and what for.

    Parameters
    ----------
    doing
        The joint, part or move.
    off
        Parts and joints that are off.

    Yields
    ------
    str
        One sentence for each.
    """
    for extra in doing.easier:
        why = f": {extra.why}" if extra.why else ""
        if extra.off in off:
            yield stop_after(f"easier with {extra.off} off{why}")
        else:
            saves = f"off, it would save {extra.saves_s:g} s"
            yield stop_after(f"{extra.off} may stay on; {saves}{why}")


def equal_details(
    device: Device, name: str, planned: Set[str], off: Set[str]
) -> Iterator[str]:
    """
    Say at the first of several things that any of them may come first.

    Parameters
    ----------
    device
        The device.
    name
        The thing that comes off now.
    planned
        All that comes off.
    off
        What is off already.

    Yields
    ------
    str
        One sentence for each group of equals.
    """
    for equal in device.equal:
        these = [one for one in equal.either if one in planned and one not in off]
        if name in these and len(these) == len(equal.either):
            yield stop_after(f"{equal.why or 'either first'}: {', '.join(these)}")


def posture_details(
    lie: Posture | None, turns: tuple[Turn, ...], end: str
) -> tuple[str, ...]:
    """
    Say how the device is turned and how it lies then.

    Parameters
    ----------
    lie
        The posture reached, if the description has it.
    turns
        What is said of the turn; empty for the usual one.
    end
        Name of the posture reached.

    Returns
    -------
    tuple
        Sentences.
    """
    # A turn made backwards is not done as its words say.
    found = [turn.says for turn in turns if turn.end == end]
    if lie is not None and lie.lid_deg is not None:
        found.append(f"lid at {lie.lid_deg:g} degrees" if lie.lid_deg else "lid shut")
    if lie is not None and lie.tilt_deg:
        found.append(f"tilted by {lie.tilt_deg:g} degrees")
    return tuple(stop_after(words) for words in found if words)


def stand_in_details(device: Device, name: str) -> Iterator[str]:
    """
    Say which kinds of screw of a device may stand in where one is missing.

    Parameters
    ----------
    device
        The device.
    name
        The joint.

    Yields
    ------
    str
        One sentence, or none where nothing may.
    """
    others = stand_ins(device, name)
    if others:
        told = [
            f"{other} ({screw.length_mm:g} mm)"
            for other in others
            if isinstance(screw := device.joints[other].how, Screw)
        ]
        yield f"If one is missing, a spare like these may stand in: {', '.join(told)}."

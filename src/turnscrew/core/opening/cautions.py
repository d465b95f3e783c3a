"""What is dangerous at one doing?"""

from collections.abc import Iterator, Set

from turnscrew.core.model.connection import Lead
from turnscrew.core.model.device import Device
from turnscrew.core.model.doing import Caution, Doing
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.geometry import Zone
from turnscrew.core.model.holding import Bond, Cover, Magnet, SpringContact
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Part
from turnscrew.core.opening.power import POWER_OFF, need_sentence
from turnscrew.core.opening.sentences import stop_after
from turnscrew.core.opening.whole import slip_sentence

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

PACK_FIRST = (
    "Battery pack inside: look before you heat, lever or open; if it is swollen, hot "
    "or smells, stop, isolate it and call the lead; do not bend, pierce or heat it."
)
"""What a pack asks for before the first thing done; it says the other words too."""

SECOND_PAIR = "A second pair of hands is needed."

HEAT = "Heat:"
"""Beginning of what says how warm a joint is made, for how long and where."""

IF_SWOLLEN = "If swollen:"
"""Beginning of what a description says of a pack that has swollen."""


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
    found.append(need_sentence(doing))
    if isinstance(doing, Joint):
        found += _joint_cautions(device, doing)
    if isinstance(doing, Part):
        found += _part_cautions(doing)
    if doing.hands > 2:
        found.append(SECOND_PAIR)
    if doing.risk and doing.risk.what:
        found.append(stop_after(f"known to go wrong: {doing.risk.what}"))
    found += [slip_sentence(error, "here") for error in doing.known_errors]
    return tuple(dict.fromkeys(sentence for sentence in found if sentence))


def pack_cautions_before(
    device: Device, doing: Doing, off: Set[str], *, is_first: bool
) -> tuple[str, ...]:
    """
    List what a pack that lies inside asks for before one doing of the way in.

    Parameters
    ----------
    device
        The device.
    doing
        The joint, part or move.
    off
        Parts and joints that are off before it.
    is_first
        It is the first thing done to the device on this way.

    Returns
    -------
    tuple
        Sentences: power off and a look at the pack before the first thing done, and
        what the pack must not suffer wherever something is heated.
    """
    inside = [
        part
        for name, part in device.parts.items()
        if part.kind == "battery" and name not in off
    ]
    is_hot = isinstance(doing, Joint) and doing.soften is not None
    if not inside or not (is_first or is_hot):
        return ()
    own = [words for part in inside for words in _pack_cautions(part)]
    if not is_first:
        return tuple(dict.fromkeys(own))
    is_said = doing.power.state in ("adapter out", "isolated")
    power = need_sentence(doing) if is_said else POWER_OFF
    # What it suffers by itself is told where it is touched, and where heat goes in.
    limits = [words for words in own if words != PACK_WORDS] if is_hot else []
    return tuple(dict.fromkeys((power, PACK_FIRST, *limits)))


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
    yield from _how_cautions(joint)
    if isinstance(how, Cover) and how.crossing != "free":
        words = how.crossing_says or "ask the customer in writing first"
        yield stop_after(f"{how.kind}: {words}")
    if joint.soften is not None:
        heat = f"{joint.soften.c:g} °C" if joint.soften.c is not None else "warm"
        where = f", {joint.soften.where}" if joint.soften.where else ""
        wait = f"; then wait {joint.soften.wait_s:g} s" if joint.soften.wait_s else ""
        yield f"{HEAT} {heat}, {joint.soften.heat_s:g} s{where}{wait}."
    if joint.survival.is_destroyed:
        yield "This joint does not survive: have its replacement at hand first."
    if any(
        name in device.parts and device.parts[name].kind == "battery"
        for name in joint.holds
    ) and not isinstance(how, Screw):
        yield PACK_WORDS


def _how_cautions(joint: Joint) -> Iterator[str]:
    match joint.how:
        case Bond(solvent=solvent) if solvent:
            yield stop_after(f"solvent: {solvent}")
        case Magnet(keep_from=keep_from) if keep_from:
            yield stop_after(f"magnets: keep away from {keep_from}")
        case SpringContact(no_touch=True):
            yield "Contacts: do not touch."
        case Lead(iron_c=iron_c) if iron_c is not None:
            yield f"Hot: iron at {iron_c:g} °C; extraction on."
    matings = joint.matings
    if matings is not None and matings.is_worn:
        yield f"Mated {matings.done} times of {matings.rated} rated: mate it rarely."


def _part_cautions(part: Part) -> Iterator[str]:
    for word in part.sensitive:
        yield SENSITIVE_WORDS[word]
    if part.protect:
        yield stop_after(part.protect)
    yield from _pack_cautions(part)
    if part.keeps_live:
        yield stop_after(f"stays live with the pack off: {part.keeps_live}")
    if part.hygiene:
        yield stop_after(f"hygiene: {part.hygiene}")
    if part.data_bearing:
        yield "Data: it leaves custody only with a recorded end state."


def _pack_cautions(part: Part) -> Iterator[str]:
    if part.kind == "battery":
        yield PACK_WORDS
    if part.pack is None:
        return
    if part.pack.do_not:
        yield f"Pack, never: {', '.join(part.pack.do_not)}."
    if part.pack.if_swollen:
        yield stop_after(f"{IF_SWOLLEN} {part.pack.if_swollen}")

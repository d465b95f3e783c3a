"""Is every fact of a description said where the hands need it?"""

from dataclasses import replace
from functools import cache

import pytest

from example_files import example_text
from turnscrew.core.model.device import Device
from turnscrew.core.model.holding import Clip, ClipRow
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import PowerNeed
from turnscrew.core.model.posture import Turn
from turnscrew.core.opening.answer import Action, OpeningAnswer
from turnscrew.core.opening.compile import pose, removal_wanted
from turnscrew.core.opening.details import details_in
from turnscrew.core.opening.whole import arrived_words
from turnscrew.files.device_file import read_device
from turnscrew.flows.opening import opening_path

NOTEBOOK = ("pellorin-l240", "B")
TABLET = ("tavistle-v80", "2")
HANDHELD = ("grondle-r50", "L")

Family = tuple[str, str]


def device_of(family: Family) -> Device:
    name, revision = family
    text = example_text(f"{name}.device.yaml")
    return read_device(text, revision=revision)


def all_off(device: Device) -> OpeningAnswer:
    """Take everything off that comes off, and put it back."""
    parts = [
        name
        for name in device.parts
        if (wanted := removal_wanted(device, name)).kind == "joint"
        or not device.parts[wanted.name].fixed
    ]
    return opening_path(device, (*parts, *device.joints), lambda: False)


@cache
def opened(family: Family) -> OpeningAnswer:
    return all_off(device_of(family))


def words_of(line: Action) -> str:
    return " | ".join((line.stop, *line.cautions, line.says, *line.details, line.renew))


def told(answer: OpeningAnswer, where: str, name: str) -> str:
    """Give all that is said at one place: a line of either list, or around them."""
    match where:
        case "in" | "back":
            lines = answer.opening if where == "in" else answer.refit
            return " | ".join(words_of(line) for line in lines if line.name == name)
        case "head":
            return " | ".join(answer.about)
        case "before":
            return " | ".join(answer.before_opening)
        case "photos":
            return " | ".join(answer.photos)
    assert where == "after"
    return " | ".join((*answer.settings, *answer.final_tests))


SAID: list[tuple[int, Family, str, str, str]] = [
    (1, NOTEBOOK, "head", "", "Clamshell portable computer, 14-inch panel, 3-cell"),
    (1, NOTEBOOK, "head", "", "Told by: grey lid with a rounded front edge"),
    (1, NOTEBOOK, "head", "", "Revision B: two vents on the left edge."),
    (1, HANDHELD, "head", "", "Revision L: square mark on the plate"),
    (2, TABLET, "head", "", "Sure only once open: 40 contacts, when the front is up."),
    (2, TABLET, "head", "", "Order nothing before that is seen."),
    (7, NOTEBOOK, "in", "battery", "Marks: 11.4 V on the label; lead leaves at the"),
    (7, NOTEBOOK, "back", "panel", "Not C-DPA: 30 contacts on the panel tail."),
    (10, NOTEBOOK, "back", "left speaker screws", "Turn back until it drops in"),
    (10, NOTEBOOK, "back", "left speaker screws", "Refitted 2 of 5 times, then fit"),
    (12, NOTEBOOK, "back", "storage post", "In or on it: the storage card; the small"),
    (13, NOTEBOOK, "back", "board screws", "Under the head: fibre washer."),
    (15, NOTEBOOK, "in", "pivot clamp", "2 turns, not out."),
    (16, NOTEBOOK, "back", "board earth", "Bare metal under it, for the earth."),
    (16, NOTEBOOK, "back", "board earth", "It is the earth of board."),
    (16, NOTEBOOK, "back", "pad earth", "It is the earth of touchpad."),
    (25, HANDHELD, "in", "door latch", "Turn 90 degrees. | Direction: strap eye."),
    (25, HANDHELD, "in", "door latch", "It springs out."),
    (25, NOTEBOOK, "in", "memory latches", "Direction: outwards, both at once."),
    (28, HANDHELD, "back", "keypad pegs", "Proud by 1 mm until seated."),
    (28, HANDHELD, "back", "window press", "Push with 25 N."),
    (30, HANDHELD, "back", "key rivets", "In its place: screw M1.6."),
    (
        37,
        NOTEBOOK,
        "back",
        "screw plugs",
        "Shape: D. | Way round: flat towards the edge",
    ),
    (73, NOTEBOOK, "in", "rim screws", "Nothing is loose yet."),
    (39, NOTEBOOK, "in", "screw plugs", "Keep in compartment 6 to 10, one each."),
    (41, HANDHELD, "back", "window frame", "Right way: long lug towards the loudspea"),
    (49, NOTEBOOK, "back", "antenna plugs", "Grey sleeve to nearest the corner."),
    (49, NOTEBOOK, "back", "antenna plugs", "Black sleeve to nearest the fan."),
    (51, HANDHELD, "in", "super capacitor leads", "Leave a tail of 8 mm."),
    (52, NOTEBOOK, "in", "clock cell", "Stays live with the pack off: the clock line"),
    (52, NOTEBOOK, "in", "battery plug", "Live by battery: the whole board, until"),
    (52, NOTEBOOK, "in", "battery plug", "Live by clock cell: the clock line, until"),
    (53, TABLET, "in", "touch tail", "Mated 14 times of 20 rated: mate it rarely."),
    (54, NOTEBOOK, "back", "fan plug", "Route: post beside the fan – under the bridge"),
    (55, NOTEBOOK, "back", "display plug", "Behind left bracket. | Under display"),
    (55, TABLET, "back", "dock tail", "Never across pack."),
    (56, NOTEBOOK, "back", "antenna plugs", "Slack at the pivot: 12 mm lid's travel."),
    (57, NOTEBOOK, "back", "fan plug", "Tape at foam slot, cloth tape: on the cable."),
    (59, TABLET, "back", "touch tail", "Bend no tighter than 3 mm. | No fold at the"),
    (60, NOTEBOOK, "in", "rim clips", "Why so late: clips tear if a screw still"),
    (61, NOTEBOOK, "in", "left speaker", "Either first: left speaker, right speaker."),
    (61, HANDHELD, "in", "keypad membrane", "Either first: keypad membrane, display."),
    (62, NOTEBOOK, "in", "mid-plate", "Easier with battery off: gives finger room"),
    (63, NOTEBOOK, "in", "panel", "Move panel aside: Folded down onto the keys. Supp"),
    (63, NOTEBOOK, "in", "panel", "Support: Soft cloth. Limit: Not beyond 100 degre"),
    (65, NOTEBOOK, "in", "lid open", "Lid at 100 degrees."),
    (65, HANDHELD, "in", "nose up", "Tilted by 90 degrees."),
    (65, NOTEBOOK, "in", "lid open", "Support: Base flat on the mat."),
    (66, NOTEBOOK, "in", "upper case", "Hold both palm corners."),
    (66, NOTEBOOK, "in", "rim clips", "Push thumb on the palm frame, nail in the seam"),
    (66, NOTEBOOK, "in", "rim clips", "About 15 N."),
    (66, NOTEBOOK, "in", "rim clips", "Noise: a loud crack from the last clip is norm"),
    (67, NOTEBOOK, "in", "board", "Right edge up 8 mm, then slide out of the port h"),
    (67, NOTEBOOK, "in", "rim clips", "Front edge first."),
    (68, NOTEBOOK, "in", "plastic card", "Take plastic card: 0.5 mm thick."),
    (68, NOTEBOOK, "in", "rim clips", "Not with metal pick: marks the case."),
    (69, NOTEBOOK, "in", "badge", "Heat: 55 °C, 30 s, the badge alone."),
    (
        69,
        TABLET,
        "in",
        "frame bond",
        "Heat: 70 °C, 180 s, whole front, on the plate; t",
    ),
    (70, NOTEBOOK, "in", "left pivot screws", "A second pair of hands is needed."),
    (70, NOTEBOOK, "back", "left pivot screws", "A second pair of hands is needed."),
    (75, NOTEBOOK, "in", "rim clips", "Not deeper than 3 mm here: speaker lead behind"),
    (78, TABLET, "in", "camera", "Light: cover it at once. | Dust: cap or cover it"),
    (78, TABLET, "in", "camera", "Cap on at once."),
    (79, HANDHELD, "in", "back half", "Springs under tension: hold the scan keys from"),
    (80, NOTEBOOK, "in", "cooler", "Hot: wait until it can be touched. | Sharp: fin"),
    (80, NOTEBOOK, "in", "board", "Charge: the row of large capacitors holds charge"),
    (80, NOTEBOOK, "in", "panel", "Glass: cracked panel: cut-resistant gloves, gogg"),
    (80, NOTEBOOK, "in", "microphone leads", "Fumes: extraction on."),
    (81, NOTEBOOK, "before", "", "Hygiene: nursing rooms: wipe down before opening"),
    (81, NOTEBOOK, "in", "upper case", "Hygiene: gel spills under the keys: discard"),
    (82, HANDHELD, "back", "scan window", "Stays with scan engine."),
    (83, NOTEBOOK, "in", "inlet plug", "Power: pack disconnected, wait 5 s."),
    (83, TABLET, "in", "pack plug", "Power: adapter out, off key, 5 s."),
    (
        83,
        NOTEBOOK,
        "in",
        "battery plug",
        "Then hold: power key, 10 s after the plug is o",
    ),
    (83, NOTEBOOK, "in", "battery plug", "is off; wait 10 s."),
    (
        85,
        NOTEBOOK,
        "back",
        "battery plug",
        "To start it again: stays in shipping state u",
    ),
    (
        85,
        HANDHELD,
        "back",
        "battery pins",
        "To start it again: scan key 3 s after the ba",
    ),
    (86, HANDHELD, "back", "picture", "Two red blinks: battery not recognised."),
    (
        86,
        NOTEBOOK,
        "back",
        "keys and pad",
        "Two short blinks, amber: pack not recognised",
    ),
    (87, NOTEBOOK, "after", "", "charge: Charge lamp on, level rises. With: own ada"),
    (87, NOTEBOOK, "back", "keys and pad", "Upper case laid on, not clipped."),
    (
        88,
        NOTEBOOK,
        "in",
        "battery plug",
        "Lost with the pack apart: clock, if the clock",
    ),
    (88, TABLET, "in", "pack plug", "Kept: storage; settings."),
    (89, NOTEBOOK, "back", "board", "Dress the fan lead before laying the board."),
    (89, NOTEBOOK, "back", "upper case", "Front edge in first, then lower the rear."),
    (90, NOTEBOOK, "back", "fan", "Right way: arrow towards the left vents; wrong: s"),
    (91, TABLET, "back", "touch tail", "Seat: latch flat. | Hold test: light pull"),
    (91, HANDHELD, "back", "back half", "Second look by another person."),
    (92, HANDHELD, "back", "keypad membrane", "Clean: carbon faces with dry brush."),
    (92, HANDHELD, "back", "front seal", "Grease: silicone, a trace on a finger."),
    (
        92,
        NOTEBOOK,
        "back",
        "mid-plate finger",
        "First: bend the finger up to 2 mm first.",
    ),
    (92, TABLET, "back", "frame bond", "T-AD, 1 piece"),
    (
        95,
        NOTEBOOK,
        "back",
        "mid-plate screws",
        "Align: all seven in two turns before any",
    ),
    (95, NOTEBOOK, "back", "mid-plate screws", "Start all before any is tight."),
    (96, NOTEBOOK, "after", "", "Reset the charge counter. | Set the clock."),
    (97, NOTEBOOK, "after", "", "radio: Radio finds the test station at 3 m. Limit:"),
    (97, HANDHELD, "after", "", "splash: Low-pressure leak test of 30 s"),
    (98, NOTEBOOK, "photos", "", "Photo l240-layer-1: upper case off; face inside;"),
    (98, NOTEBOOK, "photos", "", "light: from the left, flat; scale: tail 24 mm wid"),
    (
        98,
        NOTEBOOK,
        "in",
        "battery plug",
        "See photo l240-layer-1, 31 % from the left, 55",
    ),
    (98, NOTEBOOK, "in", "panel tail", "71 % from the top: bar opens upward."),
    (98, TABLET, "in", "front glass", "See photo v80-layer-1."),
    (99, NOTEBOOK, "head", "", "Facts: measured, Imke Vasterling, PL3-19273, 2026-0"),
    (99, NOTEBOOK, "in", "panel", "How known: told, supplier, contact count seen on"),
    (99, NOTEBOOK, "in", "key tail", "Matings: inferred from a twin, Joss Harrowell"),
    (100, TABLET, "in", "frame bond", "corner: front stands proud (3 times)."),
    (100, NOTEBOOK, "in", "badge", "Slip met before: a rim screw refitted in a cent"),
    (101, NOTEBOOK, "before", "", "May differ: some devices lack the cloth tape on"),
    (103, HANDHELD, "head", "", "Description: tried by another by Imke Vasterling o"),
]
"""What is said of each fact, in which list, and at which line; the facts by number."""


@pytest.mark.parametrize(("number", "family", "where", "name", "words"), SAID)
def test_it_says_the_fact_where_it_is_needed(
    number: int, family: Family, where: str, name: str, words: str
) -> None:
    assert words in told(opened(family), where, name), number


@pytest.mark.parametrize("family", [NOTEBOOK, TABLET, HANDHELD])
def test_it_says_each_word_of_a_line_once(family: Family) -> None:
    for line in (*opened(family).opening, *opened(family).refit):
        said = (*line.cautions, *line.details)

        assert sorted(set(said)) == sorted(said), line.name


def test_it_says_what_lamps_mean_once_and_where_it_first_has_power() -> None:
    lamp = "Two short blinks, amber: pack not recognised."
    tested = opened(NOTEBOOK)
    untested = opening_path(device_of(NOTEBOOK), ("badge",), lambda: False)

    saying = [line.verb for line in tested.refit if lamp in line.details]
    assert ["test"] == saying
    assert () == tested.signals
    assert lamp in untested.signals


@pytest.mark.parametrize("family", [NOTEBOOK, TABLET, HANDHELD])
def test_it_warns_one_action_before_what_does_not_survive(family: Family) -> None:
    answer = opened(family)
    lines = [line for line in answer.opening if line.verb != "take"]

    ends = [i for i, a in enumerate(lines) if "does not survive" in str(a.cautions)]
    assert ends
    for i in ends:
        words = f"{lines[i].name} does not survive: have its replacement at hand."
        if i == 0:
            assert f"{words[0].upper()}{words[1:]}" in answer.before_opening
        else:
            assert f"Next, {words}" in lines[i - 1].details


def test_it_tells_before_anything_that_the_first_action_destroys() -> None:
    answer = opening_path(device_of(TABLET), ("camera",), lambda: False)

    first = next(line for line in answer.opening if line.verb != "take")
    assert "frame bond" == first.name
    assert answer.before_opening[-1].startswith("Frame bond does not survive")


def test_it_says_when_moves_turns_and_joints_want_a_second_pair_of_hands() -> None:
    device = device_of(NOTEBOOK)
    more = replace(device.moves["panel"], hands=3)
    turn = Turn("base up", "lid open", hands=3)
    device = replace(device, moves={**device.moves, "panel": more}, turns=(turn,))

    answer = all_off(device)

    for name in ("panel", "lid open", "left pivot screws"):
        assert "A second pair of hands is needed." in told(answer, "in", name)
    assert "A second pair" not in told(answer, "in", "right pivot screws")


def test_it_says_the_power_state_of_parts_and_moves_too() -> None:
    device = device_of(NOTEBOOK)
    need = PowerNeed("isolated", 20, "power key")
    device = replace(
        device,
        parts={**device.parts, "fan": replace(device.parts["fan"], power=need)},
        moves={**device.moves, "panel": replace(device.moves["panel"], power=need)},
    )

    answer = all_off(device)

    for name in ("fan", "panel"):
        words = "Power: pack disconnected, power key, wait 20 s."
        assert words in told(answer, "in", name)


EASIER = """
device: Lamp
parts:
  base: {fixed: yes}
  shade: {}
  bulb: {easier_with_off: [{off: shade, saves_s: SAVES, why: "finger room"}]}
joints:
  shade clips: {clip: 2, holds: shade to base}
  bulb clips: {clip: 1, holds: bulb to base}
"""


@pytest.mark.parametrize(
    ("saves_s", "is_off", "words"),
    [
        ("500", True, "Easier with shade off: finger room."),
        ("1", False, "Shade may stay on; off, it would save 1 s: finger room."),
    ],
)
def test_it_takes_off_what_is_not_needed_where_that_pays(
    saves_s: str, is_off: bool, words: str
) -> None:
    text = EASIER.replace("SAVES", saves_s).replace("bulb: {", "bulb: {seconds: 600, ")

    answer = opening_path(read_device(text), ("bulb",), lambda: False)

    assert is_off == ("shade" in {line.name for line in answer.opening})
    assert words in told(answer, "in", "bulb")


def test_it_says_what_lies_under_a_nut_and_how_tight_it_goes() -> None:
    device = device_of(("pellorin-l240", "A"))

    answer = opening_path(device, ("port nuts",), lambda: False)

    assert "Under the nut: spring washer, port plate." in told(
        answer, "back", "port nuts"
    )


def test_it_says_how_one_device_came_when_it_comes_again() -> None:
    device = device_of(NOTEBOOK)

    assert (
        "PL3-85442 came so before: one rim screw missing on arrival "
        "(rim screws, 1 missing).",
    ) == arrived_words(device, "PL3-85442")
    assert () == arrived_words(device, "PL3-85443")
    assert () == arrived_words(device, "")


def test_it_says_which_screws_may_stand_in_and_nothing_longer() -> None:
    answer = opened(NOTEBOOK)

    words = told(answer, "back", "rim screws")
    assert "may stand in: badge screw (5 mm), centre screws (3.5 mm)." in words
    assert "deep screws" not in words
    assert "may stand in" not in told(answer, "back", "cooler screws")


def test_it_says_at_the_line_in_what_sound_devices_differ() -> None:
    device = device_of(TABLET)
    camera = replace(device.parts["camera"], variation="some have a grey ring")
    device = replace(device, parts={**device.parts, "camera": camera})

    assert "Some have a grey ring." in told(all_off(device), "in", "camera")


def test_a_hidden_catch_is_named_though_nobody_knows_how_it_is_freed() -> None:
    device = device_of(NOTEBOOK)
    name, joint = next(
        (name, joint)
        for name, joint in device.joints.items()
        if isinstance(joint.how, Clip) and joint.how.hidden
    )
    bare = replace(
        joint.how, hidden=tuple(replace(one, release="") for one in joint.how.hidden)
    )
    without = replace(device, joints={**device.joints, name: replace(joint, how=bare)})
    lines = [one for one in all_off(without).opening if one.name == name]

    where = bare.hidden[0].where
    assert any(
        words.casefold() == f"one hidden catch {where}.".casefold()
        for line in lines
        for words in line.details
    )


def test_the_problem_bears_the_name_of_the_device() -> None:
    device = device_of(TABLET)

    assert device.name == pose(device, ("camera",)).problem.name


def test_a_row_of_clips_says_no_more_than_is_known_of_it() -> None:
    def told(**row: str) -> list[str]:
        clip = Clip(rows=(ClipRow(n=2, **row),))
        return list(details_in(Joint(holds=("lid", "tub"), how=clip)))

    assert [] == told()
    assert ["2 along front."] == told(edge="front")
    assert ["Press inward."] == told(release="press inward")
    assert ["2 along front: press inward."] == told(
        edge="front", release="press inward"
    )

"""
Do the facts of a description agree with one another?

Each rule looks at the noun as read and names the place in the text.
What could not be read was already told and is passed over here.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from turnscrew.core.model.blocking import USED_UP_KINDS, Ring, rings_in, waits_of
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.geometry import Places, View, Zone
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.nearest import nearest, wanted_name
from turnscrew.core.model.quantities import PointMm
from turnscrew.core.model.references import references_in
from turnscrew.core.model.times import ELEMENTS
from turnscrew.core.model.tool import usual_tool
from turnscrew.core.model.turning import postures_in
from turnscrew.errors import Problem
from turnscrew.files.json_text import Path, in_words
from turnscrew.files.yaml_text import (
    Branch,
    Leaf,
    Node,
    Row,
    mark_at,
    node_at,
    path_there,
)

SAME_HOLE_MM = 0.3
"""Two screws nearer than this would share a hole. [mm]"""

_FORBIDDEN = (" to ", " or ", ",", " aside", " raised", " folded back", " loose")
"""What a name may not hold, since it would read as something else."""

_KIND_WORDS = {
    "part": "the name of a part",
    "joint": "the name of a joint",
    "thing": "the name of a part or joint",
    "view": "the name of a view",
    "posture": "the name of a posture",
    "test": "the name of a test",
    "tool": "the name of a tool",
}


@dataclass(frozen=True)
class _Fault:
    """A problem with its path, before its place in the text is looked up."""

    path: Path
    found: str
    wanted: str


def problems_in(
    device: Device, tree: Branch, unread: tuple[str, ...]
) -> tuple[Problem, ...]:
    """
    Find facts that contradict one another.

    Parameters
    ----------
    device
        The device as read.
    tree
        The text it was read from.
    unread
        Paths of facts that could not be read.

    Returns
    -------
    tuple
        Problems, each with its place.
    """
    faults = [
        *_bad_names(device),
        *_unknown_names(device, tree),
        *_empty_joints(device),
        *_off_the_face(device),
        *_shared_holes(device),
        *_odd_views(device),
        *_impossible_blockers(device),
        *_unknown_elements(device),
        *_unknown_facts(device, tree),
        *_unused_words(device, tree),
    ]
    found = [_placed(fault, tree) for fault in faults]
    # A ring among names that could not be read would send the reader astray.
    if not unread and not found:
        found += [_ring_problem(ring, tree) for ring in rings_in(waits_of(device))]
    return tuple(problem for problem in found if not _is_unread(problem.where, unread))


def _placed(fault: _Fault, tree: Branch) -> Problem:
    mark = mark_at(tree, fault.path)
    where = in_words(path_there(tree, fault.path))
    return Problem(where, fault.found, fault.wanted, mark.line, mark.column)


def _is_unread(where: str, unread: Iterable[str]) -> bool:
    return any(where == path or path.startswith(f"{where}.") for path in unread)


def _bad_names(device: Device) -> Iterator[_Fault]:
    """Names that would read as something else, or stand for two things."""
    sections: Mapping[str, Iterable[str]] = {
        "parts": device.parts,
        "joints": device.joints,
    }
    for section, names in sections.items():
        for name in names:
            for bad in _FORBIDDEN:
                if bad in name:
                    wanted = f'a name without "{bad.strip()}"'
                    yield _Fault((section, name), name, wanted)
    for name in device.joints:
        part = device.parts.get(name)
        if part is not None and part.kind not in USED_UP_KINDS:
            wanted = "another name, since a part has it too"
            yield _Fault(("joints", name), name, wanted)


def _unknown_names(device: Device, tree: Branch) -> Iterator[_Fault]:
    known = _known_names(device, tree)
    for reference in references_in(device):
        names = known[reference.kind]
        if names is not None and reference.name not in names:
            wanted = nearest(reference.name, names) or _KIND_WORDS[reference.kind]
            yield _Fault(reference.path, reference.name, wanted)


def _known_names(device: Device, tree: Branch) -> dict[str, tuple[str, ...] | None]:
    """Give the names of each kind; those of things unreadable count as known."""
    parts = (*device.parts, *_keys(tree, "parts"))
    joints = (*device.joints, *_keys(tree, "joints"))
    tools = (
        *device.tools,
        *(usual_tool(joint.how) for joint in device.joints.values()),
    )
    faces_up = () if device.postures else (f"{n} up" for n in _keys(tree, "views"))
    return {
        "part": parts,
        "joint": joints,
        "thing": (*parts, *joints),
        "view": (*device.views, *_keys(tree, "views")),
        "posture": (*postures_in(device), *_keys(tree, "postures"), *faces_up),
        "test": (*device.tests, *_keys(tree, "tests")),
        # Without a list of tools any tool may be named.
        "tool": (*tools, "hand") if device.tools else None,
    }


def _keys(tree: Branch, section: str) -> tuple[str, ...]:
    node = tree.items.get(section)
    return tuple(node.items) if isinstance(node, Branch) else ()


def _empty_joints(device: Device) -> Iterator[_Fault]:
    """Find joints that hold nothing, unless the whole is openly a draft."""
    if device.release is not None and device.release.state == "draft":
        return
    for name, joint in device.joints.items():
        if not joint.holds:
            wanted = "what it holds to what, or release: draft"
            yield _Fault(("joints", name, "holds"), "nothing", wanted)


def _off_the_face(device: Device) -> Iterator[_Fault]:
    for path, places in _all_places(device):
        view = device.views.get(places.view)
        if view is None:
            continue
        for index, point_mm in enumerate(places.points_mm):
            if not view.holds(point_mm):
                where = (*path, "mm", index)
                yield _Fault(
                    where, _point_words(point_mm), _face_words(places.view, view)
                )
    for path, zone in _all_zones(device):
        view = device.views.get(zone.view)
        if view is not None and not _is_zone_on(zone, view):
            shape = "rect_mm" if zone.rect_mm else "circle_mm"
            found = ", ".join(f"{mm:g}" for mm in zone.rect_mm or zone.circle_mm or ())
            yield _Fault((*path, shape), found, _face_words(zone.view, view))


def _all_places(device: Device) -> Iterator[tuple[Path, Places]]:
    for name, joint in device.joints.items():
        for index, places in enumerate(joint.at):
            yield ("joints", name, "at", index), places
    for index, hole in enumerate(device.empty_holes):
        yield ("empty_holes", index), Places(hole.view, hole.points_mm)
    for name, cable in device.cables.items():
        for index, pinch in enumerate(cable.pinch):
            if pinch.at is not None:
                yield ("cables", name, "pinch", index, "at"), pinch.at


def _all_zones(device: Device) -> Iterator[tuple[Path, Zone]]:
    for section in ("joints", "parts", "moves"):
        for name, doing in getattr(device, section).items():
            for word in ("no_lever", "depth"):
                for index, zone in enumerate(getattr(doing, word)):
                    yield (section, name, word, index), zone


def _is_zone_on(zone: Zone, view: View) -> bool:
    extent = zone.extent_mm()
    if extent is None:
        return True
    (left, upper), (right, lower) = extent
    width_mm, height_mm = view.size_mm
    if zone.circle_mm:
        # A circle may hang over the edge, so long as its centre is on the face.
        return view.holds((zone.circle_mm[0], zone.circle_mm[1]))
    return left >= 0 and upper >= 0 and right <= width_mm and lower <= height_mm


def _point_words(point_mm: PointMm) -> str:
    return f"{point_mm[0]:g}, {point_mm[1]:g}"


def _face_words(name: str, view: View) -> str:
    width_mm, height_mm = view.size_mm
    outline = ", inside its outline" if view.outline_mm else ""
    return f"a place on {name}, {width_mm:g} x {height_mm:g} mm{outline}"


def _shared_holes(device: Device) -> Iterator[_Fault]:
    """Two screws in one hole, or one where a hole stays empty."""
    taken: list[tuple[str, PointMm, str]] = []
    for hole in device.empty_holes:
        taken += [
            (hole.view, point_mm, "a hole left empty") for point_mm in hole.points_mm
        ]
    for name, joint in device.joints.items():
        if not _fills_a_hole(joint):
            continue
        for index, places in enumerate(joint.at):
            for number, point_mm in enumerate(places.points_mm):
                other = _taken_by(taken, places.view, point_mm)
                if other:
                    found = f"{_point_words(point_mm)}, where {other} is"
                    path = ("joints", name, "at", index, "mm", number)
                    yield _Fault(path, found, "one screw to a hole")
                taken.append((places.view, point_mm, name))


def _fills_a_hole(joint: Joint) -> bool:
    """Say whether it needs a hole for itself; a stand-off shares its own."""
    if isinstance(joint.how, Screw):
        return joint.how.shoulder is None
    return isinstance(joint.how, Nut)


def _taken_by(
    taken: list[tuple[str, PointMm, str]], view: str, point_mm: PointMm
) -> str:
    for other_view, (x_mm, y_mm), name in taken:
        near = abs(x_mm - point_mm[0]) < SAME_HOLE_MM
        if other_view == view and near and abs(y_mm - point_mm[1]) < SAME_HOLE_MM:
            return name
    return ""


def _odd_views(device: Device) -> Iterator[_Fault]:
    """Find opposite faces that cannot be the two sides of one thing."""
    for name, view in device.views.items():
        other = device.views.get(view.opposite)
        if other is None:
            continue
        path: Path = ("views", name, "opposite")
        if view.opposite == name:
            yield _Fault(path, "the view itself", "another view")
        elif other.size_mm != view.size_mm:
            found = f"{view.opposite}, which has another size"
            yield _Fault(path, found, "two faces of one size")
        elif other.opposite == name and other.turned_about != view.turned_about:
            found = f"{view.opposite}, which is turned about another axis"
            yield _Fault(path, found, "one axis for both")


def _impossible_blockers(device: Device) -> Iterator[_Fault]:
    """Something aside that nobody moves aside; something off that never comes off."""
    for section in ("joints", "parts", "moves"):
        for name, doing in getattr(device, section).items():
            for word in ("under", "after"):
                for index, need in enumerate(getattr(doing, word)):
                    for blocker in need.any_of:
                        path = (section, name, word, index)
                        yield from _impossible(
                            device, blocker.name, blocker.state, path
                        )


def _impossible(device: Device, name: str, state: str, path: Path) -> Iterator[_Fault]:
    part = device.parts.get(name)
    if state == "aside" and part is not None and name not in device.moves:
        yield _Fault(path, f"{name} aside", f"an entry for {name} under moves")
    elif part is not None and part.fixed and name not in device.joints:
        yield _Fault(path, f"{name}, which is fixed", "something that comes off")


def _unknown_elements(device: Device) -> Iterator[_Fault]:
    for element in device.times:
        if element not in ELEMENTS:
            wanted = wanted_name(element, ELEMENTS)
            yield _Fault(("times", element), element, wanted)


def _unknown_facts(device: Device, tree: Branch) -> Iterator[_Fault]:
    """Origins name facts that are there."""
    for fact in device.origins:
        if node_at(tree, tuple(fact.split("."))) is None:
            wanted = "the path of a fact, such as joints.pack plug.at"
            yield _Fault(("origins", fact), fact, wanted)


def _unused_words(device: Device, tree: Branch) -> Iterator[_Fault]:
    """Sentences in another language belong to a sentence of the description."""
    if not device.words:
        return
    rest = {key: node for key, node in tree.items.items() if key != "words"}
    said = set(_texts(Branch(rest)))
    for language, sentences in device.words.items():
        for sentence in sentences:
            if sentence not in said:
                wanted = nearest(sentence, said) or "a sentence of this description"
                yield _Fault(("words", language, sentence), sentence, wanted)


def _texts(node: Node) -> Iterator[str]:
    match node:
        case Leaf(text=str() as text):
            yield text
        case Row(items=items):
            for item in items:
                yield from _texts(item)
        case Branch(items=by_key):
            for key, item in by_key.items():
                yield key
                yield from _texts(item)


def _ring_problem(ring: Ring, tree: Branch) -> Problem:
    marks = []
    for _, condition in ring.links:
        mark = mark_at(tree, _path_of(condition.path, tree))
        marks.append((mark, condition.path))
    lines = "; ".join(f"line {mark.line} ({path})" for mark, path in marks)
    first, path = marks[0]
    found = f"{ring}: {lines}"
    return Problem(path, found, "an order that can begin", first.line, first.column)


def _path_of(path: str, tree: Branch) -> Path:
    """Part a path at its dots, keeping together names that have dots in them."""
    section, _, rest = path.partition(".")
    names = sorted(_keys(tree, section), key=len, reverse=True)
    for name in names:
        if rest.startswith(f"{name}."):
            return (section, name, *rest.removeprefix(f"{name}.").split("."))
    return (section, *rest.split("."))

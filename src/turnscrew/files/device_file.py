"""How is a device description read, with every problem in it told at once?"""

from dataclasses import replace

from turnscrew.core.model.device import Device
from turnscrew.core.model.nearest import nearest
from turnscrew.core.model.part import Part
from turnscrew.errors import BadArgumentError, Problem
from turnscrew.files import device_rules
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.revisions import facts_named, merged
from turnscrew.files.shape import Place, noun_of
from turnscrew.files.yaml_text import Branch, Leaf, Node, Row, found_words, read_tree


def read_device(text: str, *, revision: str | None = None) -> Device:
    """
    Read a device description in one of its revisions.

    Without a revision the base is given, and all revisions are checked.

    Parameters
    ----------
    text
        The description.
    revision
        Name of a revision in it.

    Returns
    -------
    Device
        What the description says of that revision.

    Raises
    ------
    BadFileError
        If anything in the text does not fit, with all problems.
    BadArgumentError
        If the description has no such revision.
    """
    tree, problems = read_tree(text)
    names = _revision_names(tree)
    if revision is not None and revision not in names:
        wanted = nearest(revision, names) or ", ".join(names) or "none"
        raise BadArgumentError(f"revision: found {revision}, wanted {wanted}")
    device, found = _device_in(tree, revision, problems)
    if revision is None:
        for name in names:
            found += _device_in(tree, name, problems)[1]
    refuse_if_any(found)
    return device


def revisions_in(text: str) -> tuple[str, ...]:
    """
    Name the revisions of a description, without checking the rest.

    Parameters
    ----------
    text
        The description.

    Returns
    -------
    tuple
        Names in the order of the text.
    """
    return _revision_names(read_tree(text)[0])


def _revision_names(tree: Branch) -> tuple[str, ...]:
    revisions = tree.items.get("revisions")
    if not isinstance(revisions, Branch):
        return ()
    return tuple(name for name in revisions.items if not name.startswith("\n"))


def _device_in(
    tree: Branch, revision: str | None, told: tuple[Problem, ...]
) -> tuple[Device, list[Problem]]:
    """Read one revision; whatever can be read is checked, even after a problem."""
    misfits = list(told)
    whole = _named(_in_revision(tree, revision, misfits), misfits)
    device = noun_of(_with_names(whole, misfits), Device, Place((), misfits))
    assert isinstance(device, Device)
    device = _with_implied_parts(device)
    # What could not be read was replaced by defaults, which no rule may judge.
    unread = tuple(problem.where for problem in misfits)
    broken = device_rules.problems_in(device, whole, unread)
    return replace(device, revision=revision or ""), [*misfits, *broken]


def _named(tree: Branch, problems: list[Problem]) -> Branch:
    """See that there is a name, so that the rest can be read without one."""
    node = tree.items.get("device")
    if isinstance(node, Leaf) and node.text is not None:
        return tree
    mark, found = (node or tree).mark, found_words(node) if node else "nothing"
    wanted = "the name of the family"
    problems.append(Problem("device", found, wanted, mark.line, mark.column))
    return replace(tree, items={**tree.items, "device": Leaf("?", mark)})


def _in_revision(tree: Branch, revision: str | None, problems: list[Problem]) -> Branch:
    revisions = tree.items.get("revisions")
    entry = (
        revisions.items.get(revision or "") if isinstance(revisions, Branch) else None
    )
    differs = entry.items.get("differs") if isinstance(entry, Branch) else None
    return merged(tree, differs, problems) if isinstance(differs, Branch) else tree


def _with_names(tree: Branch, problems: list[Problem]) -> Branch:
    """Put in place of the differences the names of what differs."""
    revisions = tree.items.get("revisions")
    if not isinstance(revisions, Branch):
        return tree
    shown: dict[str, Node] = {}
    for name, entry in revisions.items.items():
        shown[name] = entry
        if isinstance(entry, Branch) and "differs" in entry.items:
            differs = entry.items["differs"]
            names = Row(
                tuple(Leaf(fact) for fact in facts_named(differs)), differs.mark
            )
            shown[name] = replace(entry, items={**entry.items, "differs": names})
            if not isinstance(differs, Branch):
                place = Place(("revisions", name, "differs"), problems)
                place.note(
                    differs.mark, found_words(differs), "sections such as joints:"
                )
    return replace(
        tree, items={**tree.items, "revisions": replace(revisions, items=shown)}
    )


def _with_implied_parts(device: Device) -> Device:
    """
    Add the parts that are only named.

    A first draft need not list its parts: those that joints hold are enough.
    What lies inside a part need not be listed beside it.
    """
    implied = [name for part in device.parts.values() for name in part.contains]
    if not device.parts:
        implied += [name for joint in device.joints.values() for name in joint.holds]
    new = {name: Part() for name in implied if name not in device.parts}
    return replace(device, parts={**device.parts, **new}) if new else device

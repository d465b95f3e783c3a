"""How does the description of one revision follow from the base and its differences?"""

from collections.abc import Iterator

from turnscrew.errors import Problem
from turnscrew.files.json_text import Path, in_words
from turnscrew.files.yaml_text import Branch, Leaf, Node

_DEPTH_SHOWN = 3
"""How far down a difference is named: section, name, fact. [1]"""


def merged(
    base: Branch, differs: Branch, problems: list[Problem], path: Path = ()
) -> Branch:
    """
    Lay differences over a base, key by key.

    A value replaces the value of the same key; nothing (``null``) removes the key.

    Parameters
    ----------
    base
        The base.
    differs
        The differences.
    problems
        Collects removals of what is not there.
    path
        Where in the description both stand.

    Returns
    -------
    Branch
        The description of the revision; everything keeps its place in the text.
    """
    items = dict(base.items)
    key_marks = dict(base.key_marks)
    for key, node in differs.items.items():
        old = items.get(key)
        if isinstance(node, Leaf) and node.text is None:
            if old is None:
                where = in_words((*path, key))
                wanted = "the name of something in the base"
                mark = differs.key_marks.get(key, node.mark)
                place = (mark.line, mark.column)
                problems.append(Problem(where, "nothing to remove", wanted, *place))
            items.pop(key, None)
            continue
        if isinstance(old, Branch) and isinstance(node, Branch):
            node = merged(old, node, problems, (*path, key))
        items[key] = node
        key_marks[key] = differs.key_marks.get(key, node.mark)
    return Branch(items, base.mark, base.is_flow, key_marks)


def facts_named(differs: Node, path: Path = ()) -> Iterator[str]:
    """
    Name the facts that differ.

    Parameters
    ----------
    differs
        The differences.
    path
        Where they stand.

    Yields
    ------
    str
        Paths such as ``joints.key tail.socket``.
    """
    if not isinstance(differs, Branch) or len(path) == _DEPTH_SHOWN:
        yield in_words(path)
        return
    for key, node in differs.items.items():
        yield from facts_named(node, (*path, key))

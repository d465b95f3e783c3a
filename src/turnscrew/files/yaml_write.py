"""How is a value written to read back as itself, and a text changed in one spot?"""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from turnscrew.errors import BadArgumentError, BadFileError
from turnscrew.files.json_text import Path, in_words
from turnscrew.files.yaml_text import Branch, Leaf, Mark, Node, Row, node_at, read_tree

Plain = str | int | float | bool | None | Sequence["Plain"] | Mapping[str, "Plain"]
"""A value without marks: texts, numbers, lists, and keys with values."""

_SAFE = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ._/+°×–-]*[A-Za-z0-9.°])?")
_NULLS = ("null", "Null", "NULL")


def flow(value: Plain) -> str:
    """
    Write a value in one line.

    Parameters
    ----------
    value
        The value.

    Returns
    -------
    str
        YAML in flow style.
    """
    match value:
        case None:
            return "null"
        case bool():
            return "yes" if value else "no"
        case int() | float():
            return f"{value:.12g}"
        case str():
            is_safe = _SAFE.fullmatch(value) and value not in _NULLS
            return value if is_safe else json.dumps(value, ensure_ascii=False)
        case Mapping():
            pairs = (f"{flow(key)}: {flow(item)}" for key, item in value.items())
            return "{" + ", ".join(pairs) + "}"
    return "[" + ", ".join(flow(item) for item in value) + "]"


def plain_of(node: Node) -> Plain:
    """
    Give what stands somewhere without its marks.

    Parameters
    ----------
    node
        The thing.

    Returns
    -------
    Plain
        Single values as the texts that were typed.
    """
    match node:
        case Branch(items=by_key):
            return {key: plain_of(item) for key, item in by_key.items()}
        case Row(items=items):
            return [plain_of(item) for item in items]
    return node.text


def changed(text: str, path: Path, value: Plain) -> str:
    """
    Set one fact in a text; every other character, comments too, stays.

    Parameters
    ----------
    text
        The text.
    path
        Keys and places that lead to the fact; what is missing on the way is added.
    value
        The new value; ``None`` removes the fact.

    Returns
    -------
    str
        The changed text. BadArgumentError is raised if the path leads through a
        single value, or there is nothing to remove.

    Raises
    ------
    RuntimeError
        If the changed text would say anything else besides.
    """
    tree, _ = read_tree(text)
    new = _removed(text, tree, path) if value is None else _set(text, tree, path, value)
    wanted = _updated(tree, path, value)
    try:
        is_right = read_tree(new)[0] == wanted
    except BadFileError:
        is_right = False
    if not is_right:
        raise RuntimeError(f"changing {in_words(path)} would change more than that")
    return new


def _set(text: str, tree: Branch, path: Path, value: Plain) -> str:
    node, parent = _strictly_at(tree, path), _strictly_at(tree, path[:-1])
    if node is not None:
        return _replaced(text, parent, node, path[-1], flow(value))
    match parent:
        case None | Leaf(text=None):
            return _set(text, tree, path[:-1], _under(path[-1], value))
        case Leaf():
            found = f"{in_words(path[:-1])} as the short text {parent.text}"
            raise BadArgumentError(
                f"path: found {found}, wanted it written out in keys"
            )
    return _added(text, parent, path[-1], value)


def _under(key: str | int, value: Plain) -> Plain:
    return [value] if isinstance(key, int) else {key: value}


def _replaced(
    text: str, parent: Node | None, node: Node, key: str | int, new: str
) -> str:
    if isinstance(parent, Row) and node.mark.start == node.mark.end:
        found = f"an empty entry in line {node.mark.line}"
        raise BadArgumentError(f"path: found {found}, wanted the list as a whole")
    start, end = _span(node, text)
    if isinstance(parent, Branch) and isinstance(node, (Branch, Row)):
        if not node.is_flow:
            # What filled lines of its own becomes one value behind its key.
            colon = text.index(":", parent.key_marks[str(key)].end) + 1
            lines = text.rfind("\n", 0, start) + 1
            return (
                f"{text[:colon]} {new}{text[colon:lines]}{text[_line_end(text, end) :]}"
            )
    # A value where there was none is parted from its colon.
    return _spliced(text, (start, end), f" {new}" if start == end else new)


def _added(text: str, parent: Branch | Row, key: str | int, value: Plain) -> str:
    """Add an entry after the last one of its parent."""
    is_row = isinstance(parent, Row)
    entry = flow(value) if is_row else f"{flow(str(key))}: {flow(value)}"
    children = _children(parent)
    if parent.is_flow:
        if not children:
            inside = parent.mark.start + 1
            return _spliced(text, (inside, inside), entry)
        start, end = _span(children[-1], text)
        # A key with nothing behind it keeps a space from the comma, or it would eat it.
        comma = " , " if start == end else ", "
        return _spliced(text, (end, end), f"{comma}{entry}")
    indent = " " * (parent.mark.column - 1)
    end = _line_end(text, _span(children[-1], text)[1])
    new_line = "" if text[:end].endswith("\n") else "\n"
    dash = "- " if is_row else ""
    return _spliced(text, (end, end), f"{new_line}{indent}{dash}{entry}\n")


def _removed(text: str, tree: Branch, path: Path) -> str:
    node, parent = _strictly_at(tree, path), _strictly_at(tree, path[:-1])
    if node is None or not isinstance(parent, Branch):
        raise BadArgumentError(
            f"path: found no {in_words(path)}, wanted a fact to remove"
        )
    start, end = parent.key_marks[str(path[-1])].start, _span(node, text)[1]
    if not parent.is_flow:
        start = text.rfind("\n", 0, start) + 1
        return _spliced(text, (start, _line_end(text, end)), "")
    after = re.compile(r"\s*,\s*").match(text, end)
    if after is not None:
        return _spliced(text, (start, after.end()), "")
    before = re.compile(r"[\s,]*$").search(text[:start])
    assert before is not None
    return _spliced(text, (before.start(), end), "")


def _spliced(text: str, span: tuple[int, int], new: str) -> str:
    return text[: span[0]] + new + text[span[1] :]


def _span(node: Node, text: str) -> tuple[int, int]:
    """Give where a node begins and ends, without the comments after its last line."""
    start, end = node.mark.start, node.mark.end
    if start == end:
        colon = text.find(":", start) + 1
        return colon, colon
    if isinstance(node, (Branch, Row)) and not node.is_flow:
        end = _span(_children(node)[-1], text)[1]
    # The end of a text in several lines is the beginning of the next thing.
    while end > start and text[end - 1] in "\n ":
        end -= 1
    return start, end


def _line_end(text: str, position: int) -> int:
    end = text.find("\n", position)
    return len(text) if end < 0 else end + 1


def _children(node: Branch | Row) -> tuple[Node, ...]:
    return node.items if isinstance(node, Row) else tuple(node.items.values())


def _strictly_at(tree: Node, path: Path) -> Node | None:
    """Find a node by its real place: no list is taken as left out."""
    node: Node | None = tree
    for key in path:
        if isinstance(key, int) and not isinstance(node, Row):
            return None
        node = node_at(node, (key,)) if node is not None else None
    return node


def _updated(node: Node, path: Path, value: Plain) -> Node:
    """Give the tree the changed text should have."""
    if not path:
        return _node_of(value)
    key, rest = path[0], path[1:]
    if isinstance(node, Row):
        assert isinstance(key, int)
        items = list(node.items)
        old = items[key] if key < len(items) else Leaf(None)
        items[key : key + 1] = [_updated(old, rest, value)]
        return replace(node, items=tuple(items))
    if isinstance(node, Leaf) and isinstance(key, int):
        return Row((_updated(Leaf(None), rest, value),))
    by_key = dict(node.items) if isinstance(node, Branch) else {}
    if value is None and not rest:
        del by_key[str(key)]
    else:
        by_key[str(key)] = _updated(by_key.get(str(key), Leaf(None)), rest, value)
    return Branch(by_key) if by_key else _emptied(node)


def _emptied(node: Node) -> Node:
    """Give what is left when the last key of a thing is gone."""
    if isinstance(node, Branch) and node.is_flow:
        return Branch({})
    return Leaf(None, Mark())


def _node_of(value: Plain) -> Node:
    match value:
        case None:
            return Leaf(None)
        case Mapping():
            return Branch({str(key): _node_of(item) for key, item in value.items()})
        case str():
            return Leaf(value)
        case bool() | int() | float():
            return Leaf(flow(value))
    return Row(tuple(_node_of(item) for item in value))

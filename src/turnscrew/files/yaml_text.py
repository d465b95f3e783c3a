"""
What does a YAML text say, and at which line and column does each thing stand?

Every value stays the text that was typed: ``NO``, ``1.10`` and ``12:30`` mean what they
look like, and the kind of value wanted is decided by the fact it is given for.
Anchors, aliases, tags, tabs, doubled keys and further documents are refused, so that
a description says each thing once and in its own place.
"""

import codecs
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from turnscrew.errors import BadFileError, Problem
from turnscrew.files.json_text import Path, in_words

MAX_CHARACTERS = 1_000_000
"""Longest text that is read; the largest description met has a tenth of it. [1]"""

MAX_DEPTH = 30
"""Deepest nesting that is read; a description needs eight. [1]"""

_BOMS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


@dataclass(frozen=True)
class Mark:
    """
    Where a thing stands.

    Parameters
    ----------
    line
        Line, counted from 1. [1]
    column
        Column, counted from 1. [1]
    start
        Characters before it. [1]
    end
        Characters up to its end. [1]
    """

    line: int = 0
    column: int = 0
    start: int = 0
    end: int = 0


@dataclass(frozen=True)
class Leaf:
    """
    A single value.

    Parameters
    ----------
    text
        What was typed; ``None`` for nothing, ``null`` or ``~``.
    mark
        Where it stands.
    """

    text: str | None
    mark: Mark = field(default=Mark(), compare=False)


@dataclass(frozen=True)
class Row:
    """
    A list.

    Parameters
    ----------
    items
        Its entries.
    mark
        Where it stands.
    is_flow
        Written in brackets.
    """

    items: tuple["Node", ...]
    mark: Mark = field(default=Mark(), compare=False)
    is_flow: bool = field(default=True, compare=False)


@dataclass(frozen=True)
class Branch:
    """
    Keys and what stands under them.

    Parameters
    ----------
    items
        Values by key, in the order of the text.
    mark
        Where it stands.
    is_flow
        Written in braces.
    key_marks
        Where the keys stand.
    """

    items: Mapping[str, "Node"]
    mark: Mark = field(default=Mark(), compare=False)
    is_flow: bool = field(default=True, compare=False)
    key_marks: Mapping[str, Mark] = field(default_factory=dict, compare=False)


Node = Leaf | Row | Branch


def decode(content: bytes) -> str:
    """
    Turn the bytes of a file into text.

    Parameters
    ----------
    content
        The bytes.

    Returns
    -------
    str
        The text, without a byte order mark.

    Raises
    ------
    BadFileError
        If the bytes are too many or no UTF-8 or marked UTF-16.
    """
    if len(content) > 4 * MAX_CHARACTERS:
        raise BadFileError((_too_long(len(content)),))
    encoding = next((name for bom, name in _BOMS if content.startswith(bom)), "utf-8")
    try:
        return content.decode(encoding)
    except UnicodeDecodeError as error:
        before = content[: error.start]
        line = before.count(b"\n") + 1
        column = error.start - (before.rfind(b"\n") + 1) + 1
        found = f"byte 0x{content[error.start]:02x}"
        problem = Problem("text", found, "text in UTF-8", line, column)
        raise BadFileError((problem,)) from error


def read_tree(
    text: str, wanted: str = "keys such as device: and joints:"
) -> tuple[Branch, tuple[Problem, ...]]:
    """
    Read a YAML text into keys, lists and typed-in values.

    Parameters
    ----------
    text
        The text.
    wanted
        What a text that has no keys is told to have.

    Returns
    -------
    tuple
        The tree, and problems that leave it readable, in the order of the text.

    Raises
    ------
    BadFileError
        If the text cannot be read at all.
    """
    return _read(text, wanted)


# One text is asked for several revisions, its looks, its edits: it is read once.
@lru_cache(maxsize=16)
def _read(text: str, wanted: str) -> tuple[Branch, tuple[Problem, ...]]:
    if len(text) > MAX_CHARACTERS:
        raise BadFileError((_too_long(len(text)),))
    tabs = tuple(_tabs(text))
    if tabs:
        raise BadFileError(tabs)
    problems: list[Problem] = []
    try:
        tree = _tree_of(_events(text), problems)
    except MarkedYAMLError as error:
        raise BadFileError((*problems, _syntax_problem(error))) from error
    except YAMLError as error:
        problem = Problem("text", str(error).splitlines()[0], "readable text")
        raise BadFileError((*problems, problem)) from error
    if not isinstance(tree, Branch):
        found = "an empty text" if tree is None else found_words(tree)
        problem = Problem("text", found, wanted, 1, 1)
        raise BadFileError((*problems, problem))
    return tree, tuple(problems)


def node_at(tree: Node, path: Path) -> Node | None:
    """
    Find the thing at a path.

    Where one entry stands without a list round it, place 0 is the entry itself.

    Parameters
    ----------
    tree
        Where to begin.
    path
        Keys and places.

    Returns
    -------
    Node or None
        The thing, or ``None`` if it is not there.
    """
    node: Node | None = tree
    for key in path:
        match node, key:
            case Row(items=items), int():
                node = items[key] if key < len(items) else None
            case ((Branch() | Leaf()), 0):
                pass
            case Branch(items=by_key), str():
                node = by_key.get(key)
            case _:
                return None
    return node


def path_there(tree: Node, path: Path) -> Path:
    """
    Shorten a path to how it is written in the text.

    Parameters
    ----------
    tree
        Where to begin.
    path
        Keys and places, perhaps into a short spelling or past a list left out.

    Returns
    -------
    Path
        The path without places in lists left out, cut where a short spelling stands.
    """
    there: Path = ()
    node: Node | None = tree
    for key in path:
        if isinstance(node, (Leaf, Branch)) and key == 0:
            continue
        if isinstance(node, Leaf):
            break
        there = (*there, key)
        node = node_at(node, (key,)) if node is not None else None
    return there


def mark_at(tree: Branch, path: Path) -> Mark:
    """
    Say where a path stands, or the nearest thing round it that is there.

    Parameters
    ----------
    tree
        The whole text.
    path
        Keys and places.

    Returns
    -------
    Mark
        Where it stands.
    """
    for length in range(len(path), -1, -1):
        node = node_at(tree, path[:length])
        if node is not None:
            return node.mark
    return tree.mark


def placed(tree: Branch, path: Path, found: str, wanted: str) -> Problem:
    """
    Give a problem its place in a text.

    Parameters
    ----------
    tree
        The whole text.
    path
        Keys and places that lead to it.
    found
        What stands there.
    wanted
        What would be right.

    Returns
    -------
    Problem
        The problem with its line.
    """
    mark = mark_at(tree, path)
    return Problem(in_words(path), found, wanted, mark.line, mark.column)


def found_words(node: Node) -> str:
    """
    Say in words what stands somewhere.

    Parameters
    ----------
    node
        The thing.

    Returns
    -------
    str
        The value itself, or what kind of thing it is.
    """
    match node:
        case Leaf(text=None):
            return "nothing"
        case Leaf(text=text):
            assert text is not None
            return text if len(text) <= 60 else f"{text[:57]}..."
        case Row():
            return "a list"
    return "keys and values"


def _too_long(n_characters: int) -> Problem:
    wanted = f"at most {MAX_CHARACTERS} characters"
    return Problem("text", f"{n_characters} characters", wanted)


def _tabs(text: str) -> Iterator[Problem]:
    for number, line in enumerate(text.splitlines(), 1):
        indent = line[: len(line) - len(line.lstrip())]
        if "\t" in indent:
            column = indent.index("\t") + 1
            yield Problem("text", "a tab", "spaces to indent with", number, column)


def _syntax_problem(error: MarkedYAMLError) -> Problem:
    mark = error.problem_mark or error.context_mark
    found = str(error.problem or error.context or "unreadable text")
    found = found.removeprefix("found ")
    line, column = (mark.line + 1, mark.column + 1) if mark else (0, 0)
    return Problem("text", found, "YAML", line, column)


def _events(text: str) -> Iterator[Event]:
    yield from YAML(typ="safe", pure=True).parse(text)


@dataclass
class _Open:
    """A list or mapping whose end has not come yet."""

    start: MappingStartEvent | SequenceStartEvent
    path: Path
    items: list[Node] = field(default_factory=list)
    key: str | None = None
    by_key: dict[str, Node] = field(default_factory=dict)
    key_marks: dict[str, Mark] = field(default_factory=dict)


def _tree_of(events: Iterator[Event], problems: list[Problem]) -> Node | None:
    """Build the tree; a stack of open things keeps deep texts from recursing."""
    stack: list[_Open] = []
    root: Node | None = None
    n_documents = 0
    for event in events:
        if isinstance(event, DocumentStartEvent):
            n_documents += 1
            if n_documents > 1:
                problems.append(_problem(event, "text", "a second document", "one"))
                return root
        elif isinstance(event, (MappingStartEvent, SequenceStartEvent)):
            _refuse_extras(event, stack, problems)
            _refuse_depth(event, stack)
            stack.append(_Open(event, _path_here(stack)))
        else:
            node = _node_of(event, stack, problems)
            if node is not None and not stack:
                root = node
            elif node is not None:
                _put(node, stack[-1], problems)
    return root


def _node_of(event: Event, stack: list[_Open], problems: list[Problem]) -> Node | None:
    """Give the node an event completes, if it completes one."""
    if isinstance(event, AliasEvent):
        where = in_words(_path_here(stack))
        found, wanted = f"the alias *{event.anchor}", "the thing itself, written out"
        problems.append(_problem(event, where, found, wanted))
        return Leaf(None, _mark(event))
    if isinstance(event, ScalarEvent):
        _refuse_extras(event, stack, problems)
        is_plain = event.style is None or event.style == ""
        is_null = is_plain and event.value in ("", "~", "null", "Null", "NULL")
        return Leaf(None if is_null else event.value, _mark(event))
    if isinstance(event, (MappingEndEvent, SequenceEndEvent)):
        closed = stack.pop()
        mark = _mark(closed.start, event)
        is_flow = bool(closed.start.flow_style)
        if isinstance(closed.start, SequenceStartEvent):
            return Row(tuple(closed.items), mark, is_flow)
        return Branch(closed.by_key, mark, is_flow, closed.key_marks)
    return None


def _put(node: Node, opened: _Open, problems: list[Problem]) -> None:
    if isinstance(opened.start, SequenceStartEvent):
        opened.items.append(node)
    elif opened.key is None:
        _put_key(node, opened, problems)
    else:
        if isinstance(node, Leaf) and node.mark.start == node.mark.end:
            # What is not there seems to stand at the next thing; it belongs to its key.
            key_mark = opened.key_marks[opened.key]
            node = Leaf(None, replace(key_mark, start=key_mark.end))
        opened.by_key.setdefault(opened.key, node)
        opened.key = None


def _put_key(node: Node, opened: _Open, problems: list[Problem]) -> None:
    mark, where = node.mark, in_words(opened.path)
    key = node.text if isinstance(node, Leaf) else None
    if key is None:
        found = "no key" if isinstance(node, Leaf) else found_words(node)
        problem = Problem(where or "text", found, "a name", mark.line, mark.column)
        problems.append(problem)
        # A key nobody can write keeps the value's place without hiding another.
        key = f"\n{mark.line}:{mark.column}"
    elif key in opened.by_key:
        first = opened.key_marks[key].line
        found = f"the key {key} again, first in line {first}"
        problem = Problem(
            where or "text", found, "each key once", mark.line, mark.column
        )
        problems.append(problem)
    opened.key_marks.setdefault(key, mark)
    opened.key = key


def _path_here(stack: list[_Open]) -> Path:
    if not stack:
        return ()
    opened = stack[-1]
    if isinstance(opened.start, SequenceStartEvent):
        return (*opened.path, len(opened.items))
    return (*opened.path, opened.key or "")


def _refuse_extras(
    event: ScalarEvent | MappingStartEvent | SequenceStartEvent,
    stack: list[_Open],
    problems: list[Problem],
) -> None:
    where = in_words(_path_here(stack)) or "text"
    if event.anchor is not None:
        found, wanted = f"the anchor &{event.anchor}", "the thing without it"
        problems.append(_problem(event, where, found, wanted))
    if event.tag is not None and str(event.tag) != "!":
        found, wanted = f"the tag {event.tag}", "the value without it"
        problems.append(_problem(event, where, found, wanted))


def _refuse_depth(event: Event, stack: list[_Open]) -> None:
    if len(stack) >= MAX_DEPTH:
        found, wanted = f"more than {MAX_DEPTH} levels", "a flatter text"
        raise BadFileError((_problem(event, "text", found, wanted),))


def _problem(event: Event, where: str, found: str, wanted: str) -> Problem:
    mark = _mark(event)
    return Problem(where or "text", found, wanted, mark.line, mark.column)


def _mark(event: Event, last: Event | None = None) -> Mark:
    start, end = event.start_mark, (last or event).end_mark
    return Mark(start.line + 1, start.column + 1, start.index, end.index)

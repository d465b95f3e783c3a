"""
Whom does a name in a numeric problem mean, and is it known?

An id may head several actions, as when two kinds of screws hold one cover.
Entries alike in every field are one action written twice; entries that differ are
actions of their own, named ``id``, ``id (2)``, ... and a mention of the id means all.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product
from math import prod
from typing import Any

from turnscrew.core.opening.problem import Cnf
from turnscrew.files.json_text import Cursor

LARGEST_GROUP = 1000
"""Most inner groups that one group of shared ids may unfold to. [1]"""


@dataclass(frozen=True)
class Names:
    """
    All names of a text.

    Parameters
    ----------
    postures
        Names of the postures.
    tools
        Names of the tools.
    actions
        For each id the names of the actions it heads.
    checks
        Names of the checks.
    """

    postures: tuple[str, ...]
    tools: tuple[str, ...]
    actions: dict[str, tuple[str, ...]]
    checks: tuple[str, ...]


@dataclass(frozen=True)
class Entry:
    """
    One entry of the list of actions.

    Parameters
    ----------
    cursor
        Where it stands.
    name
        Name of the action, unique in the problem; empty if the id is no text.
    """

    cursor: Cursor
    name: str


def own_names(cursor: Cursor, kind: str) -> tuple[str, ...]:
    """
    Read a list of names that are each given once.

    Parameters
    ----------
    cursor
        The list.
    kind
        What they name, such as ``posture``.

    Returns
    -------
    tuple[str, ...]
        The names.
    """
    if cursor.value == []:
        cursor.note(f"at least one {kind}")
    return _once([(item, item.text()) for item in cursor.items()], kind)


def ids_in(items: list[Cursor], kind: str) -> tuple[str, ...]:
    """
    Gather the ids of a list of objects, each given once.

    Parameters
    ----------
    items
        The objects.
    kind
        What they name, such as ``check``.

    Returns
    -------
    tuple[str, ...]
        The ids that are texts.
    """
    return _once([(item.at("id"), _id(item)) for item in items if _id(item)], kind)


def entries_in(items: list[Cursor]) -> tuple[list[Entry], dict[str, tuple[str, ...]]]:
    """
    Name the entries of the list of actions.

    Parameters
    ----------
    items
        The entries.

    Returns
    -------
    list[Entry]
        The entries without repetitions.
    dict[str, tuple[str, ...]]
        For each id the names of the actions it heads.
    """
    entries: list[Entry] = []
    headed: dict[str, dict[str, Any]] = {}
    taken = {_id(item) for item in items}
    previous: object = None
    for item in items:
        same = headed.setdefault(_id(item), {})
        is_next = item.value == previous
        previous = item.value
        if _id(item) and not is_next and item.value in same.values():
            continue
        name = _free_name(_id(item), taken) if same else _id(item)
        same[name] = item.value
        taken.add(name)
        entries.append(Entry(item, name))
    return entries, {head: tuple(same) for head, same in headed.items() if head}


def mentions(cursor: Cursor | None, known: Iterable[str], kind: str) -> tuple[str, ...]:
    """
    Read a list of known names; a name said twice counts once.

    Parameters
    ----------
    cursor
        The list, if it is there.
    known
        The names known.
    kind
        What they name, with its article, such as ``a posture``.

    Returns
    -------
    tuple[str, ...]
        The names, each once.
    """
    if cursor is None:
        return ()
    known = tuple(known)
    named = [item.name_among(known, kind) for item in cursor.items()]
    return tuple(dict.fromkeys(named))


def action_mentions(
    cursor: Cursor | None, names: Names, *, own: str = ""
) -> tuple[str, ...]:
    """
    Read a list of ids as the actions they mean.

    Parameters
    ----------
    cursor
        The list, if it is there.
    names
        All names.
    own
        Id that may not stand in the list.

    Returns
    -------
    tuple[str, ...]
        Names of all actions meant.
    """
    ids = mentions(cursor, names.actions, "an action")
    for item in cursor.items() if cursor else ():
        _refuse_own(item, own)
    return tuple(name for head in ids for name in names.actions.get(head, ()))


def groups(cursor: Cursor | None, names: Names, *, own: str = "") -> Cnf:
    """
    Read an AND of ORs over ids.

    Parameters
    ----------
    cursor
        The list of lists, if it is there.
    names
        All names.
    own
        Id that may not stand in it.

    Returns
    -------
    Cnf
        The same over names of actions: an id holds when all it heads are off.
    """
    found: list[tuple[str, ...]] = []
    for group in cursor.items() if cursor else ():
        if group.value == []:
            group.note("at least one action in each inner list")
        heads = mentions(group, names.actions, "an action")
        for item in group.items():
            _refuse_own(item, own)
        meant = [names.actions.get(head, ("",)) for head in heads]
        if prod(map(len, meant)) > LARGEST_GROUP:
            group.note("fewer ids that head several actions", found="too many")
            continue
        found += product(*meant)
    return tuple(dict.fromkeys(found))


def _id(item: Cursor) -> str:
    found = item.value.get("id") if isinstance(item.value, dict) else None
    return found if isinstance(found, str) else ""


def _once(named: list[tuple[Cursor, str]], kind: str) -> tuple[str, ...]:
    counts: Counter[str] = Counter()
    for cursor, name in named:
        counts[name] += 1
        if name and counts[name] > 1:
            cursor.note(f"a {kind} name used once")
    return tuple(counts)


def _free_name(head: str, taken: set[str]) -> str:
    number = 2
    while f"{head} ({number})" in taken:
        number += 1
    return f"{head} ({number})"


def _refuse_own(item: Cursor, own: str) -> None:
    if own and item.value == own:
        item.note("another action: none waits for itself")

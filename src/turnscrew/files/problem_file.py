"""
How is the bare numeric problem of opening written as JSON, and its answer?

A problem is one object; a whole case that carries it under ``device`` is read too.
``needs`` and ``if`` are an AND of ORs, as lists of lists of action ids.
"""

from collections.abc import Callable
from typing import Any, TypeVar

from turnscrew.core.opening.answer import NumericAnswer
from turnscrew.core.opening.problem import (
    Act,
    Check,
    Guard,
    Mode,
    OpeningProblem,
)
from turnscrew.files.json_text import Cursor, cursor_on, items_under, raise_if_any
from turnscrew.files.problem_names import (
    Entry,
    Names,
    action_mentions,
    entries_in,
    groups,
    ids_in,
    mentions,
    own_names,
)

_REQUIRED = (
    "name",
    "postures",
    "posture_cost",
    "tools",
    "tool_cost",
    "start",
    "targets",
    "actions",
)
_OPTIONAL = ("unit", "posture_guard", "end_posture", "checks", "already_off")

_Cell = TypeVar("_Cell", int, int | None)
_Turns = tuple[tuple[int | None, ...], ...]
_Fields = dict[str, Cursor]


def read_problem(text: str) -> OpeningProblem:
    """
    Read a numeric problem.

    Parameters
    ----------
    text
        A JSON object with the problem, or with the problem under ``device``.

    Returns
    -------
    OpeningProblem
        The problem. An action without ``refit_modes`` goes back as it came off;
        without ``end_posture`` the round trip ends where it started.

    Raises
    ------
    BadFileError
        If the text breaks the format, with every problem found.
    """
    cursor = cursor_on(text)
    if isinstance(cursor.value, dict) and "device" in cursor.value:
        cursor = cursor.at("device")
    problem = _problem(cursor.fields(_REQUIRED, _OPTIONAL))
    raise_if_any(cursor.notes, text)
    return problem


def answer_json(answer: NumericAnswer) -> dict[str, Any]:
    """
    Give an answer as plain values for a JSON document.

    Parameters
    ----------
    answer
        The answer.

    Returns
    -------
    dict[str, Any]
        ``status``, ``cost``, ``bound`` in the problem's unit, and ``plan``,
        one text per line.
    """
    return {
        "status": answer.status,
        "cost": answer.cost,
        "bound": answer.bound,
        "plan": [str(move) for move in answer.plan],
    }


def _problem(fields: _Fields) -> OpeningProblem:
    entries, headed = entries_in(items_under(fields, "actions"))
    names = Names(
        own_names(fields["postures"], "posture") if "postures" in fields else (),
        own_names(fields["tools"], "tool") if "tools" in fields else (),
        headed,
        ids_in(items_under(fields, "checks"), "check"),
    )
    start_posture, start_tool = _start(fields, names)
    turns = _matrix(fields, "posture_cost", len(names.postures), _turn_cost)
    guards = items_under(fields, "posture_guard")
    return OpeningProblem(
        name=_text(fields, "name"),
        unit=_text(fields, "unit"),
        postures=names.postures,
        posture_cost=turns,
        guards=tuple(_guard(item, names, turns) for item in guards),
        tools=names.tools,
        tool_cost=_matrix(fields, "tool_cost", len(names.tools), Cursor.whole),
        start_posture=start_posture,
        start_tool=start_tool,
        end_posture=_end_posture(fields, names) or start_posture,
        targets=action_mentions(fields.get("targets"), names),
        actions=tuple(_act(entry, names) for entry in entries),
        checks=tuple(_check(item, names) for item in items_under(fields, "checks")),
        already_off=action_mentions(fields.get("already_off"), names),
    )


def _text(fields: _Fields, key: str) -> str:
    return fields[key].text() if key in fields else ""


def _whole(fields: _Fields, key: str) -> int:
    return fields[key].whole() if key in fields else 0


def _start(fields: _Fields, names: Names) -> tuple[str, str]:
    if "start" not in fields:
        return "", ""
    start = fields["start"].fields(("posture", "tool"))
    if len(start) < 2:
        return "", ""
    posture = start["posture"].name_among(names.postures, "a posture")
    return posture, start["tool"].name_among(names.tools, "a tool")


def _end_posture(fields: _Fields, names: Names) -> str:
    if "end_posture" not in fields:
        return ""
    return fields["end_posture"].name_among(names.postures, "a posture")


def _turn_cost(cursor: Cursor) -> int | None:
    return None if cursor.value is None else cursor.whole()


def _matrix(
    fields: _Fields, key: str, n: int, read: Callable[[Cursor], _Cell]
) -> tuple[tuple[_Cell, ...], ...]:
    if key not in fields:
        return ()
    rows = fields[key].items()
    _expect_length(fields[key], rows, n, "rows")
    matrix = []
    for index, row in enumerate(rows):
        cells = row.items()
        _expect_length(row, cells, n, "numbers")
        matrix.append(tuple(read(cell) for cell in cells))
        if index < len(cells) and cells[index].value != 0:
            cells[index].note("0 on the diagonal")
    return tuple(matrix)


def _expect_length(cursor: Cursor, items: list[Cursor], n: int, kind: str) -> None:
    if isinstance(cursor.value, list) and len(items) != n:
        cursor.note(f"{n} {kind}, one per name", found=f"{len(items)} {kind}")


def _guard(item: Cursor, names: Names, turns: _Turns) -> Guard:
    fields = item.fields(("frm", "to", "needs"))
    ends = [
        fields[key].name_among(names.postures, "a posture") if key in fields else ""
        for key in ("frm", "to")
    ]
    if all(end in names.postures for end in ends):
        row, column = (names.postures.index(end) for end in ends)
        is_shaped = row < len(turns) and column < len(turns[row])
        if row == column or (is_shaped and turns[row][column] is None):
            item.note("a direct turn", found=f"no turn from {ends[0]} to {ends[1]}")
    return Guard(ends[0], ends[1], groups(fields.get("needs"), names))


def _act(entry: Entry, names: Names) -> Act:
    fields = entry.cursor.fields(
        ("id", "needs", "modes"), ("refit_modes", "refit_after", "refit_checks")
    )
    own = _text(fields, "id")
    modes = _modes(fields.get("modes"), names, own)
    refit_modes = _modes(fields.get("refit_modes"), names, own)
    return Act(
        name=entry.name,
        needs=groups(fields.get("needs"), names, own=own),
        modes=modes,
        refit_modes=refit_modes if "refit_modes" in fields else modes,
        refit_after=action_mentions(fields.get("refit_after"), names, own=own),
        refit_checks=mentions(fields.get("refit_checks"), names.checks, "a check"),
    )


def _modes(cursor: Cursor | None, names: Names, own: str) -> tuple[Mode, ...]:
    if cursor is None:
        return ()
    if cursor.value == []:
        cursor.note("at least one mode")
    return tuple(_mode(item, names, own) for item in cursor.items())


def _mode(item: Cursor, names: Names, own: str) -> Mode:
    fields = item.fields(("postures", "tool", "cost"), ("if",))
    return Mode(
        postures=_postures(fields, names),
        tool=_tool(fields, names),
        cost=_whole(fields, "cost"),
        when=groups(fields.get("if"), names, own=own),
    )


def _postures(fields: _Fields, names: Names) -> tuple[str, ...]:
    cursor = fields.get("postures")
    if cursor is not None and cursor.value == []:
        cursor.note("at least one posture")
    return mentions(cursor, names.postures, "a posture")


def _tool(fields: _Fields, names: Names) -> str | None:
    if "tool" not in fields or fields["tool"].value is None:
        return None
    return fields["tool"].name_among(names.tools, "a tool")


def _check(item: Cursor, names: Names) -> Check:
    fields = item.fields(
        ("id", "postures", "tool", "cost"), ("fitted", "applies_if_removed", "rework")
    )
    return Check(
        name=_text(fields, "id"),
        postures=_postures(fields, names),
        tool=_tool(fields, names),
        cost=_whole(fields, "cost"),
        fitted=action_mentions(fields.get("fitted"), names),
        applies_if_removed=action_mentions(fields.get("applies_if_removed"), names),
        rework=_rework(fields.get("rework"), names),
    )


def _rework(cursor: Cursor | None, names: Names) -> tuple[tuple[str, int], ...]:
    rework = []
    for head, cost in cursor.entries().items() if cursor else ():
        named = Cursor(head, cost.path, cost.notes)
        named.name_among(names.actions, "an action")
        meant = names.actions.get(head, ())
        rework += [(name, cost.whole()) for name in meant]
        if not meant:
            cost.whole()
    return tuple(rework)

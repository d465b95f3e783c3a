"""
How is the bare numeric problem of diagnosis written as JSON, and its answer?

A problem is one object; a whole case that carries it under ``model`` is read too.
"""

from typing import Any

from turnscrew.core.diagnose.answer import DiagnosisAnswer
from turnscrew.core.diagnose.problem import (
    VERIFY,
    WRITE_OFF,
    DiagnosisProblem,
    Node,
    Repair,
    Test,
    Verification,
    WriteOff,
)
from turnscrew.core.diagnose.tree import Choice
from turnscrew.core.model.nearest import nearest
from turnscrew.core.model.quantities import SUM_TOLERANCE
from turnscrew.files.json_text import Cursor, cursor_on, items_under, raise_if_any

_TREE_KIND = "explicit_tree"

_Fields = dict[str, Cursor]


def read_case(text: str) -> DiagnosisProblem:
    """
    Read a numeric problem of diagnosis.

    Parameters
    ----------
    text
        A JSON object with the problem, or with the problem under ``model``.

    Returns
    -------
    DiagnosisProblem
        The problem.

    Raises
    ------
    BadFileError
        If the text breaks the format, with every problem found.
    """
    cursor = _model(cursor_on(text))
    problem = _problem(cursor)
    raise_if_any(cursor.notes, text)
    assert problem is not None
    return problem


def is_case(text: str) -> bool:
    """
    Tell a text about diagnosis from one about opening.

    Parameters
    ----------
    text
        A JSON document.

    Returns
    -------
    bool
        True if it holds a model with repairs, or an explicit decision tree.

    Raises
    ------
    BadFileError
        If the text is no JSON.
    """
    value = _model(cursor_on(text)).value
    return isinstance(value, dict) and (
        "repairs" in value or value.get("kind") == _TREE_KIND
    )


def _model(cursor: Cursor) -> Cursor:
    """Go to the model, if the text is a whole case that carries it."""
    if isinstance(cursor.value, dict) and "model" in cursor.value:
        return cursor.at("model")
    return cursor


def read_tree(text: str) -> Choice | None:
    """
    Read an explicit decision tree, if the text is one.

    Parameters
    ----------
    text
        A JSON object of kind ``explicit_tree``, alone or under ``model``.

    Returns
    -------
    Choice | None
        The tree; none if the text holds a problem.

    Raises
    ------
    BadFileError
        If the text breaks the format, with every problem found.
    """
    cursor = _model(cursor_on(text))
    if not isinstance(cursor.value, dict) or cursor.value.get("kind") != _TREE_KIND:
        return None
    fields = cursor.fields(("kind", "tree"), ("name",))
    choice = _choice(fields["tree"]) if "tree" in fields else None
    raise_if_any(cursor.notes, text)
    assert isinstance(choice, Choice)
    return choice


def _choice(cursor: Cursor) -> Choice:
    fields = cursor.fields(("decide",), ("values",))
    actions: dict[str, tuple[float, tuple[tuple[float, Choice | float], ...]]] = {}
    for name, action in (
        fields["decide"].entries() if "decide" in fields else {}
    ).items():
        inner = action.fields(("cost", "chance"))
        outcomes = [_outcome(c) for c in items_under(inner, "chance")]
        if abs(sum(p for p, _ in outcomes) - 1) > SUM_TOLERANCE:
            action.note("chances that sum to 1")
        cost = _number(inner["cost"]) if "cost" in inner else 0.0
        actions[name] = (cost, tuple(outcomes))
    if not actions:
        cursor.note("at least one action to decide between")
    return Choice(actions)


def _outcome(cursor: Cursor) -> tuple[float, Choice | float]:
    pair = cursor.items()
    if len(pair) != 2:
        cursor.note("a chance and what follows")
        return 0.0, 0.0
    p = _number(pair[0], most=1.0)
    after = pair[1]
    if not isinstance(after.value, dict):
        return p, _number(after)
    if "pay" in after.value:
        fields = after.fields(("pay",))
        return p, _number(fields["pay"])
    return p, _choice(after)


def diagnosis_json(answer: DiagnosisAnswer) -> dict[str, Any]:
    """
    Give an answer as plain values for a JSON document.

    Parameters
    ----------
    answer
        The answer.

    Returns
    -------
    dict
        ``status``, ``mode``, ``cost`` and ``bound`` in the problem's unit, ``first``
        (all equally good first actions), ``values`` by first action, and ``proven``:
        the first actions whose value is exact.
    """
    return {
        "status": answer.status,
        "mode": answer.mode,
        "cost": answer.cost,
        "bound": answer.bound,
        "first": list(answer.first),
        "values": answer.values,
        "proven": sorted(answer.proven),
    }


def _problem(cursor: Cursor) -> DiagnosisProblem | None:
    fields = cursor.fields(
        ("repairs", "verify", "writeoff"),
        (
            "tests",
            "nodes",
            "faults",
            "multi",
            "ok_prior",
            "dirichlet",
            "kind",
            "open_now",
            "name",
            "notes",
        ),
    )
    nodes = _nodes(fields)
    names = tuple(node.name for node in nodes)
    faults, independent, most = _faults(cursor, fields)
    known = (*faults, *independent)
    tests = tuple(_test(c, known, nodes) for c in items_under(fields, "tests"))
    repairs = tuple(_repair(c, known, nodes) for c in items_under(fields, "repairs"))
    _refuse_twice(fields)
    p_ok = fields["ok_prior"] if "ok_prior" in fields else None
    share = _number(p_ok, most=1.0) if p_ok else 0.0
    if p_ok and share >= 1:
        p_ok.note("a probability below 1")
    verification = (
        _verification(fields["verify"], names) if "verify" in fields else None
    )
    write_off = _write_off(fields["writeoff"]) if "writeoff" in fields else None
    open_now = _names(fields.get("open_now"), names, "a node")
    if cursor.notes or verification is None or write_off is None:
        return None
    return DiagnosisProblem(
        faults=faults,
        nodes=nodes,
        tests=tests,
        repairs=repairs,
        verification=verification,
        write_off=write_off,
        p_ok=share,
        independent=independent,
        most_faults=most,
        open_now=open_now,
    )


def _number(cursor: Cursor, *, most: float = 1e12) -> float:
    value = cursor.value
    if type(value) not in (int, float) or not 0 <= value <= most:
        cursor.note(f"a number from 0 to {most:g}")
        return 0.0
    return float(value)


def _faults(
    cursor: Cursor, fields: _Fields
) -> tuple[dict[str, float], dict[str, float], int]:
    if "multi" in fields:
        inner = fields["multi"].fields(("independent",), ("max",))
        entries = inner["independent"].entries() if "independent" in inner else {}
        shares = {name: _number(c, most=1.0) for name, c in entries.items()}
        if "independent" in inner and not any(shares.values()):
            inner["independent"].note("at least one fault above 0")
        if "faults" in fields:
            fields["multi"].note("faults or multi", found="both")
        most = inner["max"].whole() if "max" in inner else 2
        if most < 1:
            inner["max"].note("at least 1")
        return {}, shares, most
    if "faults" not in fields:
        cursor.note("faults with their probabilities, or multi", found="neither")
        return {}, {}, 1
    shares = {name: _number(c) for name, c in fields["faults"].entries().items()}
    total = sum(shares.values())
    if shares and abs(total - 1) > SUM_TOLERANCE:
        fields["faults"].note(
            "probabilities that sum to 1", found=f"a sum of {total:g}"
        )
    if not shares:
        fields["faults"].note("at least one fault", found="none")
    return shares, {}, 1


def _nodes(fields: _Fields) -> tuple[Node, ...]:
    cursors = items_under(fields, "nodes")
    inner = [c.fields(("id", "open", "close"), ("needs",)) for c in cursors]
    names = tuple(f["id"].text() if "id" in f else "" for f in inner)
    nodes: list[Node] = []
    for name, f in zip(names, inner, strict=True):
        if name and name in [node.name for node in nodes]:
            f["id"].note("each name once", found=f"{name} again")
        needs = _names(f.get("needs"), names, "a node")
        opening = _number(f["open"]) if "open" in f else 0.0
        closing = _number(f["close"]) if "close" in f else 0.0
        nodes.append(Node(name, opening, closing, needs))
    if "nodes" in fields:
        _refuse_ring(fields["nodes"], nodes)
    return tuple(nodes)


def _refuse_ring(cursor: Cursor, nodes: list[Node]) -> None:
    # A need of an unknown node has been noted; it is no ring.
    names = {node.name for node in nodes}
    placed: set[str] = set()
    left = list(nodes)
    while ready := [n for n in left if placed.issuperset(names.intersection(n.needs))]:
        placed.update(node.name for node in ready)
        left = [node for node in left if node.name not in placed]
    if left:
        ring = ", ".join(node.name for node in left)
        cursor.note("needs without a ring", found=f"a ring: {ring}")


def _places(
    fields: _Fields, nodes: tuple[Node, ...]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Read what must be open and what closed, and refuse both at once."""
    names = tuple(node.name for node in nodes)
    opened = _names(fields.get("open"), names, "a node")
    closed = _names(fields.get("closed"), names, "a node")
    needs = {node.name: node.needs for node in nodes}
    needed: set[str] = set()
    todo = [name for name in opened if name in needs]
    while todo:
        name = todo.pop()
        if name not in needed:
            needed.add(name)
            todo += [need for need in needs[name] if need in needs]
    both = ", ".join(name for name in closed if name in needed)
    if both:
        fields["closed"].note("nothing that open needs", found=f"{both} open too")
    return opened, closed


def _names(cursor: Cursor | None, known: tuple[str, ...], kind: str) -> tuple[str, ...]:
    if cursor is None:
        return ()
    if cursor.value == "all":
        return known
    return tuple(item.name_among(known, kind) for item in cursor.items())


def _test(cursor: Cursor, faults: tuple[str, ...], nodes: tuple[Node, ...]) -> Test:
    fields = cursor.fields(
        ("id", "cost", "outcomes", "p", "ok"), ("open", "closed", "looks_at", "name")
    )
    outcomes = _outcomes(fields)
    looks_at = fields.get("looks_at")
    seen = _names(looks_at, faults, "a fault") if looks_at else None
    needed = tuple(name for name in faults if seen is None or name in seen)
    rows = _rows(fields, faults, outcomes, needed=needed)
    ok = _row(fields["ok"], len(outcomes)) if "ok" in fields else ()
    opened, closed = _places(fields, nodes)
    return Test(
        name=fields["id"].text() if "id" in fields else "",
        cost=_number(fields["cost"]) if "cost" in fields else 0.0,
        outcomes=outcomes,
        p=rows,
        p_ok=ok,
        open=opened,
        closed=closed,
        looks_at=seen,
    )


def _outcomes(fields: _Fields) -> tuple[str, ...]:
    outcomes: list[str] = []
    for cursor in items_under(fields, "outcomes"):
        name = cursor.text()
        if name and name in outcomes:
            cursor.note("each name once", found=f"{name} again")
        outcomes.append(name)
    if "outcomes" in fields and not outcomes:
        fields["outcomes"].note("at least one outcome")
    return tuple(outcomes)


def _rows(
    fields: _Fields,
    faults: tuple[str, ...],
    outcomes: tuple[str, ...],
    *,
    needed: tuple[str, ...],
) -> dict[str, tuple[float, ...]]:
    if "p" not in fields:
        return {}
    rows: dict[str, tuple[float, ...]] = {}
    for name, row in fields["p"].entries().items():
        _refuse_unknown(row, name, faults)
        rows[name] = _row(row, len(outcomes))
    for name in needed:
        if name not in rows:
            fields["p"].note(f"a row for {name}", found="nothing")
    return rows


def _refuse_unknown(cursor: Cursor, name: str, faults: tuple[str, ...]) -> None:
    if name not in faults:
        wanted = nearest(name, faults) or "the name of a fault"
        cursor.note(wanted, found=f"unknown fault {name}")


def _row(cursor: Cursor, n_outcomes: int) -> tuple[float, ...]:
    row = tuple(_number(c, most=1.0) for c in cursor.items())
    if len(row) != n_outcomes:
        cursor.note(f"{n_outcomes} probabilities", found=f"{len(row)}")
    elif row and abs(sum(row) - 1) > SUM_TOLERANCE:
        cursor.note("probabilities that sum to 1", found=f"a sum of {sum(row):g}")
    return row


def _repair(cursor: Cursor, faults: tuple[str, ...], nodes: tuple[Node, ...]) -> Repair:
    fields = cursor.fields(("id", "cost", "fix"), ("keep", "open", "closed", "name"))
    mends: dict[str, float] = {}
    for name, chance in (fields["fix"].entries() if "fix" in fields else {}).items():
        _refuse_unknown(chance, name, faults)
        mends[name] = _number(chance, most=1.0)
    opened, closed = _places(fields, nodes)
    return Repair(
        name=fields["id"].text() if "id" in fields else "",
        cost=_number(fields["cost"]) if "cost" in fields else 0.0,
        mends=mends,
        keep_cost=_number(fields["keep"]) if "keep" in fields else 0.0,
        open=opened,
        closed=closed,
    )


def _refuse_twice(fields: _Fields) -> None:
    seen: set[str] = {VERIFY, WRITE_OFF}
    for key in ("tests", "repairs"):
        for cursor in items_under(fields, key):
            name = cursor.value.get("id") if isinstance(cursor.value, dict) else None
            if isinstance(name, str):
                if name in seen:
                    cursor.at("id").note("each name once", found=f"{name} again")
                seen.add(name)


def _verification(cursor: Cursor, nodes: tuple[str, ...]) -> Verification:
    fields = cursor.fields(("cost",), ("closed",))
    cost = _number(fields["cost"]) if "cost" in fields else 0.0
    return Verification(cost, _names(fields.get("closed"), nodes, "a node"))


def _write_off(cursor: Cursor) -> WriteOff:
    fields = cursor.fields(("cost",), ("close_first",))
    flag = fields.get("close_first")
    if flag is not None and not isinstance(flag.value, bool):
        flag.note("true or false")
    cost = _number(fields["cost"]) if "cost" in fields else 0.0
    return WriteOff(cost, bool(flag is not None and flag.value is True))

"""How do rows become records that hold together, when some of their kin are lost?"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

from django.db import DatabaseError, transaction

from turnscrew.core.ledger.balance import Balance
from turnscrew.core.ledger.entry import JOURNALS, START
from turnscrew.errors import BadFileError
from turnscrew.web.keeping.tables import Model, Row, advance_counters, made_row
from turnscrew.web.records.convert import ledger_entry

LOST = "lost in a restore"
"""How somebody or something is called of whom nothing but a number is left."""

_CHUNK = 500
_STAND_INS: Mapping[str, Any] = {
    "records_person": lambda pk: {
        "key": f"lost{pk}", "name": LOST, "rights": "helper", "has_left": True,
    },
    "records_customer": lambda _: {"name": LOST},
}  # fmt: skip
"""Whom so much hangs on that a name without more is better than losing it all."""


@dataclass
class Mended:
    """What was done so that the rows hold together, counted by table."""

    refused: Counter[str] = field(default_factory=Counter)
    rebuilt: Counter[str] = field(default_factory=Counter)
    stand_ins: Counter[str] = field(default_factory=Counter)
    untied: Counter[str] = field(default_factory=Counter)
    left_out: Counter[str] = field(default_factory=Counter)
    journals_without_end: list[str] = field(default_factory=list)


def poured(tables: Mapping[str, Model], rows: Mapping[str, Iterable[Row]]) -> Mended:
    """Fill empty tables with what there is, then tie loose ends up."""
    done = Mended()
    with transaction.atomic():
        for name, model in tables.items():
            _pour(name, model, rows.get(name, ()), done)
        _rebuild(tables, done)
        if done.rebuilt["records_part"]:
            _recount(tables)
        while _stood_in(tables, done) or _dropped(tables, done):
            continue
        _end_journals(tables, done)
    advance_counters(list(tables.values()))
    return done


def _pour(name: str, model: Model, rows: Iterable[Row], done: Mended) -> None:
    source = _made(name, model, rows, done)
    while chunk := list(islice(source, _CHUNK)):
        try:
            with transaction.atomic():
                model._default_manager.bulk_create(chunk)
        except DatabaseError:
            done.refused[name] += sum(not _is_kept(one) for one in chunk)


def _made(name: str, model: Model, rows: Iterable[Row], done: Mended) -> Iterator[Any]:
    for number, row in enumerate(rows, 1):
        try:
            yield made_row(model, row, number)
        except BadFileError:
            done.refused[name] += 1


def _is_kept(row: Any) -> bool:
    try:
        with transaction.atomic():
            type(row)._default_manager.bulk_create([row])
    except DatabaseError:
        return False
    return True


def _rebuild(tables: Mapping[str, Model], done: Mended) -> None:
    """Make a lost row again from its last earlier form, where these are kept."""
    for name, model in tables.items():
        past = tables.get(name.replace("records_", "records_historical", 1))
        if past is None or past is model:
            continue
        there = set(model._default_manager.values_list("pk", flat=True))
        last: dict[Any, Any] = {}
        forms: Any = past._default_manager.order_by("history_date", "history_id")
        for form in forms:
            last[form.id] = form
        for pk, form in last.items():
            if form.history_type != "-" and pk not in there:
                done.rebuilt[name] += _is_kept(_as_it_was(model, form))


def _as_it_was(model: Model, form: Any) -> Any:
    names = [one.attname for one in model._meta.concrete_fields]
    return model(**{name: getattr(form, name) for name in names if hasattr(form, name)})


def _recount(tables: Mapping[str, Model]) -> None:
    """Count the pieces of parts that were made again, by the journal of the stock."""
    balance = Balance()
    entries = tables["records_entry"]._default_manager.filter(journal="stock")
    row: Any
    for row in entries.order_by("sequence").iterator(chunk_size=_CHUNK):
        balance.take(ledger_entry(row))
    parts: Any = tables["records_part"]._default_manager
    for part in parts.all():
        parts.filter(pk=part.pk).update(
            on_hand=balance.on_hand(part.ref), promised=balance.promised[part.ref]
        )


def _ties(tables: Mapping[str, Model]) -> Iterator[tuple[str, Model, Any]]:
    for name, model in tables.items():
        for one in model._meta.concrete_fields:
            # Earlier forms name what may be gone: no database asks for that.
            if one.remote_field and getattr(one, "db_constraint", False):
                yield name, model, one


def _loose(model: Model, tie: Any) -> Any:
    target = tie.target_field
    there = target.model._default_manager.values(target.attname)
    named = model._default_manager.exclude(**{tie.attname: None})
    return named.exclude(**{f"{tie.attname}__in": there})


def _stood_in(tables: Mapping[str, Model], done: Mended) -> bool:
    before = done.stand_ins.total()
    for _, model, tie in _ties(tables):
        parent = tie.target_field.model
        name = parent._meta.db_table
        if name not in _STAND_INS or tie.null:
            continue
        for pk in set(_loose(model, tie).values_list(tie.attname, flat=True)):
            parent._default_manager.create(pk=pk, **_STAND_INS[name](pk))
            done.stand_ins[name] += 1
    return done.stand_ins.total() > before


def _dropped(tables: Mapping[str, Model], done: Mended) -> bool:
    n = 0
    for name, model, tie in _ties(tables):
        loose = _loose(model, tie)
        n_loose = loose.count()
        if not n_loose:
            continue
        n += n_loose
        if tie.null:
            done.untied[name] += loose.update(**{tie.name: None})
        else:
            pks = list(loose.values_list("pk", flat=True))
            for at in range(0, len(pks), _CHUNK):
                some = model._default_manager.filter(pk__in=pks[at : at + _CHUNK])
                some._raw_delete(some.db)
            done.left_out[name] += n_loose
    return n > 0


def _end_journals(tables: Mapping[str, Model], done: Mended) -> None:
    """Remember the last entry anew where what remembered it is lost."""
    heads, entries = tables["records_head"], tables["records_entry"]
    for journal in JOURNALS:
        if heads._default_manager.filter(journal=journal).exists():
            continue
        told = entries._default_manager.filter(journal=journal)
        last: Any = told.order_by("sequence").last()
        heads._default_manager.create(
            journal=journal,
            sequence=last.sequence if last else 0,
            digest=last.digest if last else START,
            at=last.at if last else None,
        )
        done.journals_without_end.append(journal)

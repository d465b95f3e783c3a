"""How do tables become plain rows, and plain rows tables again?"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import UTC, date, datetime
from decimal import Decimal
from itertools import islice
from typing import Any

from django.apps import apps as newest_apps
from django.core.exceptions import ValidationError
from django.core.management.color import no_style
from django.db import DEFAULT_DB_ALIAS, IntegrityError, connection, models, transaction
from django.db.migrations.executor import MigrationExecutor

from turnscrew.errors import Problem
from turnscrew.web.keeping.sealed_rows import MisfitError
from turnscrew.web.keeping.upgrade import require_known
from turnscrew.web.records.room import lack_of
from turnscrew.web.records.services.refusal import RefusedError

Row = dict[str, Any]
Model = type[models.Model]

NO_PASSWORD = "!"
"""What the framework keeps where nobody can sign in by password."""

_ACCOUNTS = ("auth.User",)
_SECRETS = ("otp_static.StaticDevice", "otp_static.StaticToken", "otp_totp.TOTPDevice")
_TOKENS = {"signinlink", "apitoken", "sentsheet"}
_CHUNK = 2000
_MOST_TOLD = 200
"""So many misfits are told at once: a backup that has more is of another making."""


def carried(*, with_secrets: bool, apps: Any = newest_apps) -> dict[str, Model]:
    """Name the tables that leave with a backup, or, without secrets, an export."""
    labels = _ACCOUNTS + (_SECRETS if with_secrets else ())
    found = [apps.get_model(label) for label in labels]
    found += apps.get_app_config("records").get_models(include_auto_created=True)
    return {
        model._meta.db_table: model
        for model in found
        if with_secrets or model._meta.model_name not in _TOKENS
    }


def rows_of(
    model: Model, *, with_secrets: bool, alias: str = DEFAULT_DB_ALIAS
) -> Iterator[Row]:
    """Give the rows of a table, each value in a spelling that JSON knows."""
    names = [field.attname for field in model._meta.concrete_fields]
    rows = model._default_manager.using(alias).order_by("pk").values(*names)
    for row in rows.iterator(chunk_size=_CHUNK):
        plain = {name: _plain(row[name]) for name in names}
        if "password" in plain and not with_secrets:
            plain["password"] = NO_PASSWORD
        yield plain


def _plain(value: Any) -> Any:
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat(timespec="microseconds")
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, Decimal) else value


def require_empty() -> None:
    """Refuse a database in which there is something already."""
    tables = connection.introspection.table_names()
    if "records_person" not in tables:
        return
    with connection.cursor() as cursor:
        cursor.execute("SELECT COUNT(*) FROM records_person")
        n_people = cursor.fetchone()[0]
        cursor.execute("SELECT COUNT(*) FROM records_entry")
        n_entries = cursor.fetchone()[0]
    if n_people or n_entries:
        raise RefusedError(
            f"database: found {n_people} people and {n_entries} entries,"
            " wanted an empty one"
        )


def require_counts(told: Mapping[str, int], steps: Mapping[str, str]) -> int:
    """Refuse tables that do not hold as many rows as were put in; give how many."""
    apps = MigrationExecutor(connection).loader.project_state(list(steps.items())).apps
    tables = carried(with_secrets=True, apps=apps) if told else {}
    wrong = [
        f"{name}: found {n} rows, wanted {told.get(name, 0)}"
        for name, model in tables.items()
        if (n := model._default_manager.count()) != told.get(name, 0)
    ]
    if wrong:
        raise RefusedError(*wrong)
    return sum(told.values())


def fill(
    rows: Callable[[str, Model], Iterable[Row]],
    steps: Mapping[str, str],
    *,
    with_secrets: bool,
) -> dict[str, int]:
    """
    Fill an empty database that stands at the steps the rows were written at.

    All rows are looked at first: nothing is written if one of them does not fit.
    """
    require_empty()
    tables = _tables_of(steps, with_secrets=with_secrets)
    _require_room(tables, rows)
    _begin(tables, steps)
    with transaction.atomic():
        counts = {
            name: _pour(model, rows(name, model)) for name, model in tables.items()
        }
        _check_references()
    advance_counters(list(tables.values()))
    return counts


def tables_at(steps: Mapping[str, str], *, with_secrets: bool) -> dict[str, Model]:
    """Bring an empty database to some steps; give its tables, without a row."""
    require_empty()
    tables = _tables_of(steps, with_secrets=with_secrets)
    _begin(tables, steps)
    return tables


def _tables_of(steps: Mapping[str, str], *, with_secrets: bool) -> dict[str, Model]:
    """Give the tables as they are at some steps, whether they are there or not."""
    require_known(steps)
    loader = MigrationExecutor(connection).loader
    apps = loader.project_state(list(steps.items())).apps
    return carried(with_secrets=with_secrets, apps=apps)


def _begin(tables: Mapping[str, Model], steps: Mapping[str, str]) -> None:
    """Make the tables of some steps, without a row."""
    MigrationExecutor(connection).migrate(list(steps.items()))
    with transaction.atomic():
        for model in tables.values():
            model._default_manager.all().delete()


def _require_room(
    tables: Mapping[str, Model], rows: Callable[[str, Model], Iterable[Row]]
) -> None:
    """Refuse rows that do not fit, with each of them."""
    problems = (
        problem
        for name, model in tables.items()
        for number, row in enumerate(rows(name, model), 1)
        for problem in _made(model, row, number)[1]
    )
    if told := list(islice(problems, _MOST_TOLD)):
        raise MisfitError(tuple(told))


def _pour(model: Model, rows: Iterable[Row]) -> int:
    n = 0
    source = iter(rows)
    while chunk := list(islice(source, _CHUNK)):
        made = [made_row(model, row, n + at) for at, row in enumerate(chunk, 1)]
        try:
            model._default_manager.bulk_create(made, batch_size=_CHUNK)
        except IntegrityError as error:
            where = f"{model._meta.db_table} rows {n + 1} to {n + len(chunk)}"
            raise RefusedError(
                f"{where}: found {error}, wanted fitting rows"
            ) from error
        n += len(chunk)
    return n


def made_row(model: Model, row: Row, number: int) -> models.Model:
    """Make a row from plain values; refuse it with all that does not fit."""
    made, problems = _made(model, row, number)
    if problems:
        raise MisfitError(tuple(problems))
    return made


def _made(model: Model, row: Row, number: int) -> tuple[models.Model, list[Problem]]:
    """Make a row from what fits of plain values, and list what does not."""
    fields = {field.attname: field for field in model._meta.concrete_fields}
    table = model._meta.db_table
    wrong = {
        name: ("an unknown column", "none") for name in sorted(set(row) - set(fields))
    }
    values: Row = {}
    for name, field in fields.items():
        if name not in row:
            wrong[name] = "no such column", "it in every row"
            continue
        try:
            values[name] = _value(field, row[name])
        except (ValidationError, ValueError, TypeError):
            wrong[name] = repr(row[name])[:60], field.get_internal_type()
            continue
        # SQLite would keep a longer text, and another database choke on it later.
        if lack := lack_of(getattr(field, "target_field", field), values[name]):
            wrong[name] = lack
    return model(**values), [
        Problem(f"row {number}, {table}.{name}", *told, number, file=table)
        for name, told in wrong.items()
    ]


def _value(field: Any, plain: Any) -> Any:
    if plain is None and not field.null and not field.primary_key:
        raise ValueError("nothing")
    return getattr(field, "target_field", field).to_python(plain)


def _check_references() -> None:
    try:
        connection.check_constraints()
    except IntegrityError as error:
        raise RefusedError(f"references: found {error}, wanted whole ones") from error


def advance_counters(tables: list[Model]) -> None:
    """Let the next row of each table be numbered behind the last one."""
    # Numbers were given by hand, so the database does not know which is next.
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), tables):
            cursor.execute(statement)

"""Does every page hold though a day on record is one that nobody can mean?"""

from collections.abc import Iterator
from datetime import UTC, date, datetime
from typing import Any

import pytest
from django.apps import apps
from django.db import models

from turnscrew.web.records.models import SafetyKind
from web.counter_case import signed_in
from web.security.conftest import address_of, page_routes

SEALED = {"Entry", "Head"}
"""What no older version could write otherwise: their days stand in the digests."""


def tables_with_days() -> Iterator[tuple[Any, list[models.DateField]]]:
    for table in apps.get_app_config("records").get_models():
        days = [
            field
            for field in table._meta.concrete_fields
            if isinstance(field, models.DateField)
        ]
        is_past = table.__name__.startswith("Historical")
        if days and not is_past and table.__name__ not in SEALED:
            yield table, days


def plain(field: Any) -> Any:
    """Give a value that a column takes."""
    if field.is_relation:
        return field.related_model._default_manager.values_list("pk", flat=True).first()
    if isinstance(field, models.DateTimeField):
        return datetime(2027, 2, 1, 9, tzinfo=UTC)
    if isinstance(field, models.DateField):
        return date(2027, 2, 1)
    if isinstance(field, models.CharField | models.TextField):
        return field.choices[0][0] if field.choices else "x"
    return 1


@pytest.fixture
def kept_everywhere(named) -> None:
    """Write a row straight into each table with a day that has none."""
    SafetyKind.objects.create(name="Extinguisher", every_days=30)
    for table, _ in tables_with_days():
        if table.objects.exists():
            continue
        wanted = [
            field
            for field in table._meta.concrete_fields
            if not field.primary_key and not field.has_default()
        ]
        row = table(**{f.attname: plain(f) for f in wanted if f.name != "corrects"})
        table.objects.bulk_create([row])


@pytest.mark.parametrize("year", [1, 9999])
@pytest.mark.parametrize("are_lacking", [False, True], ids=["needed", "all"])
@pytest.mark.usefixtures("kept_everywhere")
def test_it_shows_every_page(lead, named, year, are_lacking) -> None:
    """An older version took such days, and a backup may bring them back."""
    day, hour = date(year, 1, 1), datetime(year, 1, 1, 12, tzinfo=UTC)
    if year == 9999:
        day, hour = date.max, datetime(9999, 12, 31, 12, tzinfo=UTC)
    n_met = 0
    for table, days in tables_with_days():
        far = {
            field.name: hour if isinstance(field, models.DateTimeField) else day
            for field in days
            if are_lacking or not field.null
        }
        n_met += table.objects.update(**far) if far else 0
    assert n_met > 100

    client = signed_in(lead)
    client.raise_request_exception = False
    statuses = {
        route: client.get(address_of(route, named)).status_code
        for route in page_routes()
    }
    assert {} == {route: told for route, told in statuses.items() if told >= 500}

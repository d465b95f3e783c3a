"""What a table has no room for is refused, in SQLite as in PostgreSQL, by every row."""

import ast
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.db import models

from small_batch import PEOPLE, TERMS, batch
from turnscrew.core.model.expected import Expected
from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.core.model.spare_part import SparePart
from turnscrew.web.records.models import Expected as ExpectedRow
from turnscrew.web.records.models import Item, Part, Person
from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.services import booking, expecting, parts_list
from turnscrew.web.records.services.keep import keep
from turnscrew.web.records.services.refusal import RefusedError

TABLES = [
    table
    for table in apps.get_app_config("records").get_models()
    if not table.__name__.startswith("Historical")
]
SERVICES = Path(booking.__file__).parent


def reasons_of(row: models.Model) -> tuple[str, ...]:
    with pytest.raises(RefusedError) as refused:
        row.save()
    return refused.value.reasons


def fields_of(table: type[models.Model], kind: Any) -> list[Any]:
    return [one for one in table._meta.concrete_fields if isinstance(one, kind)]


def test_it_knows_no_table_that_does_not_look_for_room() -> None:
    assert len(TABLES) > 50
    assert [] == [table for table in TABLES if not issubclass(table, Kept)]


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_it_refuses_all_texts_too_long_and_says_so_in_german(db, table) -> None:
    book = Phrasebook(GERMAN_COUNTER)
    fields = fields_of(table, models.CharField)
    # A table without a text of bounded length keeps figures and ties alone.
    if not fields:
        assert {"Absence", "DonorPart", "EntryWords"} >= {table.__name__}
        return

    told = reasons_of(
        table(**{one.attname: "x" * (one.max_length + 1) for one in fields})
    )

    ends = [
        f": found {one.max_length + 1} characters, wanted at most {one.max_length}"
        for one in fields
    ]
    assert ends == [reason[reason.index(":") :] for reason in told]
    assert [] == [reason for reason in told if "„" in book.says(reason)]


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_it_refuses_what_no_text_and_no_number_can_hold(db, table) -> None:
    book = Phrasebook(GERMAN_COUNTER)
    texts = fields_of(table, models.CharField | models.TextField)
    wrong: dict[str, Any] = {one.attname: "a\0" for one in texts}
    wrong |= {
        one.attname: [{"a": "\ud800"}] for one in fields_of(table, models.JSONField)
    }
    for one in fields_of(table, models.IntegerField):
        wrong[one.attname] = 2**63 if not one.primary_key else None
    wrong = {name: value for name, value in wrong.items() if value is not None}
    if not wrong:
        assert "Absence" == table.__name__
        return

    told = reasons_of(table(**wrong))

    assert len(wrong) == len(told)
    assert [] == [reason for reason in told if "„" in book.says(reason)]


def test_it_lets_a_text_be_that_was_too_long_before(
    sallowmere, now, monkeypatch
) -> None:
    """SQLite kept some once; the device must still be able to move."""
    item = Item.objects.exclude(serial="")[0]
    monkeypatch.setattr(Item._meta.get_field("serial"), "max_length", 1)
    item.revision = "Z"
    keep(item, now)

    item.serial += "1"
    with pytest.raises(RefusedError, match="^serial: found"):
        keep(item, now)


def test_it_lists_every_text_of_a_parts_list(lead, now) -> None:
    one = SparePart("P-1", "d" * 201, "L240", cost_minor=1)
    two = replace(
        one, part="P-2", description="Lid", place="s" * 61, supplier="b" * 121
    )

    with pytest.raises(RefusedError) as refused:
        parts_list.keep_parts([one, two], TERMS, by=lead, now=now)

    assert (
        "part P-1, description: found 201 characters, wanted at most 200",
        "part P-2, supplier: found 121 characters, wanted at most 120",
        "part P-2, place: found 61 characters, wanted at most 60",
    ) == refused.value.reasons
    assert not Part.objects.exists()


def test_it_lists_every_text_of_the_people(lead, now, sallowmere) -> None:
    people = {
        "k" * 41: replace(next(iter(PEOPLE.values())), name="n" * 121),
        "third": replace(next(iter(PEOPLE.values())), skills=("s" * 61,)),
    }
    n = Person.objects.count()

    with pytest.raises(RefusedError) as refused:
        booking.keep_people(batch(people=people), by=lead, now=now)

    assert (
        f"person {'k' * 40}, key: found 41 characters, wanted at most 40",
        f"person {'k' * 40}, name: found 121 characters, wanted at most 120",
        "person third, skill: found 61 characters, wanted at most 60",
    ) == refused.value.reasons
    assert n == Person.objects.count()


def test_it_refuses_what_is_to_come_by_a_number_too_long(lead, now, sallowmere) -> None:
    with pytest.raises(RefusedError, match="^number: found 61 characters"):
        expecting.expect(sallowmere, [Expected(number="7" * 61)], by=lead, now=now)

    assert not ExpectedRow.objects.filter(number__startswith="777").exists()


def test_no_service_saves_rows_at_once_past_the_look_for_room() -> None:
    found = [
        path.name
        for path in SERVICES.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Attribute) and node.attr == "bulk_create"
    ]

    assert ["keep.py"] == found

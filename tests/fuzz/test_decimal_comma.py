"""
Is a number with a decimal comma refused or asked about, and never misread?

Half the world writes 1,5 where the other half writes 1.5. Read as 15 or as 1500 it
would be wrong by a factor, so whatever takes it at all must take it for what it means.
"""

from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import Any

import pytest
from django import forms
from django.core.exceptions import ValidationError
from django.utils import translation

from example_files import example_file, example_text
from fuzz.readers import EXAMPLES, SALLOWMERE
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Stroke, state_of
from turnscrew.core.diagnose.entry import finding_from
from turnscrew.core.model import quantities
from turnscrew.core.model.fastener import Drive, Thread
from turnscrew.errors import BadArgumentError, BadFileError
from turnscrew.files import (
    batch_file,
    device_file,
    faults_file,
    fleet_file,
    history_file,
    parts_file,
    spells_file,
    terms_file,
)
from turnscrew.web.counter import forms as counter_forms
from turnscrew.web.counter import photo_forms
from turnscrew.web.counter.fields import AmountField

COMMAS = {
    "1,5": Decimal("1.5"), "12,50": Decimal("12.50"), "0,95": Decimal("0.95"),
    "1.234,56": Decimal("1234.56"), "1 234,5": Decimal("1234.5"),
    "1'234.50": Decimal("1234.50"), "1,234.56": Decimal("1234.56"),
}  # fmt: skip
"""What is typed, and what it means to whoever typed it; from memory."""

NUMBERS = (AmountField, forms.IntegerField, forms.FloatField, forms.DecimalField)


def number_fields() -> Iterator[tuple[str, forms.Field]]:
    """Find every field of a number on every page."""
    for module in (counter_forms, photo_forms):
        for name, form in vars(module).items():
            for field, made in getattr(form, "base_fields", {}).items():
                if isinstance(made, NUMBERS):
                    yield f"{name}.{field}", made


FIELDS = dict(number_fields())


def test_it_knows_the_fields_of_numbers() -> None:
    assert len(FIELDS) > 20


@pytest.mark.parametrize("name", FIELDS)
@pytest.mark.parametrize("language", ["en", "de"])
def test_it_misreads_no_field_of_a_page(name, language) -> None:
    field = FIELDS[name]
    scale = 100 if isinstance(field, AmountField) else 1
    for typed, meant in COMMAS.items():
        with translation.override(language):
            try:
                read = field.clean(typed)
            except ValidationError as error:
                assert error.messages
                continue
        assert meant * scale == Decimal(str(read)), (name, typed)


READS: dict[str, Callable[[str], Any]] = {
    "amount": lambda text: Decimal(quantities.minor_from_text(text)) / 100,
    "decimal": quantities.decimal_from_text,
    "number": quantities.number_from_text,
    "seconds": lambda text: quantities.Seconds.from_text(text).typical_s,
    "drive": lambda text: Drive.from_text(f"hexagon {text}").size,
    "thread": lambda text: Thread.from_text(f"M{text}").d_mm,
}


@pytest.mark.parametrize("name", READS)
def test_it_misreads_no_quantity(name) -> None:
    for typed, meant in COMMAS.items():
        try:
            read = READS[name](typed)
        except BadArgumentError as error:
            assert str(error)
            continue
        assert read is None or meant == Decimal(str(read)), typed


def files() -> dict[str, tuple[Callable[[bytes], object], bytes, bytes]]:
    """Give for each format its reader, a sound text, and a number that stands in it."""

    def table(read: Any, name: str) -> Callable[[bytes], object]:
        return lambda content: read(content, name)

    def text(read: Any) -> Callable[[bytes], object]:
        return lambda content: read(content.decode())

    fleet = (EXAMPLES / "fleet-history.csv").read_bytes().splitlines()[:3]
    radio = example_file("grondle-r50.device.yaml").read_bytes()
    faults = example_file("grondle-r50.faults.yaml").read_bytes()
    return {
        "cost of a part": (
            table(parts_file.read_parts, "p.csv"),
            (SALLOWMERE / "parts.csv").read_bytes(), b"29.00",
        ),
        "days to wait": (
            table(parts_file.read_parts, "p.csv"),
            (SALLOWMERE / "parts.csv").read_bytes(), b"3,2",
        ),
        "due day": (
            table(batch_file.read_batch, "b.csv"),
            (SALLOWMERE / "batch.csv").read_bytes(), b",7,some",
        ),
        "cost of a repair": (fleet_file.read_fleet, b"\n".join(fleet), b"87.08"),
        "days of a spell": (
            table(spells_file.read_spells, "s.csv"),
            (EXAMPLES / "adapter-spells.csv").read_bytes(), b",66",
        ),
        "markup of the terms": (
            text(terms_file.read_terms), (SALLOWMERE / "terms.yaml").read_bytes(),
            b"1.30",
        ),
        "pace of a person": (
            text(terms_file.read_people), (SALLOWMERE / "people.yaml").read_bytes(),
            b"1.30",
        ),
        "length of a screw": (text(device_file.read_device), radio, b"length_mm: "),
        "share of a fault": (
            text(faults_file.read_faults), faults, b"mends: {liquid on board: ",
        ),
    }  # fmt: skip


FILES = files()


@pytest.mark.parametrize("name", FILES)
def test_it_misreads_no_number_of_a_file(name) -> None:
    read, sound, number = FILES[name]
    assert number in sound
    read(sound)
    for typed in COMMAS:
        put = b'"' + typed.encode() + b'"'
        if number.startswith(b",") and number.count(b",") == 2:
            wrong = sound.replace(number, b"," + put + b",some", 1)
        elif number == b"3,2":
            wrong = sound.replace(number, put + b",2", 1)
        elif number.startswith(b","):
            wrong = sound.replace(number, b"," + put, 1)
        elif number.endswith(b": "):
            at = sound.index(number) + len(number)
            ends = (sound.find(mark, at) for mark in (b",", b"}", b"\n"))
            end = min(place for place in ends if place > 0)
            wrong = sound[:at] + put + sound[end:]
        else:
            wrong = sound.replace(number, put, 1)
        with pytest.raises(BadFileError) as caught:
            read(wrong)
        assert any(typed in problem.found for problem in caught.value.problems), typed


def test_it_asks_for_the_point_where_the_comma_is_plain() -> None:
    content = b'part,description,fits,cost,lead_days,stock\nA,B,L240 A,"31,50",3,1\n'
    with pytest.raises(BadFileError) as caught:
        parts_file.read_parts(content, "parts.csv")

    (problem,) = caught.value.problems
    assert "31.50, if the comma means a point" == problem.wanted


def test_it_reads_no_amount_of_a_semicolon_table_by_a_factor() -> None:
    content = b"part;description;fits;cost;lead_days;stock\nA;B;L240 A;31,50;3;1\n"
    with pytest.raises(BadFileError) as caught:
        parts_file.read_parts(content, "parts.csv")

    assert ["31,50"] == [problem.found for problem in caught.value.problems]


@pytest.mark.parametrize("typed", COMMAS)
def test_it_misreads_no_number_told_at_the_bench(typed) -> None:
    line = Line(
        number=0, phase="final", does="test", name="charge", kind="test",
        says="Charge", asks="number", unit="%",
    )  # fmt: skip
    run = Run(
        device="R50", revision="K", reach=(), status="within", lines=(line,)
    )  # fmt: skip
    stroke = Stroke("answer", 0, {"value": typed})

    told = refusal(run, state_of(run, ()), stroke, "P1")
    assert f"value: found {typed}, wanted a number of %" == told


@pytest.mark.parametrize("typed", COMMAS)
def test_it_misreads_no_reading_of_a_test(typed) -> None:
    table = faults_file.read_faults(example_text("grondle-r50.faults.yaml"))
    with pytest.raises(BadArgumentError, match="wanted a reading"):
        finding_from(table, f"cradle volts={typed} V")


def test_it_misreads_no_column_of_past_jobs() -> None:
    content = (EXAMPLES / "workshop-history.csv").read_bytes()

    assert history_file.read_history(content)


@pytest.mark.parametrize("typed", ["1,5", "9,0", "0,95", "12,50"])
@pytest.mark.parametrize(
    ("name", "number"),
    [
        ("grondle-r50.device.yaml", "length_mm: 9.0"),
        ("grondle-r50.device.yaml", "head_mm: 3.8"),
        ("grondle-r50.device.yaml", "size_mm: [82, 176"),
        ("grondle-r50.faults.yaml", "liquid on board: 0.35"),
    ],
)
def test_it_misreads_no_bare_number_in_braces(name, number, typed) -> None:
    """In braces a comma parts two things, and the second one has no name."""
    read = device_file.read_device if "device" in name else faults_file.read_faults
    sound = example_text(name)
    first = number.rstrip("0123456789.")
    wrong = sound.replace(number, first + typed, 1)

    assert wrong != sound
    with pytest.raises(BadFileError):
        read(wrong)

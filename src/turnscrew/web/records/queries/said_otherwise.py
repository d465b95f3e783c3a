"""What does the folder of a batch say otherwise than the records, which stay?"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import MISSING, fields
from typing import Any

from turnscrew.core.model.amounts import money
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.person import Person as BenchPerson
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.model.terms import Terms
from turnscrew.web.records import convert
from turnscrew.web.records.models import Customer, Description, Part, Person
from turnscrew.web.records.queries.descriptions import newest
from turnscrew.web.records.queries.descriptions_page import changed_between

_OF_A_PART = (
    "description", "model", "revisions", "unit", "cost_minor", "is_free", "lead_days",
    "pack", "breaks", "supplier", "place", "reorder_point", "is_sold_no_more",
)  # fmt: skip
_OF_A_PERSON = ("name", "minutes_a_day", "pay_minor", "pace")


def said_otherwise(handed_in: BatchInput) -> list[str]:
    """
    Say what a folder told otherwise, once it came into the records.

    What it leaves out, or leaves as it is where nothing is said, speaks against
    nothing. Neither does the stock of a part, which the records count themselves.
    """
    return [
        *customer_otherwise(handed_in.terms),
        *_people_otherwise(handed_in),
        *parts_otherwise(handed_in.parts.values()),
    ]


def customer_otherwise(terms: Terms) -> list[str]:
    """Say the same of the customer alone."""
    told = terms.customer
    kept = Customer.objects.filter(name=told.name, is_erased=False).first()
    if kept is None:
        return []
    address = ", ".join(told.address), ", ".join(kept.address.splitlines())
    both = {
        "address": address,
        "contract": (told.contract, kept.contract),
        "tax number": (told.tax_number, kept.tax_number),
    }
    return [
        _line(f"customer, {name}", said, stands)
        for name, (said, stands) in both.items()
        if said not in ("", stands)
    ]


def descriptions_otherwise(told: Mapping[str, tuple[str, str]]) -> list[str]:
    """Say the same of models on record: their descriptions and fault tables."""
    lines = []
    for model, (text, faults_text) in sorted(told.items()):
        kept, where = newest(model), f"description {model}"
        if kept is None:
            lines.append(f"{where}: found one, kept it withdrawn as on record")
            continue
        other = _other_in(kept, text, faults_text)
        if other:
            stands = f"kept version {kept.number} as on record"
            lines.append(f"{where}: found other in {', '.join(other)}; {stands}")
    return lines


def _other_in(kept: Description, text: str, faults_text: str) -> list[str]:
    other = []
    if text != kept.text:
        brought = Description(model=kept.model, text=text)
        other = changed_between(kept, brought) or ["its text"]
    if faults_text not in ("", kept.faults_text):
        other.append("the fault table")
    return other


def _people_otherwise(handed_in: BatchInput) -> Iterator[str]:
    kept = {one.key: one for one in Person.objects.filter(key__in=handed_in.people)}
    for key, told in handed_in.people.items():
        if key in kept:
            stands = convert.bench_person(kept[key], (), ())
            yield from _lines(f"person {key}", told, stands, _OF_A_PERSON)


def parts_otherwise(told: Iterable[SparePart]) -> Iterator[str]:
    """Say the same of a list of parts alone."""
    kept = {part.number: part for part in Part.objects.all()}
    for spare in told:
        if part := kept.get(spare.part):
            stands = convert.spare_part(part, 0, 0, part.lead_days)
            yield from _lines(f"part {spare.part}", spare, stands, _OF_A_PART)


def _lines(
    where: str, told: Any, kept: SparePart | BenchPerson, names: tuple[str, ...]
) -> Iterator[str]:
    unsaid = {one.name: one.default for one in fields(told)}
    for name in names:
        said, stands = getattr(told, name), getattr(kept, name)
        if said == stands or (unsaid[name] is not MISSING and said == unsaid[name]):
            continue
        label = name.removesuffix("_minor").removeprefix("is_").replace("_", " ")
        yield _line(f"{where}, {label}", _shown(name, said), _shown(name, stands))


def _line(where: str, said: str, stands: str) -> str:
    return f"{where}: found {said}, kept {stands or 'none'} as on record"


def _shown(name: str, value: Any) -> str:
    if name.endswith("_minor"):
        return money(value)
    if name == "breaks":
        return "; ".join(f"{one.n}: {money(one.cost_minor)}" for one in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return "+".join(value)
    return "" if value is None else str(value)

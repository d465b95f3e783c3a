"""How is set right what was written of a part: its price, its lead, who sells it?"""

from dataclasses import dataclass, fields
from datetime import datetime
from typing import Any

from turnscrew.core.ledger.entry import Fact
from turnscrew.core.model.quantities import BadFieldError
from turnscrew.web.records import convert
from turnscrew.web.records.models import Part, Person
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, read_anew, require_room
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.setting_right import changed, unfounded
from turnscrew.web.records.services.writing import writing


@dataclass(frozen=True)
class RightPart:
    """What is right of a part; what is not given is right as it is."""

    description: str = ""
    cost_minor: int | None = None
    lead_days: int | None = None
    pack: int | None = None
    breaks: list[list[int]] | None = None
    supplier: str = ""
    place: str = ""


@writing
def correct_part(
    part: Part, right: RightPart, *, by: Person, now: datetime, words: str
) -> None:
    """
    Set right what was written of a part, by a new entry.

    What was ordered, agreed or billed at another price stays so.
    """
    read_anew(part)
    given = {one.name: getattr(right, one.name) for one in fields(right)}
    texts = {
        name: told.strip() for name, told in given.items() if isinstance(told, str)
    }
    old = changed(part, **given | texts)
    if part.cost_minor:
        part.is_free = False
    reasons = [*unfounded(old, words), *_wrong(part)]
    if reasons:
        raise RefusedError(*reasons)
    require_room([part])
    keep(part, now)
    facts: dict[str, Fact] = {"what": ", ".join(map(_name, old))}
    if "cost_minor" in old:
        facts |= {"minor": part.cost_minor, "minor was": old["cost_minor"]}
    told = "; ".join(
        f"{_name(name)} was: {_shown(was)}"
        for name, was in old.items()
        if name != "cost_minor"
    )
    append(
        "stock", "part corrected", part.ref, by=by, now=now, facts=facts,
        words=f"{words.strip()} ({told})" if told else words.strip(),
    )  # fmt: skip


def _wrong(part: Part) -> list[str]:
    numbers = [n for n, _ in part.breaks]
    if numbers != sorted(set(numbers)):
        found = ", ".join(map(str, numbers))
        return [f"breaks: found {found}, wanted rising numbers, each once"]
    try:
        convert.spare_part(part, 0, 0, part.lead_days)
    except BadFieldError as error:
        field = _name(error.field)
        return [f"{field}: found {error.found}, wanted {error.wanted}"]
    return []


def _name(field: str) -> str:
    return field.removesuffix("_minor").replace("_", " ")


def _shown(was: Any) -> str:
    if isinstance(was, list):
        was = "; ".join(f"{n}: {minor / 100:.2f}" for n, minor in was)
    return "none" if was in ("", None) else str(was)

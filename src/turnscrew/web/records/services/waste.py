"""How is it written what is thrown away, and against which receipt it goes?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from turnscrew.core.ledger.entry import Fact
from turnscrew.web.records.models import Job, Person, Waste
from turnscrew.web.records.queries.waste_page import DAMAGED_PACK, KINDS, usual_g
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.on_record import require_job_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

MOST_G = 1_000_000
"""What one line of waste may weigh; common practice, no source. [g]"""


@dataclass(frozen=True)
class Scrap:
    """What is thrown away; no mass means that nobody weighed it."""

    kind: str
    mass_g: int | None = None
    what: str = ""


@dataclass(frozen=True)
class Receipt:
    """Who took it, and under which number."""

    receiver: str
    number: str

    def wrong(self) -> list[str]:
        """Say what lacks."""
        reasons = []
        if not self.receiver.strip():
            reasons.append("receiver: found none, wanted who took it")
        if not self.number.strip():
            reasons.append("receipt: found none, wanted its number")
        return reasons


@writing
def throw_away(
    scrap: Scrap, *, by: Person, now: datetime, job: Job | None = None
) -> Waste:
    """Write that something lies here as waste; not weighed, a usual mass is marked."""
    require_job_on_record(job)
    reasons = []
    if scrap.kind not in KINDS:
        reasons.append(f"kind: found {scrap.kind}, wanted one of {', '.join(KINDS)}")
    if scrap.mass_g is not None and not 1 <= scrap.mass_g <= MOST_G:
        reasons.append(f"mass: found {scrap.mass_g} g, wanted 1 to {MOST_G} g")
    if reasons:
        raise RefusedError(*reasons)
    model = job.model if job else ""
    mass_g = scrap.mass_g
    if mass_g is None:
        mass_g = usual_g(scrap.kind, model)
    made = Waste.objects.create(
        job=job, kind=scrap.kind, what=scrap.what.strip(), model=model, mass_g=mass_g,
        is_weighed=scrap.mass_g is not None, on=now.date(), by=by,
    )  # fmt: skip
    facts: dict[str, Fact] = {
        "waste": made.ref, "kind": made.kind, "g": made.mass_g,
        "weighed": made.is_weighed,
    }  # fmt: skip
    append("custody", "waste", _subject(made), by=by, now=now, facts=facts)
    return made


@writing
def let_go(
    refs: Iterable[str],
    receipt: Receipt,
    *,
    by: Person,
    now: datetime,
    is_apart: bool = False,
) -> list[Waste]:
    """
    Write that waste went off against a receipt: all that is named, or nothing.

    A damaged pack may burn on the way, so it goes packed and labelled by itself.
    """
    wanted = set(refs)
    rows = list(
        Waste.objects.select_for_update(of=("self",))
        .filter(ref__in=wanted, gone_on=None, taken_back_on=None)
        .select_related("job")
    )
    reasons = receipt.wrong()
    if not rows or len(rows) != len(wanted):
        reasons.append(
            f"waste: found {len(rows)} of {len(wanted)}, wanted what is here"
        )
    if not is_apart and any(one.kind == DAMAGED_PACK for one in rows):
        reasons.append(
            "damaged pack: found one not said to be apart, wanted it packed and "
            "labelled by itself"
        )
    if reasons:
        raise RefusedError(*reasons)
    for one in rows:
        one.gone_on, one.receiver = now.date(), receipt.receiver.strip()
        one.receipt = receipt.number.strip()
        one.save()
        facts: dict[str, Fact] = {"waste": one.ref, "kind": one.kind, "g": one.mass_g}
        append(
            "custody", "waste gone", _subject(one), by=by, now=now, facts=facts,
            words=f"{one.receiver}: {one.receipt}",
        )  # fmt: skip
    return rows


def _subject(one: Waste) -> str:
    return one.job.ref if one.job else one.ref

"""What lies here to be thrown away, how heavy is it, and who took the rest?"""

from collections import Counter
from dataclasses import dataclass
from statistics import median
from typing import Any

from turnscrew.web.records.models import Donor, Waste
from turnscrew.web.records.queries.beyond import first_of
from turnscrew.web.records.queries.item_page import journal_of_verb

DAMAGED_PACK = "damaged pack"
CARCASS = "carcass"
USUAL_G = {
    "battery": 250, DAMAGED_PACK: 250, "board": 150, "glass": 120, "plastic": 300,
    "metal": 400, "other": 200, CARCASS: 1500,
}  # fmt: skip
"""Kinds of waste with a mass for each; common practice, no source. [g]"""

KINDS = tuple(USUAL_G)
_MOST_GONE = 100


def usual_g(kind: str, model: str) -> int:
    """
    Give the mass that stands in for one not weighed, in grams.

    What was weighed of the same kind and model goes before the usual figure.
    """
    weighed = Waste.objects.filter(kind=kind, model=model, is_weighed=True)
    weighed = weighed.filter(taken_back_on=None)
    known = list(weighed.values_list("mass_g", flat=True)) if model else []
    return round(median(known)) if known else USUAL_G[kind]


def waste_here() -> list[Waste]:
    """Give what lies here and waits for a receipt, damaged packs first."""
    rows = Waste.objects.filter(gone_on=None, taken_back_on=None)
    rows = rows.select_related("job__item", "by")
    return sorted(rows, key=lambda one: (one.kind != DAMAGED_PACK, one.on, one.pk))


def carcasses_here() -> list[Donor]:
    """Give the donors whose carcass is still here."""
    rows = Donor.objects.filter(job__state="donor")
    return list(
        rows.select_related("job__batch", "job__item").prefetch_related("parts")
    )


@dataclass(frozen=True)
class KindSum:
    """What there was of a kind of waste, in grams."""

    kind: str
    here_g: int
    gone_g: int
    not_weighed_g: int


def sums_by_kind() -> list[KindSum]:
    """Add the masses of each kind up: here, gone, and how much of it is not weighed."""
    here: Counter[str] = Counter()
    gone: Counter[str] = Counter()
    guessed: Counter[str] = Counter()
    for one in Waste.objects.filter(taken_back_on=None):
        (here if one.gone_on is None else gone)[one.kind] += one.mass_g
        if not one.is_weighed:
            guessed[one.kind] += one.mass_g
    return [
        KindSum(kind, here[kind], gone[kind], guessed[kind])
        for kind in KINDS
        if here[kind] or gone[kind]
    ]


def waste_gone() -> tuple[list[Waste], int]:
    """Give what went off, the latest first, and how many lines more there are."""
    gone = Waste.objects.exclude(gone_on=None).filter(taken_back_on=None)
    rows = gone.select_related("job__item").order_by("-gone_on", "-id")
    return first_of(rows, _MOST_GONE)


def waste_page() -> dict[str, Any]:
    """Give all that the page of waste shows."""
    gone, n_more = waste_gone()
    return {
        "here": waste_here(),
        "carcasses": carcasses_here(),
        "gone": gone,
        "n_more": n_more,
        "sums": sums_by_kind(),
        "taken_back": list(Waste.objects.exclude(taken_back_on=None)[:_MOST_GONE]),
        "corrections": journal_of_verb("waste corrected"),
    }

"""A small invented batch for tests: two models, a handful of faults, two people."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.model_terms import FaultTerms, ModelTerms, StandardMinutes
from turnscrew.core.model.person import Person
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.model.terms import Customer, Terms

PARTS = {
    "KEYS": SparePart("KEYS", "keys", "N", ("1",), 3000, 3, 1, row=2),
    "KEYS2": SparePart("KEYS2", "keys, long tail", "N", ("2",), 3500, 3, 0, row=3),
    "FAN": SparePart("FAN", "fan", "N", (), 1000, 5, 0, row=4),
    "PACK": SparePart("PACK", "pack", "N", (), 2000, 4, 1, row=5),
    "GLASS": SparePart("GLASS", "glass", "S", (), 4000, 6, 0, row=6),
    "FRAME": SparePart("FRAME", "frame set", "S", (), 240, 3, 5, row=7),
}

TERMS = Terms(
    batch="a small batch",
    customer=Customer("a hospice"),
    received=date(2027, 2, 1),
    rate_minor=4800,
    markup=Decimal("1.30"),
    models={
        "N": ModelTerms(
            minutes=StandardMinutes(12, 14, 16, 18, 6),
            worth={"1": 19000, "2": 29000},
            harvest=("KEYS", "KEYS2", "FAN"),
            harvest_after_liquid=("KEYS",),
        ),
        "S": ModelTerms(
            minutes=StandardMinutes(11, 13, 28, 25, 6),
            worth={"1": 15500, "2": 22000},
            opening_uses=("FRAME",),
            harvest=("GLASS",),
        ),
    },
    faults={
        "KBD": FaultTerms("keys dead", 22, ("KEYS", "KEYS2")),
        "FAN": FaultTerms("fan worn", 14, ("FAN",)),
        "BAT": FaultTerms("pack worn", 6, ("PACK",), skill="battery", hazard="pack"),
        "LIQ": FaultTerms("liquid", 15, hazard="liquid"),
        "GLS": FaultTerms("glass cracked", 34, ("GLASS",), hazard="glass"),
        "DOR": FaultTerms("door lost", 2, is_opened=False),
        "NFF": FaultTerms("no fault found", 15, is_opened=False, is_trial=True),
    },
    ask_limit_minor=9500,
    worth_ratio=Decimal("0.55"),
)

PEOPLE = {
    "lead": Person("Ada Q", 390, 2700, skills=("battery",)),
    "helper": Person("Ben R", 360, 2100, Decimal("1.30")),
}


def line(number: int = 1, found: str = "KBD", **facts) -> BatchLine:
    """One device; usual facts unless said."""
    usual = {
        "serial": f"A{number:03d}", "model": "N", "asset": f"X{number:03d}",
        "revision": "1", "due_day": 7, "data": "P",
    }  # fmt: skip
    codes = tuple(code for code in found.split("+") if code)
    return BatchLine(number, found=codes, **(usual | facts))


def terms(**facts) -> Terms:
    """The small terms, changed."""
    return replace(TERMS, **facts)


def batch(*lines: BatchLine, **facts) -> BatchInput:
    """A batch of some devices under the small terms."""
    usual = {"listed": (), "parts": PARTS, "terms": TERMS, "people": PEOPLE}
    return BatchInput(lines, **(usual | facts))

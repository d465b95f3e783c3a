"""What can be entered to set right what was written wrong?"""

import re
from typing import Any

from django import forms

from turnscrew.web.counter.fields import AmountField, Chosen, DayField, choice, words
from turnscrew.web.records.queries.waste_page import KINDS

_AS_IT_IS = "; empty if it is right"

_BREAK_AT = re.compile(r"[1-9]\d{0,5}", re.ASCII)


class _OfOne(Chosen):
    """A form about one of several rows."""

    chooses = "row"
    row = forms.ChoiceField(label="Which")
    why = words("Why it was wrong", needed=True, most=200)


def count(label: str) -> forms.IntegerField:
    """Give a field for a count that may be right as it is."""
    return forms.IntegerField(
        label=label + _AS_IT_IS, required=False, min_value=0, max_value=1_000_000
    )


class OrderSetRight(_OfOne):
    n = count("Pieces ordered, 0 to call it off")
    minor = AmountField(label="Cost of all of them" + _AS_IT_IS, required=False)
    expected_on = DayField(label="Expected on" + _AS_IT_IS, required=False)
    field_order = ("row", "n", "minor", "expected_on", "why")


class PayBackTakenBack(_OfOne):
    field_order = ("row", "why")


class AccessorySetRight(_OfOne):
    n_in = count("Came in, 0 if it never did")
    n_out = count("Went back")
    n_explained = count("Explained")
    field_order = ("row", "n_in", "n_out", "n_explained", "why")


class DeviceSetRight(forms.Form):
    serial = words("Serial on the body" + _AS_IT_IS, most=60)
    asset = words("Owner's number" + _AS_IT_IS, most=60)
    model = words("Model" + _AS_IT_IS, most=40)
    site = words("Place it belongs to" + _AS_IT_IS, most=120)
    due_day = forms.IntegerField(
        label="Due, workshop day" + _AS_IT_IS, required=False, min_value=1,
        max_value=10_000,
    )  # fmt: skip
    why = words("Why it was wrong", needed=True, most=200)


class BreaksField(forms.CharField):
    """Lower costs for larger numbers, given back as pairs; a dash is for none."""

    def clean(self, value: Any) -> list[list[int]] | None:
        text = super().clean(value).strip()
        if not text:
            return None
        pieces = [] if text == "-" else [one for one in text.split(";") if one.strip()]
        return [self._pair(piece) for piece in pieces]

    def _pair(self, piece: str) -> list[int]:
        n, _, cost = piece.partition(":")
        minor = AmountField(required=False).clean(cost)
        if _BREAK_AT.fullmatch(n.strip()) is None or minor is None:
            raise forms.ValidationError(
                f"found {piece.strip()}, wanted a number and the cost from it on, "
                "with a colon between"
            )
        return [int(n), minor]


class PartSetRight(forms.Form):
    minor = AmountField(label="Cost of one" + _AS_IT_IS, required=False)
    lead_days = forms.IntegerField(
        label="Lead, workshop days" + _AS_IT_IS, required=False, min_value=0,
        max_value=1000,
    )  # fmt: skip
    pack = forms.IntegerField(
        label="Pieces in a pack" + _AS_IT_IS, required=False, min_value=1,
        max_value=100_000,
    )  # fmt: skip
    breaks = BreaksField(
        label="Lower costs for more, such as 10: 2; 50: 1, or - for none" + _AS_IT_IS,
        required=False, max_length=300,
    )  # fmt: skip
    supplier = words("Supplier" + _AS_IT_IS, most=120)
    place = words("Where it lies" + _AS_IT_IS, most=60)
    description = words("Description" + _AS_IT_IS, most=200)
    why = words("Why it was wrong", needed=True, most=200)


class ReturnSetRight(_OfOne):
    n = count("Faulty pieces, 0 to take it back")
    reason = words("What is wrong with them" + _AS_IT_IS)
    evidence = words("What shows it" + _AS_IT_IS)
    expected_minor = AmountField(label="Credit expected" + _AS_IT_IS, required=False)
    deadline = DayField(label="Its day" + _AS_IT_IS, required=False)
    is_open_again = forms.BooleanField(
        label="the end on record does not hold: open it again", required=False
    )
    field_order = (
        "row", "n", "reason", "evidence", "expected_minor", "deadline",
        "is_open_again", "why",
    )  # fmt: skip


class WasteSetRight(_OfOne):
    kind = choice("Kind" + _AS_IT_IS, list(KINDS), needed=False)
    mass_g = forms.IntegerField(
        label="Mass in g, weighed" + _AS_IT_IS, required=False, min_value=1,
        max_value=1_000_000,
    )  # fmt: skip
    what = words("What it is" + _AS_IT_IS, most=120)
    receiver = words("Who took it" + _AS_IT_IS, most=120)
    receipt = words("Number of the receipt" + _AS_IT_IS, most=120)
    is_taken_back = forms.BooleanField(
        label="it was never thrown away: take the line back", required=False
    )
    field_order = (
        "row", "kind", "mass_g", "what", "receiver", "receipt", "is_taken_back", "why",
    )  # fmt: skip

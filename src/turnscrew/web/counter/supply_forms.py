"""What can be entered about parcels, faulty pieces, waste, known-good things, times?"""

from datetime import date
from typing import Any

from django import forms

from turnscrew.web.counter.fields import (
    AmountField,
    Chosen,
    DayField,
    choice,
    text,
    words,
)
from turnscrew.web.records.queries.waste_page import KINDS
from turnscrew.web.records.services.goods import OUTCOMES
from turnscrew.web.records.services.supplier import ASKED, ENDS, STAGES


def picture(label: str) -> forms.FileField:
    """Give a field for a photo that may be left out."""
    return forms.FileField(
        label=label,
        required=False,
        widget=forms.ClearableFileInput(
            attrs={"accept": "image/*", "capture": "environment"}
        ),
    )


class GoodsIn(forms.Form):
    order = forms.CharField(widget=forms.HiddenInput, max_length=16)
    shown = forms.IntegerField(widget=forms.HiddenInput, required=False)
    n = forms.IntegerField(label="Pieces", min_value=1, max_value=1_000_000)
    lot = words("Lot", most=60)
    marks_seen = words("What the comparison with a known one showed", needed=True)
    outcome = choice("Outcome", list(OUTCOMES))
    no_marks = forms.BooleanField(label="the pieces bear no marks", required=False)
    front = picture("Photo of the front")
    back = picture("Photo of the back")
    asked = choice("If rejected, asked for", list(ASKED), needed=False)
    send_by = DayField(label="If rejected, send back by", required=False)


class FirstUse(forms.Form):
    lot = forms.IntegerField(widget=forms.HiddenInput)
    is_good = choice("Result", [("yes", "good"), ("no", "bad")])
    how = words("Tested how", needed=True, most=200)


class ReturnBegun(forms.Form):
    number = words("Number of the part", needed=True, most=40)
    n = forms.IntegerField(label="Pieces", min_value=1, max_value=1_000_000, initial=1)
    stage = choice("Found at", list(STAGES))
    job = words("Our number of the device it was for, scanned", most=20)
    reason = words("What is wrong with it", needed=True)
    evidence = words("What shows it, in words")
    photo = picture("or a photo of it")
    on_shelf = forms.BooleanField(
        label="the shelf still counts it: take it off", required=False
    )
    asked = choice("Asked of the supplier", list(ASKED))
    deadline = DayField(label="Latest day to send it back", required=False)
    expected_minor = AmountField(
        label="Credit expected; empty for the price paid", required=False
    )


class SentBack(forms.Form):
    credit_by = DayField(label="Settled by the supplier by")


class ReturnSettled(forms.Form):
    end = choice("End", list(ENDS))
    minor = AmountField(label="Amount credited", required=False)
    why = words("Why, if written off")


def mass() -> forms.IntegerField:
    """Give a field for a mass that may not be known."""
    return forms.IntegerField(
        label="Mass in g; empty if not weighed", required=False, min_value=1,
        max_value=1_000_000,
    )  # fmt: skip


class WasteMade(forms.Form):
    kind = choice("Kind", list(KINDS))
    mass_g = mass()
    job = words("Our number of the device it came out of, scanned", most=20)
    what = words("What it is", most=120)


class WasteGone(Chosen):
    chooses = "rows"

    rows = forms.MultipleChoiceField(
        label="What goes", widget=forms.CheckboxSelectMultiple
    )
    receiver = words("Who takes it", needed=True, most=120)
    receipt = words("Number of the receipt", needed=True, most=120)
    is_apart = forms.BooleanField(
        label="damaged packs among it are packed and labelled by themselves",
        required=False,
    )


class CarcassGone(forms.Form):
    line = forms.IntegerField(label="Device", min_value=1, max_value=9_999_999)
    receiver = words("Who takes it", needed=True, most=120)
    receipt = words("Receipt of the waste receiver", needed=True, most=120)
    mass_g = mass()


class DonorLaid(forms.Form):
    part = forms.IntegerField(widget=forms.HiddenInput)
    place = words("Where it lies", needed=True, most=60)


class PartsListed(forms.Form):
    file = forms.FileField(label="Parts list", required=False)
    pasted = text("or pasted from a spreadsheet, with headings", rows=6)


class FitClaimed(forms.Form):
    model = words("Model; empty for all it is said to fit", most=40)
    revision = words("Revision; empty for all", most=40)
    position = words("Position in the device", most=60)
    claimed_by = words("Who says so", needed=True, most=120)


class KnownPiece(forms.Form):
    marks = words("Marks to find on it; empty if it bears none")
    front = picture("Photo of a known one, front")
    back = picture("Photo of a known one, back")


class PricesAsked(forms.Form):
    """Two prices, asked by the address; both or neither."""

    lacking = AmountField(label="Cost of one piece lacking")
    over = AmountField(label="Cost of one piece too many")

    def clean(self) -> dict[str, Any]:
        entered = super().clean() or self.cleaned_data
        for name in ("lacking", "over"):
            if name in entered and not entered[name]:
                self.add_error(name, "found 0, wanted more than 0")
        return entered


class EndAsked(forms.Form):
    """The end of a model, asked by the address."""

    until = DayField(label="Last day it is in use")
    fleet = choice(
        "Until then the fleet",
        [("whole", "stays whole"), ("shrinking", "shrinks evenly to none")],
    )
    lost = AmountField(label="Cost of one piece lacking, as of a device given up")
    left = AmountField(label="Worth of a piece left in the end", required=False)
    good = forms.IntegerField(
        label="Good ones among ten pieces of donors; empty: by our own record",
        required=False, min_value=1, max_value=10,
    )  # fmt: skip

    def __init__(self, *given: Any, today: date, cost_minor: int, **more: Any) -> None:
        super().__init__(*given, **more)
        self.today, self.cost_minor = today, cost_minor

    def clean_until(self) -> date:
        until: date = self.cleaned_data["until"]
        if until <= self.today:
            raise forms.ValidationError(f"found {until}, wanted a day to come")
        return until

    def clean_left(self) -> int:
        left: int = self.cleaned_data["left"] or 0
        if left >= self.cost_minor:
            raise forms.ValidationError("found its cost or more, wanted less")
        return left


class TimeExplained(Chosen):
    chooses = "stroke"
    stroke = forms.ChoiceField(label="Which time")
    why = words("What made it so", needed=True, most=200)


class KnownGoodTied(forms.Form):
    which = forms.IntegerField(widget=forms.HiddenInput)
    key = words("Its key in the fault tables", most=60)

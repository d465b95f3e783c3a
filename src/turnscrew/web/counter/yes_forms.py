"""Which form writes that a customer agreed in writing?"""

from django import forms

from turnscrew.web.counter.fields import (
    Chosen,
    DayField,
    LinesField,
    OfBatch,
    choice,
    words,
)


class AgreedInWriting(Chosen, OfBatch):
    """One letter or message may agree for several devices."""

    chooses = "cover"

    lines = LinesField(label="Agreed for devices")
    cover = choice("To cross what", [])
    name = words("Who agreed in writing", needed=True, most=120)
    day = DayField(label="Day of the letter or message")


class YesWithdrawn(Chosen):
    """A yes that was written for the wrong device, or that was none."""

    chooses = "cover"

    line = forms.IntegerField(label="Device", min_value=1, max_value=9_999_999)
    cover = choice("Yes to cross what", [])
    why = words("Why it does not hold", needed=True)

"""What can be entered about adapters, locks, trials, arrival, cleaning and charge?"""

from typing import Any

from django import forms

from turnscrew.core.electrics.adapter_check import BELONGS
from turnscrew.core.handbook.cleaning import AGENTS, ALLOWED
from turnscrew.core.photo.faces import DAMAGE, MISSING
from turnscrew.web.counter.fields import (
    Chosen,
    DayField,
    LinesField,
    NumberField,
    OfBatch,
    choice,
    words,
)
from turnscrew.web.records.queries.locks import LOCKS

_OPEN = ("", "–")
"""Nothing is chosen before somebody looked."""

_YES_NO = [_OPEN, ("yes", "yes"), ("no", "no")]


def _figure(label: str) -> NumberField:
    return NumberField(
        label=label, required=False, min_value=0, max_digits=7, decimal_places=3
    )


class AdapterChecked(Chosen):
    chooses = "adapter"
    adapter = forms.ChoiceField(label="Adapter")
    belongs = choice(
        "It belongs to this device", [_OPEN, *((one, one) for one in BELONGS)]
    )
    owner = words("Whose it is, if it is not the device's", most=120)
    label = choice("Its label", [_OPEN, ("read", "read"), ("unread", "cannot be read")])
    rated_v = _figure("Printed on it [V]")
    rated_a = _figure("Printed on it [A]")
    rated_w = _figure("or printed on it [W]")
    device_v = _figure("The device's label asks for [V]")
    device_a = _figure("The device's label asks for [A]")
    cable = choice(
        "Case, pins and cable", [_OPEN, ("whole", "whole"), ("not", "not whole")]
    )
    output_v = _figure("Output under load [V]")
    load_a = _figure("Load [A]")
    low_v = _figure("Least that is right; empty for 5 % below [V]")
    high_v = _figure("Most that is right; empty for 5 % above [V]")
    next_on = DayField(label="Look again by", required=False)


class AdapterCut(Chosen):
    chooses = "adapter"
    adapter = forms.ChoiceField(label="Adapter that is not fit")
    mass_g = forms.IntegerField(
        label="Mass [g]; empty if nobody weighed it", required=False, min_value=1,
        max_value=10_000,
    )  # fmt: skip


class LockNoted(forms.Form):
    lock = choice("Lock", [_OPEN, *LOCKS])


class LocksNoted(LockNoted, OfBatch):
    lines = LinesField(label="Devices")
    field_order = ("lines",)


class AdministratorAsked(forms.Form):
    asked_of = words("Who was asked", needed=True, most=120)
    due_on = DayField(label="Answer due on")
    request = words("What was asked")


class AdministratorAnswered(forms.Form):
    is_open = choice("It can be used to the end now", _YES_NO)
    answer = words("What was answered", needed=True)


class TrialPlanned(forms.Form):
    hours = NumberField(
        label="Hours", min_value=0, max_value=720, max_digits=5, decimal_places=1
    )
    load = words("Load: what it does meanwhile", needed=True, most=120)
    position = words("Position: how it lies or stands", needed=True, most=120)
    temperature_c = forms.IntegerField(label="Temperature [°C]")
    ago = NumberField(
        label="Began so many hours ago; empty if it begins now", required=False,
        min_value=0, max_value=720, max_digits=5, decimal_places=1,
    )  # fmt: skip


class TrialEnded(forms.Form):
    hours = NumberField(
        label="Hours it ran", min_value=0, max_value=720, max_digits=5, decimal_places=1
    )
    tried = words("What was tried", needed=True)
    result = choice(
        "The fault",
        [
            _OPEN, ("shown", "shown"), ("not shown", "not shown"),
            ("broken off", "not shown before it was broken off"),
        ],
    )  # fmt: skip
    told = words("Words for the customer", needed=True)


class Cleaned(forms.Form):
    surface = choice("Surface", list(ALLOWED))
    agent = choice("Agent", list(AGENTS))
    marks_left = words("Marks that stay")
    trims = choice("Trims and feet on, the right way", _YES_NO)


class ChargedTo(forms.Form):
    percent = forms.IntegerField(label="Charge [%]", min_value=0, max_value=100)
    on_charge_min = forms.IntegerField(
        label="Minutes on charge", min_value=0, max_value=2880
    )
    will_not_reach = forms.BooleanField(
        label="The pack will not reach more", required=False
    )


class ConditionSeen(forms.Form):
    gap_mm = NumberField(
        label="Widest gap of the case [mm]; empty if not measured", required=False,
        min_value=0, max_value=50, max_digits=4, decimal_places=1,
    )  # fmt: skip
    gap_seen = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for kind in MISSING:
            self.fields[kind] = forms.IntegerField(
                label=f"Missing {kind}", min_value=0, max_value=200
            )


class DamageMarked(Chosen):
    chooses = "face"
    face = forms.ChoiceField(label="Face")
    kind = choice("Damage", list(DAMAGE))
    x_percent = forms.IntegerField(
        label="From the left [%]", min_value=0, max_value=100
    )
    y_percent = forms.IntegerField(label="From the top [%]", min_value=0, max_value=100)
    about = words("Words", most=120)


class FacePhotographed(Chosen):
    chooses = "face"
    face = forms.ChoiceField(label="Face")
    photo = forms.FileField(label="Photo")
    key = forms.RegexField("^[0-9a-zA-Z-]{8,64}$", widget=forms.HiddenInput)

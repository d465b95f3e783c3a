"""What can be entered on the pages of the counter?"""

from decimal import Decimal
from typing import Any

from django import forms

from turnscrew.core.model.job_state import STATES
from turnscrew.web.counter.fields import (
    AmountField,
    AsShown,
    Chosen,
    DayField,
    LinesField,
    ManyFilesField,
    NumberField,
    OfBatch,
    PiecesAsShown,
    QuotesAsShown,
    choice,
    text,
    words,
)
from turnscrew.web.records.queries.closing import AGREES, CAUSES
from turnscrew.web.records.queries.data_terms import ALLOWED
from turnscrew.web.records.queries.duties import DUTIES
from turnscrew.web.records.queries.locks import LOCKS
from turnscrew.web.records.services.people import RESULTS
from turnscrew.web.records.services.quoting import COMEBACK_CLASSES
from turnscrew.web.records.services.tokens import SCOPES

_YES_NO = [("yes", "yes"), ("no", "no")]


class BookFolder(forms.Form):
    chosen = ManyFilesField(
        label="Files of the batch",
        help_text="terms.yaml, people.yaml, and the tables batch, parts, "
        "customer-list and history as CSV or spreadsheet: choose all at once",
    )


class Book(forms.Form):
    name = words("Name of the batch", most=200)
    received = DayField(label="Day received")
    terms = text("Terms", needed=True, rows=18)


class KeepList(forms.Form):
    file = forms.FileField(label="Customer's list", required=False)
    pasted = text("or pasted from a spreadsheet", rows=6)
    asset = words("Their heading for the owner's number", most=120)
    serial = words("Their heading for the serial", most=120)
    model = words("Their heading for the model", most=120)
    rev = words("Their heading for the revision", most=120)
    site = words("Their heading for the place", most=120)


class KeepLines(forms.Form):
    file = forms.FileField(label="Table of devices received", required=False)
    pasted = text("or pasted from a spreadsheet, with headings", rows=6)


class ReceiveOne(forms.Form):
    serial = words("Serial on the body, scanned", most=60)
    asset = words("Owner's number, scanned", most=60)
    model = words("Model", needed=True, most=40)
    rev = words("Revision seen", most=40)
    site = words("Place it belongs to", most=120)
    due_day = forms.IntegerField(
        label="Due, workshop day", required=False, min_value=1, max_value=10_000
    )
    reported = words("What the customer says")
    found = words("Faults seen, codes with + between", most=120)
    acc = words("Came with it, + between", most=200)
    data_class = choice(
        "Data of persons", [("P", "may hold some"), ("N", "holds none")], needed=False
    )
    # Nobody looked stands first: a scanner alone brings no other word.
    lock = choice("Locked or enrolled", list(reversed(LOCKS)))
    remarks = words("Seen on arrival")


class Move(forms.Form):
    state = choice("State", list(STATES))
    place = words("Place", needed=True, most=60)
    holder = forms.ChoiceField(label="Holder")
    until = DayField(label="Waits until", required=False)
    reason = words("Reason")

    def __init__(self, *args: Any, people: Any, states: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["holder"].choices = people  # type: ignore[attr-defined]
        self.fields["state"].choices = [(s, s) for s in states]  # type: ignore[attr-defined]


class MoveSeveral(Move, OfBatch):
    lines = LinesField(label="Devices")
    field_order = ("lines",)


class Isolate(forms.Form):
    reason = words("What was seen, smelt or felt", most=200)


class DataDecided(forms.Form):
    data_class = choice(
        "Data of persons", [("P", "may hold some"), ("N", "holds none")], needed=False
    )
    allowed = choice("What is allowed", [code for code, _ in ALLOWED])
    said_by = words("Who allowed it", needed=True, most=120)
    until = DayField(
        label="Until; empty for as long as the device is here", required=False
    )
    decision = words("In more words", most=200)


class DataPartListed(forms.Form):
    what = words("What it is", needed=True, most=120)
    serial = words("Its serial", most=60)
    is_dead = forms.BooleanField(
        label="dead or failed: it cannot be cleared", required=False
    )


class AccessoryBrought(forms.Form):
    kind = words("What", needed=True, most=60)
    n = forms.IntegerField(label="How many", min_value=1, max_value=1000, initial=1)


class InvitationWithdrawn(forms.Form):
    link = forms.CharField(widget=forms.HiddenInput, max_length=16)


class TokenMade(forms.Form):
    name = words("What it is for", needed=True, most=60)
    scopes = forms.MultipleChoiceField(
        label="What it may do",
        widget=forms.CheckboxSelectMultiple,
        choices=[(scope, scope) for scope in SCOPES],
    )
    expires_on = DayField(label="Until", required=True)


class TokenWithdrawn(forms.Form):
    token = forms.CharField(widget=forms.HiddenInput, max_length=16)


class Withdrawn(forms.Form):
    finding = forms.IntegerField(label="Finding number", min_value=1)
    why = words("Why it does not hold", needed=True)


class Corrected(forms.Form):
    sequence = forms.IntegerField(label="Entry number", min_value=1)
    why = words("Why it was wrong", needed=True, most=200)


class CustomerData(forms.Form):
    name = words("Name", needed=True, most=200)
    address = text("Address", rows=4)
    contract = words("Contract on handling data", most=200)
    tax_number = words("Tax number", most=40)
    keep_months = forms.IntegerField(
        label="Months personal data are kept after the last job",
        min_value=1,
        max_value=600,
    )
    charge_low_percent = forms.IntegerField(
        label="Charge at hand-back, least [%]", min_value=0, max_value=100
    )
    charge_high_percent = forms.IntegerField(
        label="Charge at hand-back, most [%]", min_value=0, max_value=100
    )


class DutyAnswered(forms.Form):
    code = choice("Duty", list(DUTIES))
    answer = choice("Answer", _YES_NO)
    on = DayField(label="Since, or on")
    words = words("What shows it: paper, names, note")


class ContactMade(forms.Form):
    name = words("Name", needed=True, most=120)
    reach = words("Telephone or address", most=200)


class FleetCounted(forms.Form):
    model = words("Model", needed=True, most=40)
    site = words("Place; empty for all", most=120)
    n_devices = forms.IntegerField(label="Devices", min_value=0, max_value=10_000_000)
    in_service_on = DayField(
        label="In service since; empty if not known", required=False
    )


class FindingMade(forms.Form):
    stage = choice("Stage", ["seen", "confirmed", "reported"])
    code = words("Fault code", most=40)
    said = words("In words")
    result = words("Result of a check", most=60)
    part = words("Confirmed: part that was wrong", most=60)
    mode = words("Confirmed: failure mode, how it showed", most=60)
    cause = choice("Confirmed: failure cause", list(CAUSES), needed=False)
    agrees = choice("Confirmed: agrees with what was said", list(AGREES), needed=False)


class Devices(OfBatch):
    lines = LinesField(label="Devices")


class ConfirmedSeveral(OfBatch):
    lines = LinesField(label="Devices with the same fault")
    code = words("Fault code", most=40)
    part = words("Part that was wrong", needed=True, most=60)
    mode = words("Failure mode, how it showed", needed=True, most=60)
    cause = choice("Failure cause", list(CAUSES))
    agrees = choice("Agrees with what was said", list(AGREES))


class Quoted(forms.Form):
    """What is done with all quotes of a page."""

    shown = QuotesAsShown(required=False)


class Answers(OfBatch):
    """One reply for several devices: only those named are answered."""

    seen = AsShown(required=False)
    name = words("Who answered", needed=True, most=120)
    yes = LinesField(label="Yes to", required=False)
    no = LinesField(label="No to", required=False)

    def clean(self) -> dict[str, Any]:
        entered = super().clean() or self.cleaned_data
        both = set(entered.get("yes", [])) & set(entered.get("no", []))
        if both:
            named = ", ".join(map(str, sorted(both)))
            raise forms.ValidationError(f"found yes and no to {named}, wanted one")
        if not entered.get("yes") and not entered.get("no"):
            raise forms.ValidationError("found no device, wanted one or more")
        return entered


class Invite(forms.Form):
    name = words("Contact's name", needed=True, most=120)


class PartsToOrder(Chosen):
    chooses = "numbers"

    numbers = forms.MultipleChoiceField(
        label="Parts", widget=forms.CheckboxSelectMultiple
    )
    shown = PiecesAsShown(required=False)


class Count(forms.Form):
    on_hand = AsShown(required=False)
    n = forms.IntegerField(label="Counted", min_value=0, max_value=1_000_000)
    why = words("If it differs, why", most=200)


class BuyAgain(forms.Form):
    n = forms.IntegerField(
        label="Buy again at so many free pieces; 0 for never", min_value=0,
        max_value=1_000_000,
    )  # fmt: skip


class StockMove(forms.Form):
    verb = choice("What happened", ["received", "returned", "lost", "found"])
    n = forms.IntegerField(label="Pieces", min_value=1, max_value=1_000_000)
    why = words("Why", needed=True, most=200)


class OrderPieces(forms.Form):
    n = forms.IntegerField(label="Pieces to order", min_value=1, max_value=1_000_000)
    expected_on = DayField(label="Expected on", required=False)


class KnownGoodMade(forms.Form):
    what = words("What", needed=True, most=120)
    fits = words("Fits", most=120)
    place = words("Place", most=60)
    key = words("Its key in the fault tables", most=60)


class KnownGoodTried(forms.Form):
    which = forms.IntegerField(widget=forms.HiddenInput)
    is_good = choice("Is it good", _YES_NO)
    how = words("Verified with", needed=True, most=200)


class DonorDeclared(OfBatch):
    lines = LinesField(label="Devices to strip")
    consent = words("Consent to use for other customers, who and when", most=200)


class DonorTested(forms.Form):
    part = forms.IntegerField(widget=forms.HiddenInput)
    was = forms.CharField(widget=forms.HiddenInput, required=False, max_length=10)
    is_good = choice("Result", [("yes", "good"), ("no", "bad")])
    how = words("Tested how", needed=True, most=200)


class DonorFitted(OfBatch):
    part = forms.IntegerField(widget=forms.HiddenInput)
    lines = LinesField(label="In device")


class DataEnded(forms.Form):
    part = forms.CharField(widget=forms.HiddenInput, max_length=16)
    end = choice("End", ["returned", "cleared", "purged", "destroyed"])
    how = words("Verified how", needed=True, most=200)


class HandBack(OfBatch):
    lines = LinesField(label="Devices handed back", required=False)
    taken_by = words("Taken by, name as signed", needed=True, most=120)
    strokes = forms.CharField(
        required=False, widget=forms.HiddenInput, max_length=40_000
    )
    explained = words(
        "Accessories that do not go back: DEVICE KIND = why, or DEVICE 1 KIND = why "
        "for one of several; separated by ;",
        most=1000,
    )
    strays = forms.BooleanField(
        label="and what came with devices that do not go back", required=False
    )
    note = words("Note on the hand-back", most=300)


class Payment(forms.Form):
    minor = AmountField(label="Amount that came in")
    on = DayField(label="On")
    how = words("How", most=60)


class PaidBack(forms.Form):
    minor = AmountField(label="Amount paid back, or set against another invoice")
    on = DayField(label="On")
    how = words("How", needed=True, most=60)


class PaymentCorrected(forms.Form):
    payment = forms.IntegerField(label="Number of the wrong payment", min_value=1)
    minor = AmountField(label="Right amount; empty if none came in", required=False)
    on = DayField(label="On")
    how = words("How", most=60)
    why = words("Why it was wrong", needed=True)


class AnswerCorrected(forms.Form):
    line = forms.IntegerField(label="Device", min_value=1, max_value=9_999_999)
    answer = choice("Right answer", _YES_NO)
    name = words("Who gave it", needed=True, most=120)
    why = words("Why the answer on record was wrong", needed=True)


class Reason(forms.Form):
    reason = words("Why", needed=True)


class Sold(forms.Form):
    is_sold = AsShown()


class Retired(Reason):
    is_retired = AsShown()


class GivenBackAsItCame(Reason):
    taken_by = words("Taken by, name as signed", needed=True, most=120)


class ComebackClass(forms.Form):
    job = forms.CharField(widget=forms.HiddenInput, max_length=16)
    kind = choice("Class", list(COMEBACK_CLASSES))


class Check(forms.Form):
    kind = forms.IntegerField(widget=forms.HiddenInput)
    result = choice("Result", list(RESULTS))
    reading = words("Reading or remark", most=120)


class CheckKind(forms.Form):
    name = words("What is looked at", needed=True, most=120)
    every_days = forms.IntegerField(label="Every, days", min_value=1, max_value=3650)
    how = words("What is right", most=300)


class NewPerson(forms.Form):
    key = words("Short name to sign in", needed=True, most=40)
    name = words("Name", needed=True, most=120)
    rights = choice("Rights", ["lead", "helper", "desk"])


class SignOffGiven(forms.Form):
    skill = words("Skill", needed=True, most=60)
    until = DayField(label="Until", required=False)
    n_supervised = forms.IntegerField(
        label="Supervised passes; empty for those counted at the bench",
        required=False,
        min_value=0,
        max_value=10_000,
    )
    n_left_over = forms.IntegerField(
        label="Pieces left over; empty for those counted at the bench",
        required=False,
        min_value=0,
        max_value=10_000,
    )


class BenchTime(forms.Form):
    minutes_a_day = forms.IntegerField(
        label="Minutes a day at a bench; 0 for none", min_value=0, max_value=1440
    )
    pace = NumberField(
        label="Own minutes to a standard minute", min_value=Decimal("0.2"),
        max_value=10, max_digits=4, decimal_places=2,
    )  # fmt: skip
    pay_minor = AmountField(label="Pay of an hour")


class Away(forms.Form):
    first = DayField(label="Away from")
    last = DayField(label="to")


class SecondFactor(forms.Form):
    code = words("Code shown by the other device", needed=True, most=8)


class Password(forms.Form):
    password = forms.CharField(
        label="Your password", widget=forms.PasswordInput, max_length=200
    )


class Spoken(forms.Form):
    language = forms.ChoiceField(
        label="Language", choices=[("en", "English"), ("de", "Deutsch")]
    )


class NewPassword(forms.Form):
    password = forms.CharField(
        label="New password", widget=forms.PasswordInput, max_length=200
    )
    again = forms.CharField(
        label="The same again", widget=forms.PasswordInput, max_length=200
    )


class WhatIf(forms.Form):
    """The question, asked by the address, so that it can be kept and sent on."""

    away = words("Away: PERSON=FROM-TO, separated by ;", most=200)
    answers_on = forms.IntegerField(
        label="Answers in hand on day", required=False, min_value=1, max_value=9999
    )
    late = words("Late parcels: PART=DAYS, separated by ;", most=200)
    sign_offs = words("Sign-offs given: PERSON=SKILL, separated by ;", most=200)
    no_donors = forms.BooleanField(label="Donors give nothing", required=False)
    released_only = forms.BooleanField(
        label="Helpers open by released descriptions alone", required=False
    )


class TrayCounted(forms.Form):
    """One field a compartment; each is counted, an empty tray is looked into."""

    def __init__(self, *args: Any, compartments: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for name, label in compartments:
            self.fields[name] = forms.IntegerField(
                label=label, min_value=0, max_value=10_000
            )


class Covered(forms.Form):
    reason = words("What it waits for", needed=True, most=200)


class TimesUsed(Chosen):
    chooses = "model"

    model = forms.ChoiceField(label="Model")

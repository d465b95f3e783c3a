"""What can be entered about incidents and packs?"""

from django import forms

from turnscrew.web.counter.fields import DayField, choice, words
from turnscrew.web.records.services.safety import INCIDENT_KINDS, PACK_EVENTS


class IncidentMade(forms.Form):
    kind = choice("Kind", list(INCIDENT_KINDS))
    on = DayField(label="Day; empty for today", required=False)
    what = words("What happened", needed=True)
    done = words("What was done at once")
    job = words("Our number of the device, scanned", most=20)


class IncidentClosed(forms.Form):
    incident = forms.CharField(widget=forms.HiddenInput, max_length=16)
    learnt = words("What is done another way from now on", needed=True)


class PackSeen(forms.Form):
    pack = words("Label or number of the pack", needed=True, most=60)
    event = choice("What was seen or done", list(PACK_EVENTS))
    reading = words("Voltage, warmth or what else was read", most=120)
    place = words("Where it lies now", most=60)
    job = words("Our number of the device it came out of, scanned", most=20)

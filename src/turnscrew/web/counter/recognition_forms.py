"""What can be entered about the model and revision of a device?"""

from django import forms

from turnscrew.web.counter.fields import Chosen


class Saw(forms.Form):
    """One look and what it showed; nothing where it could not be seen."""

    look = forms.CharField(widget=forms.HiddenInput, max_length=200)
    shows = forms.CharField(widget=forms.HiddenInput, required=False, max_length=200)


class TakenFor(Chosen):
    chooses = "revision"

    revision = forms.ChoiceField(label="Revision")
    is_open = forms.BooleanField(label="Seen on the open device", required=False)

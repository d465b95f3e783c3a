"""What can be entered about the model and revision of a device?"""

from typing import Any

from django import forms


class Saw(forms.Form):
    """One look and what it showed; nothing where it could not be seen."""

    look = forms.CharField(widget=forms.HiddenInput, max_length=200)
    shows = forms.CharField(widget=forms.HiddenInput, required=False, max_length=200)


class TakenFor(forms.Form):
    revision = forms.ChoiceField(label="Revision")
    is_open = forms.BooleanField(label="Seen on the open device", required=False)

    def __init__(self, *args: Any, revisions: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["revision"].choices = [(one, one) for one in revisions]  # type: ignore[attr-defined]

"""What is sent with a button that bills, or gives up, what its page shows?"""

from django import forms

from turnscrew.web.counter.fields import AsShown, TextAsShown
from turnscrew.web.counter.forms import Reason


class WrittenOff(Reason):
    shown = AsShown(required=False)


class Billed(forms.Form):
    shown = TextAsShown(required=False)
    n_credits_shown = AsShown(required=False)

"""What can be entered about devices that are still to come?"""

from django import forms

from turnscrew.web.counter.fields import text
from turnscrew.web.counter.forms import Book


def _expected() -> forms.CharField:
    field = text("To come, and the workshop day each is promised for", rows=4)
    field.help_text = (
        "one sort a line, such as 40 V80 by day 4; one device by its number, such as "
        "SHN-0001 by day 4; without a day nothing can be promised"
    )
    return field


class Ahead(forms.Form):
    expected = _expected()


class BookAhead(Book):
    """A batch is booked with what is to come."""

    expected = _expected()
    field_order = ("name", "received", "expected", "terms")

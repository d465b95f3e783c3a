"""What was sent from one row of a list, so that a refused row shows it again?"""

from collections.abc import Mapping
from typing import Any

from django import forms, template

register = template.Library()

_WHICH = ("kind", "incident", "which", "part")
"""Hidden fields that tell the rows of a list apart."""


@register.filter
def sent_for(form: forms.Form | None, row: Any) -> Mapping[str, Any]:
    """Give what was sent for a row and refused; nothing for all the others."""
    if form is None or not form.is_bound:
        return {}
    which = next((form.data[one] for one in _WHICH if one in form.data), None)
    return form.data if which == str(row) else {}

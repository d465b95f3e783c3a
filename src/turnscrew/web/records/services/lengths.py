"""Which texts are longer than the records have room for?"""

from collections.abc import Mapping

from django.db.models import Model

_SAID = {"order_number": "order", "asset_number": "asset", "revision": "rev",
         "accessories_told": "acc", "taken_by": "signature",
         "tax_number": "tax number"}  # fmt: skip
"""What stands over a text where it is entered, if it is kept under another name."""


def too_long(kept: type[Model], texts: Mapping[str, str], where: str = "") -> list[str]:
    """
    Say of each text that it is too long for its column; SQLite alone would take it.

    The texts go by the names of their columns.
    """
    reasons = []
    for name, text in texts.items():
        most = getattr(kept._meta.get_field(name), "max_length", None)
        if most is not None and len(text) > most:
            at = f"{where}{_SAID.get(name, name)}"
            reasons.append(f"{at}: found {len(text)} characters, wanted at most {most}")
    return reasons

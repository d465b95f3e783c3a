"""
What was billed before stands as it was billed.

What is owed of a device that was closed up as it was, was refused, or went back as a
donor follows another rule since; an invoice that was sent follows the one of its day.
"""

from typing import Any

from django.db import migrations


def stand_as_billed(apps: Any, _: Any) -> None:
    """Mark every line of an invoice that is on record."""
    apps.get_model("records", "InvoiceLine").objects.update(is_by_older_rule=True)


def nothing(*_: Any) -> None:
    """Leave the marks: they say what was billed."""


class Migration(migrations.Migration):
    dependencies = [("records", "0016_sent_sheet")]

    operations = [migrations.RunPython(stand_as_billed, nothing)]

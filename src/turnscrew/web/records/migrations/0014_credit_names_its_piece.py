"""
Every credit names the piece of a donor that it is for.

Those written before stand as they were billed: they followed the last quote, agreed or
not, and no count of what was charged.
"""

from typing import Any

from django.db import migrations, models


def named_by_words(apps: Any, _: Any) -> None:
    """Find the piece of each credit by its words, else the first of its donor."""
    credits = apps.get_model("records", "InvoiceLine").objects.filter(net_minor__lt=0)
    credits.update(is_by_older_rule=True)
    for is_sure in (True, False):
        for line in credits.filter(credits=None).order_by("pk"):
            uses = apps.get_model("records", "Allotment").objects.filter(
                state="used", donor_part__donor__job=line.job_id, credit=None
            )
            for use in uses.select_related("part", "job").order_by("used_at", "pk"):
                where = f"used for device {use.job.line}"
                if (
                    not is_sure
                    or line.says == f"credit: {use.part.description}, {where}"
                ):
                    line.credits = use
                    line.save()
                    break


def nothing(*_: Any) -> None:
    """Leave the column to go by itself."""


class Migration(migrations.Migration):
    dependencies = [("records", "0013_comeback_settled")]

    operations = [
        migrations.AddField(
            model_name="invoiceline",
            name="credits",
            field=models.OneToOneField(
                blank=True,
                null=True,
                on_delete=models.PROTECT,
                related_name="credit",
                to="records.allotment",
            ),
        ),
        migrations.AddField(
            model_name="invoiceline",
            name="is_by_older_rule",
            field=models.BooleanField(default=False),
        ),
        migrations.RunPython(named_by_words, nothing),
    ]

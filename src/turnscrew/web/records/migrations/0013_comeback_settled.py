"""What the lead settled of a comeback is told from what was proposed."""

from typing import Any

from django.db import migrations, models


def settled_before(apps: Any, _: Any) -> None:
    """Find what was settled until now: a settling names no earlier job."""
    told = apps.get_model("records", "Entry").objects.filter(verb="comeback")
    is_settled = {
        one.subject: "earlier" not in one.facts for one in told.order_by("sequence")
    }
    settled = [ref for ref, is_one in is_settled.items() if is_one]
    jobs = apps.get_model("records", "Job").objects.filter(ref__in=settled)
    jobs.update(is_comeback_settled=True)


def nothing(*_: Any) -> None:
    """Leave the column to go by itself."""


class Migration(migrations.Migration):
    dependencies = [("records", "0012_written_yes")]

    operations = [
        migrations.AddField(
            model_name="historicaljob",
            name="is_comeback_settled",
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name="job",
            name="is_comeback_settled",
            field=models.BooleanField(default=False),
        ),
        migrations.RunPython(settled_before, nothing),
    ]

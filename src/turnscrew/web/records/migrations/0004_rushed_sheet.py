"""Final tests that were only ticked, and who looked into it."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0003_bench"),
    ]

    operations = [
        migrations.AddField(
            model_name="benchrun",
            name="rushed_s",
            field=models.FloatField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="benchrun",
            name="rushed_seen_by",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="records.person",
            ),
        ),
    ]

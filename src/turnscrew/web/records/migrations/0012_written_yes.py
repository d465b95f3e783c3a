"""A customer's yes in writing to what is crossed on the way in."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0011_how_it_reads"),
    ]

    operations = [
        migrations.CreateModel(
            name="WrittenYes",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("cover", models.CharField(max_length=120)),
                ("said_by", models.CharField(max_length=120)),
                ("said_on", models.DateField()),
                ("at", models.DateTimeField()),
                ("withdrawn_at", models.DateTimeField(blank=True, null=True)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="records.person"
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="written_yes",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("withdrawn_at", None)),
                        fields=("job", "cover"),
                        name="one_written_yes_for_each_cover",
                    )
                ],
            },
        ),
    ]

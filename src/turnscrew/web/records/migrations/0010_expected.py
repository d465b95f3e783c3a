import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0009_shelf"),
    ]

    operations = [
        migrations.CreateModel(
            name="Expected",
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
                ("model", models.CharField(blank=True, max_length=40)),
                ("number", models.CharField(blank=True, max_length=60)),
                ("n", models.PositiveIntegerField(default=1)),
                ("due_day", models.PositiveIntegerField(blank=True, null=True)),
                ("since", models.DateTimeField()),
                ("until", models.DateTimeField(blank=True, null=True)),
                (
                    "batch",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="expected",
                        to="records.batch",
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="Sighting",
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
                ("look", models.CharField(max_length=200)),
                ("shows", models.CharField(blank=True, max_length=200)),
                ("at", models.DateTimeField()),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.person",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="sightings",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
    ]

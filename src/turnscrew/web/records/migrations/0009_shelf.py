import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0008_arrival")]

    operations = [
        migrations.AddField(
            "knowngood", "key", models.CharField(blank=True, max_length=60)
        ),
        migrations.AddField(
            "historicalknowngood", "key", models.CharField(blank=True, max_length=60)
        ),
        migrations.CreateModel(
            name="PartFit",
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
                ("revision", models.CharField(blank=True, max_length=40)),
                ("position", models.CharField(blank=True, max_length=60)),
                ("claimed_by", models.CharField(blank=True, max_length=120)),
                ("claimed_on", models.DateField(blank=True, null=True)),
                ("fitted_on", models.DateField(blank=True, null=True)),
                (
                    "job",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="fits",
                        to="records.job",
                    ),
                ),
                (
                    "part",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="fits",
                        to="records.part",
                    ),
                ),
            ],
            options={"ordering": ["model", "revision", "position", "id"]},
        ),
        migrations.AddConstraint(
            "partfit",
            models.UniqueConstraint(
                fields=("part", "model", "revision", "position"),
                name="one_fit_each",
            ),
        ),
        migrations.AddField(
            "part", "retired_on", models.DateField(blank=True, null=True)
        ),
        migrations.AddField(
            "historicalpart", "retired_on", models.DateField(blank=True, null=True)
        ),
        migrations.AddField(
            "part", "is_sold_no_more", models.BooleanField(default=False)
        ),
        migrations.AddField(
            "historicalpart", "is_sold_no_more", models.BooleanField(default=False)
        ),
        migrations.AddField(
            "waste", "taken_back_on", models.DateField(blank=True, null=True)
        ),
    ]

"""A sheet sent twice is known on every server."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0015_absence_in_time"),
    ]

    operations = [
        migrations.CreateModel(
            name="SentSheet",
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
                ("digest", models.CharField(max_length=64, unique=True)),
                ("at", models.DateTimeField(db_index=True)),
                ("is_written", models.BooleanField(default=False)),
            ],
            options={
                "abstract": False,
            },
        ),
    ]

"""How lengths, decimal numbers and weeks are shown in this workshop."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0010_expected")]

    operations = [
        migrations.CreateModel(
            name="HowItReads",
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
                (
                    "lengths",
                    models.CharField(
                        choices=[
                            ("mm", "millimetres"),
                            ("inch", "millimetres, inches beside them"),
                        ],
                        default="mm",
                        max_length=8,
                    ),
                ),
                (
                    "sign",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("", "as the language has it"),
                            ("point", "point"),
                            ("comma", "comma"),
                        ],
                        default="",
                        max_length=8,
                    ),
                ),
                (
                    "week",
                    models.CharField(
                        choices=[
                            ("monday", "Monday"),
                            ("saturday", "Saturday"),
                            ("sunday", "Sunday"),
                        ],
                        default="monday",
                        max_length=8,
                    ),
                ),
            ],
            options={
                "verbose_name": "how figures read",
                "verbose_name_plural": "how figures read",
            },
        ),
    ]

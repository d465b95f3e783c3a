"""A day away knows when it was written and taken back."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0014_credit_names_its_piece")]

    operations = [
        migrations.AddField(
            model_name="absence",
            name="at",
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="absence",
            name="taken_back_at",
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.RemoveConstraint(model_name="absence", name="away_once_a_day"),
        migrations.AddConstraint(
            model_name="absence",
            constraint=models.UniqueConstraint(
                fields=["person", "day"],
                condition=models.Q(taken_back_at=None),
                name="away_once_a_day",
            ),
        ),
    ]

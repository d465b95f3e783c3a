"""Since when devices of a fleet are in service, which gives their ages."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0004_rushed_sheet"),
    ]

    operations = [
        migrations.AddField(
            model_name="fleet",
            name="in_service_on",
            field=models.DateField(blank=True, null=True),
        ),
    ]

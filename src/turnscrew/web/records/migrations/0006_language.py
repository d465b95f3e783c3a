"""The language in which somebody is spoken to."""

from django.db import migrations, models

LANGUAGE = {
    "choices": [("en", "English"), ("de", "Deutsch")],
    "default": "en",
    "max_length": 2,
}


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0005_in_service"),
    ]

    operations = [
        migrations.AddField(
            model_name=name,
            name="language",
            field=models.CharField(**LANGUAGE),
        )
        for name in ("person", "historicalperson")
    ]

from django.conf import settings
from django.db import migrations

from turnscrew.web.records.migrations.first_tables import (
    agreed,
    customers,
    devices,
    devices_past,
    journals,
    people,
    supply,
)


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    # Each speaks of those before it alone.
    operations = [
        *customers.OPERATIONS,
        *people.OPERATIONS,
        *devices.OPERATIONS,
        *devices_past.OPERATIONS,
        *agreed.OPERATIONS,
        *supply.OPERATIONS,
        *journals.OPERATIONS,
    ]

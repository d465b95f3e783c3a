"""Who brings devices, whom do we speak with there, and what do they run?"""

import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models

import turnscrew.web.records.models.reference

OPERATIONS = [
    migrations.CreateModel(
        name="Customer",
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
                "ref",
                models.CharField(
                    default=turnscrew.web.records.models.reference.new_ref,
                    editable=False,
                    max_length=16,
                    unique=True,
                ),
            ),
            ("name", models.CharField(max_length=200)),
            ("address", models.TextField(blank=True)),
            ("contract", models.CharField(blank=True, max_length=200)),
            ("tax_number", models.CharField(blank=True, max_length=40)),
            ("keep_months", models.PositiveIntegerField(default=36)),
            ("is_erased", models.BooleanField(default=False)),
        ],
        options={
            "ordering": ["name"],
        },
    ),
    migrations.CreateModel(
        name="Contact",
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
                "ref",
                models.CharField(
                    default=turnscrew.web.records.models.reference.new_ref,
                    editable=False,
                    max_length=16,
                    unique=True,
                ),
            ),
            ("name", models.CharField(max_length=120)),
            ("reach", models.CharField(blank=True, max_length=200)),
            (
                "customer",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="contacts",
                    to="records.customer",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
    migrations.CreateModel(
        name="Site",
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
            ("name", models.CharField(max_length=120)),
            (
                "customer",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="sites",
                    to="records.customer",
                ),
            ),
        ],
        options={
            "ordering": ["name"],
        },
    ),
    migrations.AddConstraint(
        model_name="site",
        constraint=models.UniqueConstraint(
            fields=("customer", "name"), name="one_site_a_name"
        ),
    ),
    migrations.CreateModel(
        name="Fleet",
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
            ("model", models.CharField(max_length=40)),
            ("n_devices", models.PositiveIntegerField()),
            ("counted_on", models.DateField()),
            (
                "customer",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="fleets",
                    to="records.customer",
                ),
            ),
            (
                "site",
                models.ForeignKey(
                    blank=True,
                    null=True,
                    on_delete=django.db.models.deletion.PROTECT,
                    to="records.site",
                ),
            ),
        ],
        options={
            "ordering": ["model", "counted_on"],
        },
    ),
    migrations.CreateModel(
        name="HistoricalCustomer",
        fields=[
            (
                "id",
                models.BigIntegerField(
                    auto_created=True, blank=True, db_index=True, verbose_name="ID"
                ),
            ),
            (
                "ref",
                models.CharField(
                    db_index=True,
                    default=turnscrew.web.records.models.reference.new_ref,
                    editable=False,
                    max_length=16,
                ),
            ),
            ("name", models.CharField(max_length=200)),
            ("address", models.TextField(blank=True)),
            ("contract", models.CharField(blank=True, max_length=200)),
            ("tax_number", models.CharField(blank=True, max_length=40)),
            ("keep_months", models.PositiveIntegerField(default=36)),
            ("is_erased", models.BooleanField(default=False)),
            ("history_id", models.AutoField(primary_key=True, serialize=False)),
            ("history_date", models.DateTimeField(db_index=True)),
            ("history_change_reason", models.CharField(max_length=100, null=True)),
            (
                "history_type",
                models.CharField(
                    choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")],
                    max_length=1,
                ),
            ),
            (
                "history_user",
                models.ForeignKey(
                    null=True,
                    on_delete=django.db.models.deletion.SET_NULL,
                    related_name="+",
                    to=settings.AUTH_USER_MODEL,
                ),
            ),
        ],
        options={
            "verbose_name": "historical customer",
            "verbose_name_plural": "historical customers",
            "ordering": ("-history_date", "-history_id"),
            "get_latest_by": ("history_date", "history_id"),
        },
        bases=(simple_history.models.HistoricalChanges, models.Model),
    ),
]

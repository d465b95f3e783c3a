"""How did a batch, a machine and a job stand earlier?"""

import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models

import turnscrew.web.records.models.reference

OPERATIONS = [
    migrations.CreateModel(
        name="HistoricalBatch",
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
            ("received", models.DateField()),
            ("order_number", models.CharField(blank=True, max_length=60)),
            ("contact", models.CharField(blank=True, max_length=120)),
            ("terms_text", models.TextField()),
            ("columns_text", models.TextField(blank=True)),
            ("donor_consent", models.CharField(blank=True, max_length=200)),
            ("closed_on", models.DateField(blank=True, null=True)),
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
                "customer",
                models.ForeignKey(
                    blank=True,
                    db_constraint=False,
                    null=True,
                    on_delete=django.db.models.deletion.DO_NOTHING,
                    related_name="+",
                    to="records.customer",
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
            "verbose_name": "historical batch",
            "verbose_name_plural": "historical batches",
            "ordering": ("-history_date", "-history_id"),
            "get_latest_by": ("history_date", "history_id"),
        },
        bases=(simple_history.models.HistoricalChanges, models.Model),
    ),
    migrations.CreateModel(
        name="HistoricalItem",
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
            ("serial", models.CharField(blank=True, db_index=True, max_length=60)),
            ("model", models.CharField(max_length=40)),
            ("revision", models.CharField(blank=True, max_length=40)),
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
                "customer",
                models.ForeignKey(
                    blank=True,
                    db_constraint=False,
                    null=True,
                    on_delete=django.db.models.deletion.DO_NOTHING,
                    related_name="+",
                    to="records.customer",
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
            "verbose_name": "historical item",
            "verbose_name_plural": "historical items",
            "ordering": ("-history_date", "-history_id"),
            "get_latest_by": ("history_date", "history_id"),
        },
        bases=(simple_history.models.HistoricalChanges, models.Model),
    ),
    migrations.CreateModel(
        name="HistoricalJob",
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
            ("line", models.PositiveIntegerField()),
            ("number", models.CharField(db_index=True, max_length=20)),
            (
                "asset_number",
                models.CharField(blank=True, db_index=True, max_length=60),
            ),
            ("model", models.CharField(max_length=40)),
            ("revision", models.CharField(blank=True, max_length=40)),
            ("serial", models.CharField(blank=True, max_length=60)),
            ("site", models.CharField(blank=True, max_length=120)),
            ("due_day", models.PositiveIntegerField(blank=True, null=True)),
            ("reported", models.TextField(blank=True)),
            ("accessories_told", models.CharField(blank=True, max_length=200)),
            ("data_class", models.CharField(blank=True, max_length=1)),
            ("data_decision", models.CharField(blank=True, max_length=200)),
            ("remarks", models.TextField(blank=True)),
            ("state", models.CharField(db_index=True, max_length=24)),
            ("main_state", models.CharField(default="received", max_length=24)),
            ("place", models.CharField(max_length=60)),
            ("holder", models.CharField(max_length=16)),
            ("waits_until", models.DateField(blank=True, null=True)),
            ("reason", models.CharField(blank=True, max_length=300)),
            ("closed_on", models.DateField(blank=True, null=True)),
            ("ended_as", models.CharField(blank=True, max_length=20)),
            ("parts_told", models.CharField(blank=True, max_length=300)),
            ("results_told", models.TextField(blank=True)),
            ("comeback_class", models.CharField(blank=True, max_length=8)),
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
                "batch",
                models.ForeignKey(
                    blank=True,
                    db_constraint=False,
                    null=True,
                    on_delete=django.db.models.deletion.DO_NOTHING,
                    related_name="+",
                    to="records.batch",
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
            (
                "item",
                models.ForeignKey(
                    blank=True,
                    db_constraint=False,
                    null=True,
                    on_delete=django.db.models.deletion.DO_NOTHING,
                    related_name="+",
                    to="records.item",
                ),
            ),
            (
                "comeback_of",
                models.ForeignKey(
                    blank=True,
                    db_constraint=False,
                    null=True,
                    on_delete=django.db.models.deletion.DO_NOTHING,
                    related_name="+",
                    to="records.job",
                ),
            ),
            (
                "tranche",
                models.ForeignKey(
                    blank=True,
                    db_constraint=False,
                    null=True,
                    on_delete=django.db.models.deletion.DO_NOTHING,
                    related_name="+",
                    to="records.tranche",
                ),
            ),
        ],
        options={
            "verbose_name": "historical job",
            "verbose_name_plural": "historical jobs",
            "ordering": ("-history_date", "-history_id"),
            "get_latest_by": ("history_date", "history_id"),
        },
        bases=(simple_history.models.HistoricalChanges, models.Model),
    ),
]

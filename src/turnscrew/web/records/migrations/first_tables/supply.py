"""Where do parts come from, and for whom do they lie?"""

import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models

import turnscrew.web.records.models.reference

OPERATIONS = [
    migrations.CreateModel(
        name="Donor",
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
            ("use", models.CharField(default="same customer", max_length=20)),
            ("consent", models.CharField(blank=True, max_length=200)),
            ("carcass_receipt", models.CharField(blank=True, max_length=120)),
        ],
    ),
    migrations.AddField(
        model_name="donor",
        name="job",
        field=models.OneToOneField(
            on_delete=django.db.models.deletion.PROTECT,
            related_name="donor",
            to="records.job",
        ),
    ),
    migrations.CreateModel(
        name="Part",
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
            ("number", models.CharField(max_length=40, unique=True)),
            ("description", models.CharField(max_length=200)),
            ("model", models.CharField(blank=True, max_length=40)),
            ("revisions", models.CharField(blank=True, max_length=80)),
            ("unit", models.CharField(default="piece", max_length=20)),
            ("cost_minor", models.PositiveBigIntegerField(blank=True, null=True)),
            ("lead_days", models.PositiveIntegerField(blank=True, null=True)),
            ("pack", models.PositiveIntegerField(default=1)),
            ("breaks", models.JSONField(default=list)),
            ("supplier", models.CharField(blank=True, max_length=120)),
            ("place", models.CharField(blank=True, max_length=60)),
            ("marks", models.CharField(blank=True, max_length=300)),
            ("reorder_point", models.PositiveIntegerField(default=0)),
            ("on_hand", models.IntegerField(default=0)),
            ("promised", models.PositiveIntegerField(default=0)),
            ("counted_on", models.DateField(blank=True, null=True)),
        ],
        options={
            "ordering": ["number"],
        },
    ),
    migrations.CreateModel(
        name="DonorPart",
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
            ("state", models.CharField(default="untested", max_length=10)),
            ("tested_how", models.CharField(blank=True, max_length=200)),
            (
                "donor",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="parts",
                    to="records.donor",
                ),
            ),
            (
                "part",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="+",
                    to="records.part",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
    migrations.CreateModel(
        name="LookAlike",
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
            ("tell", models.CharField(max_length=300)),
            (
                "parts",
                models.ManyToManyField(related_name="look_alikes", to="records.part"),
            ),
        ],
    ),
    migrations.CreateModel(
        name="KnownGood",
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
            ("what", models.CharField(max_length=120, unique=True)),
            ("fits", models.CharField(blank=True, max_length=120)),
            ("place", models.CharField(blank=True, max_length=60)),
            ("verified_on", models.DateField(blank=True, null=True)),
            ("verified_with", models.CharField(blank=True, max_length=200)),
            ("withdrawn_on", models.DateField(blank=True, null=True)),
        ],
        options={
            "ordering": ["what"],
        },
    ),
    migrations.CreateModel(
        name="OrderLine",
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
            ("n", models.PositiveIntegerField()),
            ("n_received", models.PositiveIntegerField(default=0)),
            ("n_rejected", models.PositiveIntegerField(default=0)),
            ("cost_minor", models.PositiveBigIntegerField(default=0)),
            ("supplier", models.CharField(blank=True, max_length=120)),
            ("ordered_on", models.DateField()),
            ("expected_on", models.DateField(blank=True, null=True)),
            (
                "batch",
                models.ForeignKey(
                    blank=True,
                    null=True,
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="orders",
                    to="records.batch",
                ),
            ),
            (
                "part",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="orders",
                    to="records.part",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
    migrations.CreateModel(
        name="Lot",
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
            ("name", models.CharField(max_length=60)),
            ("n", models.PositiveIntegerField()),
            ("marks_seen", models.CharField(blank=True, max_length=300)),
            ("outcome", models.CharField(max_length=20)),
            ("received_on", models.DateField()),
            (
                "order_line",
                models.ForeignKey(
                    blank=True,
                    null=True,
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="lots",
                    to="records.orderline",
                ),
            ),
            (
                "part",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="lots",
                    to="records.part",
                ),
            ),
        ],
        options={
            "ordering": ["-id"],
        },
    ),
    migrations.CreateModel(
        name="Allotment",
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
            ("state", models.CharField(max_length=10)),
            ("at", models.DateTimeField()),
            ("used_at", models.DateTimeField(blank=True, null=True)),
            (
                "donor_part",
                models.OneToOneField(
                    blank=True,
                    null=True,
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="allotment",
                    to="records.donorpart",
                ),
            ),
            (
                "job",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="allotments",
                    to="records.job",
                ),
            ),
            (
                "part",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="allotments",
                    to="records.part",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
            "indexes": [
                models.Index(
                    fields=["part", "state"], name="records_all_part_id_d17662_idx"
                )
            ],
        },
    ),
    migrations.CreateModel(
        name="HistoricalPart",
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
            ("number", models.CharField(db_index=True, max_length=40)),
            ("description", models.CharField(max_length=200)),
            ("model", models.CharField(blank=True, max_length=40)),
            ("revisions", models.CharField(blank=True, max_length=80)),
            ("unit", models.CharField(default="piece", max_length=20)),
            ("cost_minor", models.PositiveBigIntegerField(blank=True, null=True)),
            ("lead_days", models.PositiveIntegerField(blank=True, null=True)),
            ("pack", models.PositiveIntegerField(default=1)),
            ("breaks", models.JSONField(default=list)),
            ("supplier", models.CharField(blank=True, max_length=120)),
            ("place", models.CharField(blank=True, max_length=60)),
            ("marks", models.CharField(blank=True, max_length=300)),
            ("reorder_point", models.PositiveIntegerField(default=0)),
            ("counted_on", models.DateField(blank=True, null=True)),
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
            "verbose_name": "historical part",
            "verbose_name_plural": "historical parts",
            "ordering": ("-history_date", "-history_id"),
            "get_latest_by": ("history_date", "history_id"),
        },
        bases=(simple_history.models.HistoricalChanges, models.Model),
    ),
    migrations.CreateModel(
        name="HistoricalKnownGood",
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
            ("what", models.CharField(db_index=True, max_length=120)),
            ("fits", models.CharField(blank=True, max_length=120)),
            ("place", models.CharField(blank=True, max_length=60)),
            ("verified_on", models.DateField(blank=True, null=True)),
            ("verified_with", models.CharField(blank=True, max_length=200)),
            ("withdrawn_on", models.DateField(blank=True, null=True)),
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
            "verbose_name": "historical known good",
            "verbose_name_plural": "historical known goods",
            "ordering": ("-history_date", "-history_id"),
            "get_latest_by": ("history_date", "history_id"),
        },
        bases=(simple_history.models.HistoricalChanges, models.Model),
    ),
]

"""What came in, in which batch, with what beside it?"""

import django.db.models.deletion
from django.db import migrations, models

import turnscrew.web.records.models.reference

OPERATIONS = [
    migrations.CreateModel(
        name="Batch",
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
            ("received", models.DateField()),
            ("order_number", models.CharField(blank=True, max_length=60)),
            ("contact", models.CharField(blank=True, max_length=120)),
            ("terms_text", models.TextField()),
            ("columns_text", models.TextField(blank=True)),
            ("donor_consent", models.CharField(blank=True, max_length=200)),
            ("closed_on", models.DateField(blank=True, null=True)),
            (
                "customer",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="batches",
                    to="records.customer",
                ),
            ),
        ],
        options={
            "verbose_name_plural": "batches",
            "ordering": ["-received", "-id"],
        },
    ),
    migrations.CreateModel(
        name="Item",
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
            ("serial", models.CharField(blank=True, db_index=True, max_length=60)),
            ("model", models.CharField(max_length=40)),
            ("revision", models.CharField(blank=True, max_length=40)),
            (
                "customer",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="items",
                    to="records.customer",
                ),
            ),
        ],
        options={
            "abstract": False,
        },
    ),
    migrations.CreateModel(
        name="Asset",
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
            ("number", models.CharField(db_index=True, max_length=60)),
            ("since", models.DateField()),
            ("until", models.DateField(blank=True, null=True)),
            (
                "item",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="assets",
                    to="records.item",
                ),
            ),
        ],
        options={
            "ordering": ["since", "id"],
        },
    ),
    migrations.CreateModel(
        name="Job",
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
            ("line", models.PositiveIntegerField()),
            ("number", models.CharField(max_length=20, unique=True)),
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
            (
                "batch",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="jobs",
                    to="records.batch",
                ),
            ),
            (
                "comeback_of",
                models.ForeignKey(
                    blank=True,
                    null=True,
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="comebacks",
                    to="records.job",
                ),
            ),
            (
                "item",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="jobs",
                    to="records.item",
                ),
            ),
        ],
        options={
            "ordering": ["line"],
        },
    ),
    migrations.CreateModel(
        name="Tranche",
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
            ("handed_on", models.DateField()),
            ("taken_by", models.CharField(max_length=120)),
            ("note", models.TextField(blank=True)),
            (
                "batch",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="tranches",
                    to="records.batch",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
    migrations.AddField(
        model_name="job",
        name="tranche",
        field=models.ForeignKey(
            blank=True,
            null=True,
            on_delete=django.db.models.deletion.PROTECT,
            related_name="jobs",
            to="records.tranche",
        ),
    ),
    migrations.AddConstraint(
        model_name="job",
        constraint=models.UniqueConstraint(
            fields=("batch", "line"), name="one_job_a_line"
        ),
    ),
    migrations.CreateModel(
        name="ListedRow",
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
            ("row", models.PositiveIntegerField()),
            ("asset", models.CharField(blank=True, max_length=120)),
            ("serial", models.CharField(blank=True, max_length=120)),
            ("model", models.CharField(blank=True, max_length=120)),
            ("revision", models.CharField(blank=True, max_length=120)),
            ("site", models.CharField(blank=True, max_length=200)),
            ("since", models.DateTimeField()),
            ("until", models.DateTimeField(blank=True, null=True)),
            (
                "batch",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="listed",
                    to="records.batch",
                ),
            ),
        ],
        options={
            "ordering": ["row"],
        },
    ),
    migrations.CreateModel(
        name="Accessory",
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
            ("kind", models.CharField(max_length=60)),
            ("n_in", models.PositiveIntegerField(default=1)),
            ("n_out", models.PositiveIntegerField(default=0)),
            ("n_explained", models.PositiveIntegerField(default=0)),
            ("explanation", models.CharField(blank=True, max_length=200)),
            (
                "batch",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="accessories",
                    to="records.batch",
                ),
            ),
            (
                "job",
                models.ForeignKey(
                    blank=True,
                    null=True,
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="accessories",
                    to="records.job",
                ),
            ),
        ],
        options={
            "verbose_name_plural": "accessories",
            "ordering": ["id"],
        },
    ),
    migrations.CreateModel(
        name="DataPart",
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
            ("what", models.CharField(max_length=120)),
            ("serial", models.CharField(blank=True, max_length=60)),
            ("is_readable", models.BooleanField(default=True)),
            ("end", models.CharField(blank=True, max_length=10)),
            ("ended_on", models.DateField(blank=True, null=True)),
            ("verified_how", models.CharField(blank=True, max_length=200)),
            (
                "job",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="data_parts",
                    to="records.job",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
]

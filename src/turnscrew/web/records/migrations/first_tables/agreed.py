"""What was seen of a device, what was agreed on it, and what was charged?"""

import django.db.models.deletion
from django.db import migrations, models

import turnscrew.web.records.models.reference

OPERATIONS = [
    migrations.CreateModel(
        name="Finding",
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
                "stage",
                models.CharField(
                    choices=[
                        ("reported", "reported"),
                        ("seen", "seen"),
                        ("confirmed", "confirmed"),
                    ],
                    max_length=10,
                ),
            ),
            ("code", models.CharField(blank=True, max_length=40)),
            ("words", models.TextField(blank=True)),
            ("result", models.CharField(blank=True, max_length=60)),
            ("at", models.DateTimeField()),
            ("withdrawn_at", models.DateTimeField(blank=True, null=True)),
            (
                "job",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="findings",
                    to="records.job",
                ),
            ),
            (
                "by",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="+",
                    to="records.person",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
    migrations.CreateModel(
        name="Photo",
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
            ("at", models.DateTimeField()),
            ("caption", models.CharField(blank=True, max_length=200)),
            ("client_key", models.CharField(max_length=64, null=True, unique=True)),
            ("suffix", models.CharField(max_length=5)),
            ("sha256", models.CharField(max_length=64)),
            ("width_px", models.PositiveIntegerField()),
            ("height_px", models.PositiveIntegerField()),
            ("verdict", models.CharField(blank=True, max_length=60)),
            ("marks", models.JSONField(default=list)),
            ("masks", models.JSONField(default=list)),
            ("is_cleared", models.BooleanField(default=False)),
            ("is_removed", models.BooleanField(default=False)),
            (
                "by",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="+",
                    to="records.person",
                ),
            ),
            (
                "job",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="photos",
                    to="records.job",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
    migrations.CreateModel(
        name="ContactLink",
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
            ("made_at", models.DateTimeField()),
            ("expires_at", models.DateTimeField()),
            ("is_withdrawn", models.BooleanField(default=False)),
            (
                "batch",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="contact_links",
                    to="records.batch",
                ),
            ),
            (
                "made_by",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="+",
                    to="records.person",
                ),
            ),
        ],
        options={
            "ordering": ["-id"],
        },
    ),
    migrations.CreateModel(
        name="Quote",
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
            ("at", models.DateTimeField()),
            ("code", models.CharField(max_length=20)),
            ("reason", models.CharField(max_length=400)),
            ("quote_minor", models.BigIntegerField(null=True)),
            ("limit_minor", models.BigIntegerField(null=True)),
            ("charges", models.JSONField(default=list)),
            (
                "job",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="quotes",
                    to="records.job",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
    migrations.CreateModel(
        name="Approval",
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
            ("quote_minor", models.PositiveBigIntegerField()),
            ("asked_at", models.DateTimeField()),
            ("answer", models.CharField(blank=True, max_length=3)),
            ("answered_at", models.DateTimeField(blank=True, null=True)),
            ("answered_by", models.CharField(blank=True, max_length=120)),
            (
                "job",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="approvals",
                    to="records.job",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
    migrations.CreateModel(
        name="Signature",
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
            ("strokes", models.TextField(blank=True)),
            ("at", models.DateTimeField()),
            (
                "tranche",
                models.OneToOneField(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="signature",
                    to="records.tranche",
                ),
            ),
        ],
    ),
    migrations.CreateModel(
        name="Invoice",
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
            ("on", models.DateField()),
            ("due_on", models.DateField()),
            ("net_minor", models.BigIntegerField()),
            ("tax_minor", models.BigIntegerField()),
            ("owed_minor", models.BigIntegerField()),
            ("reminded_on", models.DateField(blank=True, null=True)),
            (
                "batch",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="invoices",
                    to="records.batch",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
    migrations.CreateModel(
        name="InvoiceLine",
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
            ("kind", models.CharField(max_length=10)),
            ("says", models.CharField(max_length=300)),
            ("n", models.IntegerField(default=1)),
            ("net_minor", models.BigIntegerField()),
            ("tax_minor", models.BigIntegerField(default=0)),
            (
                "invoice",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="lines",
                    to="records.invoice",
                ),
            ),
            (
                "job",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="invoice_lines",
                    to="records.job",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
    migrations.CreateModel(
        name="Payment",
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
            ("minor", models.PositiveBigIntegerField()),
            ("on", models.DateField()),
            ("how", models.CharField(max_length=60)),
            (
                "invoice",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="payments",
                    to="records.invoice",
                ),
            ),
        ],
        options={
            "ordering": ["id"],
        },
    ),
]

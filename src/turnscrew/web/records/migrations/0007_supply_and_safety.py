"""Returns to suppliers, waste, incidents, duties, and what corrects what."""

import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models

import turnscrew.web.records.models.reference


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0006_language"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddField(
            model_name="approval",
            name="corrects",
            field=models.OneToOneField(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="corrected_by",
                to="records.approval",
            ),
        ),
        migrations.AddField(
            model_name="donorpart",
            name="place",
            field=models.CharField(blank=True, max_length=60),
        ),
        migrations.AddField(
            model_name="historicalpart",
            name="is_free",
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name="part",
            name="is_free",
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name="historicaljob",
            name="data_allowed",
            field=models.CharField(blank=True, max_length=20),
        ),
        migrations.AddField(
            model_name="historicaljob",
            name="data_allowed_by",
            field=models.CharField(blank=True, max_length=120),
        ),
        migrations.AddField(
            model_name="historicaljob",
            name="data_allowed_until",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="job",
            name="data_allowed",
            field=models.CharField(blank=True, max_length=20),
        ),
        migrations.AddField(
            model_name="job",
            name="data_allowed_by",
            field=models.CharField(blank=True, max_length=120),
        ),
        migrations.AddField(
            model_name="job",
            name="data_allowed_until",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="lot",
            name="first_use",
            field=models.CharField(blank=True, max_length=10),
        ),
        migrations.AddField(
            model_name="lot",
            name="first_use_how",
            field=models.CharField(blank=True, max_length=200),
        ),
        migrations.AddField(
            model_name="lot",
            name="first_used_on",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="payment",
            name="taken_back_on",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.CreateModel(
            name="HistoricalDuty",
            fields=[
                (
                    "id",
                    models.BigIntegerField(
                        auto_created=True, blank=True, db_index=True, verbose_name="ID"
                    ),
                ),
                ("code", models.CharField(max_length=20)),
                ("answer", models.CharField(blank=True, max_length=3)),
                ("on", models.DateField(blank=True, null=True)),
                ("words", models.CharField(blank=True, max_length=300)),
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
                "verbose_name": "historical duty",
                "verbose_name_plural": "historical duties",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Incident",
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
                ("kind", models.CharField(max_length=20)),
                ("on", models.DateField()),
                ("what", models.CharField(max_length=300)),
                ("done", models.CharField(blank=True, max_length=300)),
                ("written_at", models.DateTimeField()),
                ("closed_on", models.DateField(blank=True, null=True)),
                ("learnt", models.CharField(blank=True, max_length=300)),
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
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="incidents",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ["-id"],
            },
        ),
        migrations.CreateModel(
            name="PackLog",
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
                ("pack", models.CharField(max_length=60)),
                ("event", models.CharField(max_length=20)),
                ("reading", models.CharField(blank=True, max_length=120)),
                ("place", models.CharField(blank=True, max_length=60)),
                ("at", models.DateTimeField()),
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
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="packs",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ["-id"],
            },
        ),
        migrations.CreateModel(
            name="SupplierReturn",
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
                ("stage", models.CharField(max_length=20)),
                ("reason", models.CharField(max_length=300)),
                ("evidence", models.CharField(blank=True, max_length=300)),
                ("asked", models.CharField(max_length=10)),
                ("expected_minor", models.PositiveBigIntegerField(default=0)),
                ("found_on", models.DateField()),
                ("deadline", models.DateField(blank=True, null=True)),
                ("sent_on", models.DateField(blank=True, null=True)),
                ("end", models.CharField(blank=True, max_length=20)),
                ("ended_on", models.DateField(blank=True, null=True)),
                ("credited_minor", models.PositiveBigIntegerField(default=0)),
                ("why_ended", models.CharField(blank=True, max_length=300)),
                (
                    "job",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="supplier_returns",
                        to="records.job",
                    ),
                ),
                (
                    "order_line",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="returns",
                        to="records.orderline",
                    ),
                ),
                (
                    "part",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="returns",
                        to="records.part",
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="PartPhoto",
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
                ("side", models.CharField(max_length=10)),
                ("is_known_good", models.BooleanField(default=False)),
                ("at", models.DateTimeField()),
                ("suffix", models.CharField(max_length=5)),
                ("sha256", models.CharField(max_length=64)),
                ("verdict", models.CharField(blank=True, max_length=60)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.person",
                    ),
                ),
                (
                    "lot",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="photos",
                        to="records.lot",
                    ),
                ),
                (
                    "part",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="photos",
                        to="records.part",
                    ),
                ),
                (
                    "supplier_return",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="photos",
                        to="records.supplierreturn",
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="Waste",
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
                ("kind", models.CharField(max_length=20)),
                ("what", models.CharField(blank=True, max_length=120)),
                ("model", models.CharField(blank=True, max_length=40)),
                ("mass_g", models.PositiveIntegerField()),
                ("is_weighed", models.BooleanField(default=True)),
                ("on", models.DateField()),
                ("gone_on", models.DateField(blank=True, null=True)),
                ("receiver", models.CharField(blank=True, max_length=120)),
                ("receipt", models.CharField(blank=True, max_length=120)),
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
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="waste",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "waste",
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="Duty",
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
                ("code", models.CharField(max_length=20)),
                ("answer", models.CharField(blank=True, max_length=3)),
                ("on", models.DateField(blank=True, null=True)),
                ("words", models.CharField(blank=True, max_length=300)),
                (
                    "customer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="duties",
                        to="records.customer",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "duties",
                "ordering": ["id"],
                "constraints": [
                    models.UniqueConstraint(
                        fields=("customer", "code"), name="one_duty_a_code"
                    )
                ],
            },
        ),
    ]

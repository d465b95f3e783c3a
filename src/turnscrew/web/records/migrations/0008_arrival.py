"""Adapters, trials, locks, finish, marks on arrival, and who looked at what."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0007_supply_and_safety")]

    operations = [
        migrations.AddField(
            model_name="customer",
            name="charge_high_percent",
            field=models.PositiveIntegerField(default=100),
        ),
        migrations.AddField(
            model_name="customer",
            name="charge_low_percent",
            field=models.PositiveIntegerField(default=60),
        ),
        migrations.AddField(
            model_name="finding",
            name="agrees",
            field=models.CharField(blank=True, max_length=12),
        ),
        migrations.AddField(
            model_name="finding",
            name="cause",
            field=models.CharField(blank=True, max_length=60),
        ),
        migrations.AddField(
            model_name="finding",
            name="mode",
            field=models.CharField(blank=True, max_length=60),
        ),
        migrations.AddField(
            model_name="finding",
            name="part",
            field=models.CharField(blank=True, max_length=60),
        ),
        migrations.AddField(
            model_name="historicalcustomer",
            name="charge_high_percent",
            field=models.PositiveIntegerField(default=100),
        ),
        migrations.AddField(
            model_name="historicalcustomer",
            name="charge_low_percent",
            field=models.PositiveIntegerField(default=60),
        ),
        migrations.AddField(
            model_name="historicaljob",
            name="again_seen_by",
            field=models.ForeignKey(
                blank=True,
                db_constraint=False,
                null=True,
                on_delete=django.db.models.deletion.DO_NOTHING,
                related_name="+",
                to="records.person",
            ),
        ),
        migrations.AddField(
            model_name="historicaljob",
            name="again_words",
            field=models.CharField(blank=True, max_length=300),
        ),
        migrations.AddField(
            model_name="historicaljob",
            name="gap_mm",
            field=models.DecimalField(
                blank=True, decimal_places=1, max_digits=4, null=True
            ),
        ),
        migrations.AddField(
            model_name="historicaljob",
            name="lock",
            field=models.CharField(blank=True, max_length=12),
        ),
        migrations.AddField(
            model_name="job",
            name="again_seen_by",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="records.person",
            ),
        ),
        migrations.AddField(
            model_name="job",
            name="again_words",
            field=models.CharField(blank=True, max_length=300),
        ),
        migrations.AddField(
            model_name="job",
            name="gap_mm",
            field=models.DecimalField(
                blank=True, decimal_places=1, max_digits=4, null=True
            ),
        ),
        migrations.AddField(
            model_name="job",
            name="lock",
            field=models.CharField(blank=True, max_length=12),
        ),
        migrations.AddField(
            model_name="photo",
            name="face",
            field=models.CharField(blank=True, max_length=20),
        ),
        migrations.CreateModel(
            name="AdapterCheck",
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
                ("piece", models.PositiveIntegerField(default=1)),
                ("belongs", models.CharField(max_length=10)),
                ("owner", models.CharField(blank=True, max_length=120)),
                ("is_label_read", models.BooleanField()),
                ("rated_mv", models.PositiveIntegerField(blank=True, null=True)),
                ("rated_ma", models.PositiveIntegerField(blank=True, null=True)),
                ("rated_mw", models.PositiveIntegerField(blank=True, null=True)),
                ("device_mv", models.PositiveIntegerField(blank=True, null=True)),
                ("device_ma", models.PositiveIntegerField(blank=True, null=True)),
                ("is_cable_whole", models.BooleanField()),
                ("output_mv", models.PositiveIntegerField(blank=True, null=True)),
                ("load_ma", models.PositiveIntegerField(blank=True, null=True)),
                ("low_mv", models.PositiveIntegerField(blank=True, null=True)),
                ("high_mv", models.PositiveIntegerField(blank=True, null=True)),
                ("next_on", models.DateField(blank=True, null=True)),
                ("cut_on", models.DateField(blank=True, null=True)),
                ("at", models.DateTimeField()),
                (
                    "accessory",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="checks",
                        to="records.accessory",
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
            name="ArrivalMark",
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
                ("face", models.CharField(max_length=20)),
                ("kind", models.CharField(max_length=20)),
                ("x_percent", models.PositiveIntegerField()),
                ("y_percent", models.PositiveIntegerField()),
                ("words", models.CharField(blank=True, max_length=120)),
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
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="arrival_marks",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="Finishing",
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
                ("surface", models.CharField(blank=True, max_length=40)),
                ("agent", models.CharField(blank=True, max_length=60)),
                ("marks_left", models.CharField(blank=True, max_length=300)),
                ("are_trims_right", models.BooleanField(blank=True, null=True)),
                ("charge_percent", models.PositiveIntegerField(blank=True, null=True)),
                ("on_charge_min", models.PositiveIntegerField(blank=True, null=True)),
                ("will_not_reach", models.BooleanField(default=False)),
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
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="finishings",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="LockRequest",
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
                ("asked_of", models.CharField(max_length=120)),
                ("asked_on", models.DateField()),
                ("due_on", models.DateField()),
                ("words", models.CharField(blank=True, max_length=300)),
                ("answered_on", models.DateField(blank=True, null=True)),
                ("answer", models.CharField(blank=True, max_length=300)),
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
                        related_name="lock_requests",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="Viewing",
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
                ("who", models.CharField(max_length=16)),
                ("what", models.CharField(max_length=10)),
                ("about", models.CharField(db_index=True, max_length=16)),
                ("hour", models.DateTimeField()),
            ],
            options={
                "ordering": ["-hour", "id"],
                "constraints": [
                    models.UniqueConstraint(
                        fields=("who", "what", "about", "hour"),
                        name="one_viewing_an_hour",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="Trial",
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
                ("planned_min", models.PositiveIntegerField()),
                ("load", models.CharField(max_length=120)),
                ("position", models.CharField(max_length=120)),
                ("temperature_c", models.IntegerField()),
                ("planned_at", models.DateTimeField()),
                ("ran_min", models.PositiveIntegerField(blank=True, null=True)),
                ("tried", models.CharField(blank=True, max_length=300)),
                ("result", models.CharField(blank=True, max_length=10)),
                ("words", models.CharField(blank=True, max_length=300)),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                (
                    "ended_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.person",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="trials",
                        to="records.job",
                    ),
                ),
                (
                    "planned_by",
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
            name="MissingPiece",
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
                ("kind", models.CharField(max_length=20)),
                ("n", models.PositiveIntegerField()),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="missing_pieces",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ["kind"],
                "constraints": [
                    models.UniqueConstraint(
                        fields=("job", "kind"), name="one_count_a_kind"
                    )
                ],
            },
        ),
    ]

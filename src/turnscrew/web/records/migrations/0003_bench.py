"""What happens at the bench: benches, descriptions, runs and strokes."""

import django.db.models.deletion
from django.db import migrations, models

import turnscrew.web.records.models.reference


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0002_journals_only_grow"),
    ]

    operations = [
        migrations.CreateModel(
            name="Bench",
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
                ("name", models.CharField(max_length=40, unique=True)),
                ("layer", models.CharField(blank=True, max_length=200)),
                ("seen_at", models.DateTimeField()),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.person",
                    ),
                ),
                (
                    "in_hand",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ["name"],
            },
        ),
        migrations.CreateModel(
            name="Description",
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
                ("model", models.CharField(db_index=True, max_length=40)),
                ("number", models.PositiveIntegerField()),
                ("text", models.TextField()),
                ("faults_text", models.TextField(blank=True)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("draft", "draft"),
                            ("tried by another", "tried by another"),
                            ("released", "released"),
                            ("withdrawn", "withdrawn"),
                        ],
                        default="draft",
                        max_length=16,
                    ),
                ),
                ("edited", models.JSONField(default=list)),
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
                    "may_try",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.person",
                    ),
                ),
                (
                    "released_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.person",
                    ),
                ),
                (
                    "tried_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.person",
                    ),
                ),
            ],
            options={
                "ordering": ["model", "number"],
            },
        ),
        migrations.CreateModel(
            name="BenchRun",
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
                ("number", models.PositiveIntegerField()),
                (
                    "kind",
                    models.CharField(
                        choices=[("path", "path"), ("recording", "recording")],
                        default="path",
                        max_length=10,
                    ),
                ),
                ("at", models.DateTimeField()),
                ("why", models.CharField(blank=True, max_length=300)),
                ("goal", models.JSONField(default=dict)),
                ("run", models.JSONField(default=dict)),
                ("drawings", models.JSONField(default=dict)),
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
                        related_name="runs",
                        to="records.job",
                    ),
                ),
                (
                    "description",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.description",
                    ),
                ),
            ],
            options={
                "ordering": ["job", "number"],
            },
        ),
        migrations.CreateModel(
            name="BenchStroke",
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
                ("client_key", models.CharField(max_length=64, unique=True)),
                ("bench", models.CharField(blank=True, max_length=40)),
                ("told_at", models.DateTimeField()),
                ("at", models.DateTimeField()),
                ("act", models.CharField(max_length=10)),
                ("line", models.PositiveIntegerField()),
                ("facts", models.JSONField(default=dict)),
                (
                    "standing",
                    models.CharField(
                        choices=[
                            ("held", "held"),
                            ("agreed", "agreed"),
                            ("disputed", "disputed"),
                            ("settled", "settled"),
                        ],
                        default="held",
                        max_length=8,
                    ),
                ),
                ("against", models.CharField(blank=True, max_length=300)),
                ("sequence", models.PositiveBigIntegerField(default=0)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.person",
                    ),
                ),
                (
                    "run",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="strokes",
                        to="records.benchrun",
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
                "indexes": [
                    models.Index(
                        fields=["run", "standing"], name="records_ben_run_id_472b31_idx"
                    )
                ],
            },
        ),
        migrations.AddConstraint(
            model_name="description",
            constraint=models.UniqueConstraint(
                fields=("model", "number"), name="one_version_a_number"
            ),
        ),
        migrations.AddConstraint(
            model_name="benchrun",
            constraint=models.UniqueConstraint(
                fields=("job", "number"), name="one_run_a_number"
            ),
        ),
    ]

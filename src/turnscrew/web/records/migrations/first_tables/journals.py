"""What is written for good, and what is checked for safety?"""

import django.db.models.deletion
from django.db import migrations, models

OPERATIONS = [
    migrations.CreateModel(
        name="Head",
        fields=[
            (
                "journal",
                models.CharField(max_length=8, primary_key=True, serialize=False),
            ),
            ("sequence", models.PositiveBigIntegerField(default=0)),
            ("digest", models.CharField(max_length=64)),
            ("at", models.DateTimeField(null=True)),
        ],
    ),
    migrations.CreateModel(
        name="Entry",
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
            ("journal", models.CharField(max_length=8)),
            ("sequence", models.PositiveBigIntegerField()),
            ("at", models.DateTimeField()),
            ("is_clock_doubtful", models.BooleanField(default=False)),
            ("author", models.CharField(blank=True, max_length=16)),
            ("verb", models.CharField(max_length=24)),
            ("subject", models.CharField(max_length=16)),
            ("facts", models.TextField(default="{}")),
            ("words_digest", models.CharField(blank=True, max_length=64)),
            ("corrects", models.PositiveBigIntegerField(default=0)),
            ("previous", models.CharField(max_length=64)),
            ("digest", models.CharField(max_length=64)),
        ],
        options={
            "ordering": ["journal", "sequence"],
            "indexes": [
                models.Index(
                    fields=["subject", "journal", "sequence"],
                    name="records_ent_subject_0461af_idx",
                )
            ],
            "constraints": [
                models.UniqueConstraint(
                    fields=("journal", "sequence"), name="one_entry_a_number"
                )
            ],
        },
    ),
    migrations.CreateModel(
        name="EntryWords",
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
            ("salt", models.CharField(max_length=32)),
            ("text", models.TextField()),
            (
                "entry",
                models.OneToOneField(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="words",
                    to="records.entry",
                ),
            ),
        ],
    ),
    migrations.CreateModel(
        name="SafetyKind",
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
            ("name", models.CharField(max_length=120, unique=True)),
            ("every_days", models.PositiveIntegerField()),
            ("how", models.CharField(blank=True, max_length=300)),
        ],
        options={
            "ordering": ["every_days", "name"],
        },
    ),
    migrations.CreateModel(
        name="SafetyCheck",
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
            ("on", models.DateField()),
            ("result", models.CharField(max_length=12)),
            ("reading", models.CharField(blank=True, max_length=120)),
            (
                "by",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="+",
                    to="records.person",
                ),
            ),
            (
                "kind",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="checks",
                    to="records.safetykind",
                ),
            ),
        ],
        options={
            "ordering": ["-on", "-id"],
        },
    ),
]

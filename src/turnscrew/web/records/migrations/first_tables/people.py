"""Who works here, what may they do, and how do they come in?"""

import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models

import turnscrew.web.records.models.reference

OPERATIONS = [
    migrations.CreateModel(
        name="Person",
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
            ("key", models.CharField(max_length=40, unique=True)),
            ("name", models.CharField(max_length=120)),
            (
                "rights",
                models.CharField(
                    choices=[
                        ("lead", "lead"),
                        ("helper", "helper"),
                        ("desk", "desk"),
                    ],
                    max_length=8,
                ),
            ),
            ("minutes_a_day", models.PositiveIntegerField(default=0)),
            ("pay_minor", models.PositiveIntegerField(default=0)),
            (
                "pace",
                models.DecimalField(decimal_places=2, default=1, max_digits=4),
            ),
            ("order", models.PositiveIntegerField(default=0)),
            ("has_left", models.BooleanField(default=False)),
            (
                "user",
                models.OneToOneField(
                    blank=True,
                    null=True,
                    on_delete=django.db.models.deletion.SET_NULL,
                    to=settings.AUTH_USER_MODEL,
                ),
            ),
        ],
        options={
            "ordering": ["order", "id"],
        },
    ),
    migrations.CreateModel(
        name="SignOff",
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
            ("skill", models.CharField(max_length=60)),
            ("on", models.DateField()),
            ("until", models.DateField(blank=True, null=True)),
            ("n_supervised", models.PositiveIntegerField(default=0)),
            ("n_left_over", models.PositiveIntegerField(default=0)),
            (
                "person",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="sign_offs",
                    to="records.person",
                ),
            ),
            (
                "signed_by",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="+",
                    to="records.person",
                ),
            ),
        ],
        options={
            "ordering": ["skill", "on"],
        },
    ),
    migrations.CreateModel(
        name="Absence",
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
            ("day", models.DateField()),
            (
                "person",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT,
                    related_name="absences",
                    to="records.person",
                ),
            ),
        ],
        options={
            "ordering": ["day"],
            "constraints": [
                models.UniqueConstraint(
                    fields=("person", "day"), name="away_once_a_day"
                )
            ],
        },
    ),
    migrations.CreateModel(
        name="ApiToken",
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
            ("name", models.CharField(max_length=60)),
            ("token_digest", models.CharField(max_length=64, unique=True)),
            ("scopes", models.CharField(max_length=200)),
            ("made_at", models.DateTimeField()),
            ("expires_at", models.DateTimeField(blank=True, null=True)),
            ("is_withdrawn", models.BooleanField(default=False)),
            (
                "person",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.CASCADE,
                    related_name="tokens",
                    to="records.person",
                ),
            ),
        ],
        options={
            "ordering": ["-id"],
        },
    ),
    migrations.CreateModel(
        name="SignInLink",
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
            ("token_digest", models.CharField(max_length=64, unique=True)),
            ("expires_at", models.DateTimeField()),
            ("used_at", models.DateTimeField(blank=True, null=True)),
            (
                "person",
                models.ForeignKey(
                    on_delete=django.db.models.deletion.CASCADE, to="records.person"
                ),
            ),
        ],
    ),
    migrations.CreateModel(
        name="HistoricalPerson",
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
            ("key", models.CharField(db_index=True, max_length=40)),
            ("name", models.CharField(max_length=120)),
            (
                "rights",
                models.CharField(
                    choices=[
                        ("lead", "lead"),
                        ("helper", "helper"),
                        ("desk", "desk"),
                    ],
                    max_length=8,
                ),
            ),
            ("minutes_a_day", models.PositiveIntegerField(default=0)),
            ("pay_minor", models.PositiveIntegerField(default=0)),
            (
                "pace",
                models.DecimalField(decimal_places=2, default=1, max_digits=4),
            ),
            ("order", models.PositiveIntegerField(default=0)),
            ("has_left", models.BooleanField(default=False)),
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
            (
                "user",
                models.ForeignKey(
                    blank=True,
                    db_constraint=False,
                    null=True,
                    on_delete=django.db.models.deletion.DO_NOTHING,
                    related_name="+",
                    to=settings.AUTH_USER_MODEL,
                ),
            ),
        ],
        options={
            "verbose_name": "historical person",
            "verbose_name_plural": "historical persons",
            "ordering": ("-history_date", "-history_id"),
            "get_latest_by": ("history_date", "history_id"),
        },
        bases=(simple_history.models.HistoricalChanges, models.Model),
    ),
    migrations.CreateModel(
        name="HistoricalSignOff",
        fields=[
            (
                "id",
                models.BigIntegerField(
                    auto_created=True, blank=True, db_index=True, verbose_name="ID"
                ),
            ),
            ("skill", models.CharField(max_length=60)),
            ("on", models.DateField()),
            ("until", models.DateField(blank=True, null=True)),
            ("n_supervised", models.PositiveIntegerField(default=0)),
            ("n_left_over", models.PositiveIntegerField(default=0)),
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
            (
                "person",
                models.ForeignKey(
                    blank=True,
                    db_constraint=False,
                    null=True,
                    on_delete=django.db.models.deletion.DO_NOTHING,
                    related_name="+",
                    to="records.person",
                ),
            ),
            (
                "signed_by",
                models.ForeignKey(
                    blank=True,
                    db_constraint=False,
                    null=True,
                    on_delete=django.db.models.deletion.DO_NOTHING,
                    related_name="+",
                    to="records.person",
                ),
            ),
        ],
        options={
            "verbose_name": "historical sign off",
            "verbose_name_plural": "historical sign offs",
            "ordering": ("-history_date", "-history_id"),
            "get_latest_by": ("history_date", "history_id"),
        },
        bases=(simple_history.models.HistoricalChanges, models.Model),
    ),
]

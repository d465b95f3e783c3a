from django.db import models

from turnscrew.web.records.models.job import Job
from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.person import Person
from turnscrew.web.records.models.reference import Referenced


class Description(Referenced):
    """One version of what is known of a model, and who may work from it."""

    DRAFT, TRIED, RELEASED, WITHDRAWN = (
        "draft", "tried by another", "released", "withdrawn",
    )  # fmt: skip
    STATES = [(s, s) for s in (DRAFT, TRIED, RELEASED, WITHDRAWN)]

    model = models.CharField(max_length=40, db_index=True)
    number = models.PositiveIntegerField()
    text = models.TextField()
    faults_text = models.TextField(blank=True)
    state = models.CharField(max_length=16, choices=STATES, default=DRAFT)
    # What was edited since somebody tried it, and is draft again by itself.
    edited = models.JSONField(default=list)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    # A lead lets one other person try a draft, alone and without questions.
    may_try = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="+"
    )
    tried_by = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="+"
    )
    released_by = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["model", "number"], name="one_version_a_number"
            )
        ]
        ordering = ["model", "number"]

    def __str__(self) -> str:
        return f"{self.model} {self.number}"


class BenchRun(Referenced):
    """All lines of work on one device from how it was when the run was made."""

    PATH, RECORDING = "path", "recording"
    KINDS = [(PATH, PATH), (RECORDING, RECORDING)]

    job = models.ForeignKey(Job, models.PROTECT, related_name="runs")
    number = models.PositiveIntegerField()
    kind = models.CharField(max_length=10, choices=KINDS, default=PATH)
    at = models.DateTimeField()
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    why = models.CharField(max_length=300, blank=True)
    description = models.ForeignKey(
        Description, models.PROTECT, null=True, blank=True, related_name="+"
    )
    goal = models.JSONField(default=dict)
    run = models.JSONField(default=dict)
    drawings = models.JSONField(default=dict)
    # Its final tests were only ticked, by the time they took; a lead looks into it.
    rushed_s = models.FloatField(null=True, blank=True)
    rushed_seen_by = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="one_run_a_number")
        ]
        ordering = ["job", "number"]

    def __str__(self) -> str:
        return f"{self.job} {self.number}"


class BenchStroke(Kept):
    """One thing told at a bench, kept once under the key the bench gave it."""

    HELD, AGREED, DISPUTED, SETTLED = "held", "agreed", "disputed", "settled"
    STANDINGS = [(s, s) for s in (HELD, AGREED, DISPUTED, SETTLED)]

    run = models.ForeignKey(BenchRun, models.PROTECT, related_name="strokes")
    client_key = models.CharField(max_length=64, unique=True)
    bench = models.CharField(max_length=40, blank=True)
    told_at = models.DateTimeField()
    at = models.DateTimeField()
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    act = models.CharField(max_length=10)
    line = models.PositiveIntegerField()
    facts = models.JSONField(default=dict)
    standing = models.CharField(max_length=8, choices=STANDINGS, default=HELD)
    against = models.CharField(max_length=300, blank=True)
    sequence = models.PositiveBigIntegerField(default=0)

    class Meta:
        ordering = ["id"]
        indexes = [models.Index(fields=["run", "standing"])]

    def __str__(self) -> str:
        return f"{self.act} {self.line}"


class Bench(Kept):
    """A bench and the device that was last chosen at it, for the camera beside it."""

    name = models.CharField(max_length=40, unique=True)
    in_hand = models.ForeignKey(
        Job, models.PROTECT, null=True, blank=True, related_name="+"
    )
    layer = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    seen_at = models.DateTimeField()

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name

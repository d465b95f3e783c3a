from django.db import models
from simple_history.models import HistoricalRecords

from turnscrew.web.records.models.batch import Batch, Tranche
from turnscrew.web.records.models.item import Item
from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.person import Person
from turnscrew.web.records.models.reference import Referenced


class Job(Referenced):
    """One piece of work on one device of a batch."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="jobs")
    item = models.ForeignKey(Item, models.PROTECT, related_name="jobs")
    line = models.PositiveIntegerField()
    number = models.CharField(max_length=20, unique=True)
    asset_number = models.CharField(max_length=60, blank=True, db_index=True)
    model = models.CharField(max_length=40)
    revision = models.CharField(max_length=40, blank=True)
    serial = models.CharField(max_length=60, blank=True)
    site = models.CharField(max_length=120, blank=True)
    due_day = models.PositiveIntegerField(null=True, blank=True)
    reported = models.TextField(blank=True)
    accessories_told = models.CharField(max_length=200, blank=True)
    data_class = models.CharField(max_length=1, blank=True)
    data_decision = models.CharField(max_length=200, blank=True)
    data_allowed = models.CharField(max_length=20, blank=True)
    data_allowed_by = models.CharField(max_length=120, blank=True)
    data_allowed_until = models.DateField(null=True, blank=True)
    remarks = models.TextField(blank=True)
    lock = models.CharField(max_length=12, blank=True)
    gap_mm = models.DecimalField(max_digits=4, decimal_places=1, null=True, blank=True)

    state = models.CharField(max_length=24, db_index=True)
    main_state = models.CharField(max_length=24, default="received")
    place = models.CharField(max_length=60)
    holder = models.CharField(max_length=16)
    waits_until = models.DateField(null=True, blank=True)
    reason = models.CharField(max_length=300, blank=True)
    tranche = models.ForeignKey(
        Tranche, models.PROTECT, null=True, blank=True, related_name="jobs"
    )
    closed_on = models.DateField(null=True, blank=True)
    ended_as = models.CharField(max_length=20, blank=True)
    parts_told = models.CharField(max_length=300, blank=True)
    results_told = models.TextField(blank=True)
    comeback_of = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="comebacks"
    )
    comeback_class = models.CharField(max_length=8, blank=True)
    is_comeback_settled = models.BooleanField(default=False)
    again_seen_by = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="+"
    )
    again_words = models.CharField(max_length=300, blank=True)
    history = HistoricalRecords()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["batch", "line"], name="one_job_a_line")
        ]
        ordering = ["line"]

    def __str__(self) -> str:
        return self.number


class Finding(Kept):
    """What was reported, seen or confirmed of a device."""

    REPORTED, SEEN, CONFIRMED = "reported", "seen", "confirmed"
    STAGES = [(REPORTED, "reported"), (SEEN, "seen"), (CONFIRMED, "confirmed")]

    job = models.ForeignKey(Job, models.PROTECT, related_name="findings")
    stage = models.CharField(max_length=10, choices=STAGES)
    code = models.CharField(max_length=40, blank=True)
    words = models.TextField(blank=True)
    result = models.CharField(max_length=60, blank=True)
    part = models.CharField(max_length=60, blank=True)
    mode = models.CharField(max_length=60, blank=True)
    cause = models.CharField(max_length=60, blank=True)
    agrees = models.CharField(max_length=12, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.stage}: {self.code or self.words}"


class Approval(Kept):
    """An answer asked for a device: pending, yes or no."""

    PENDING, YES, NO = "", "yes", "no"

    job = models.ForeignKey(Job, models.PROTECT, related_name="approvals")
    quote_minor = models.PositiveBigIntegerField()
    asked_at = models.DateTimeField()
    answer = models.CharField(max_length=3, blank=True)
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_by = models.CharField(max_length=120, blank=True)
    corrects = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="corrected_by"
    )

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.job}: {self.answer or 'pending'}"


class WrittenYes(Kept):
    """A customer's yes in writing to cross what stands in the way of a device."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="written_yes")
    cover = models.CharField(max_length=120)
    said_by = models.CharField(max_length=120)
    said_on = models.DateField()
    at = models.DateTimeField()
    by = models.ForeignKey(Person, models.PROTECT)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "cover"],
                condition=models.Q(withdrawn_at=None),
                name="one_written_yes_for_each_cover",
            )
        ]

    def __str__(self) -> str:
        return f"{self.job}: {self.cover}"

from django.db import models
from simple_history.models import HistoricalRecords

from turnscrew.web.records.models.batch import Batch
from turnscrew.web.records.models.job import Job
from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.reference import Referenced


class Part(Referenced):
    """A spare part or consumable item."""

    number = models.CharField(max_length=40, unique=True)
    description = models.CharField(max_length=200)
    model = models.CharField(max_length=40, blank=True)
    revisions = models.CharField(max_length=80, blank=True)
    unit = models.CharField(max_length=20, default="piece")
    cost_minor = models.PositiveBigIntegerField(null=True, blank=True)
    is_free = models.BooleanField(default=False)
    is_sold_no_more = models.BooleanField(default=False)
    lead_days = models.PositiveIntegerField(null=True, blank=True)
    pack = models.PositiveIntegerField(default=1)
    breaks = models.JSONField(default=list)
    supplier = models.CharField(max_length=120, blank=True)
    place = models.CharField(max_length=60, blank=True)
    marks = models.CharField(max_length=300, blank=True)
    reorder_point = models.PositiveIntegerField(default=0)
    on_hand = models.IntegerField(default=0)
    promised = models.PositiveIntegerField(default=0)
    counted_on = models.DateField(null=True, blank=True)
    retired_on = models.DateField(null=True, blank=True)
    history = HistoricalRecords(excluded_fields=["on_hand", "promised"])

    class Meta:
        ordering = ["number"]

    def __str__(self) -> str:
        return f"{self.number} {self.description}"

    @property
    def free(self) -> int:
        return max(0, self.on_hand - self.promised)

    @property
    def short(self) -> int:
        return max(0, self.promised - self.on_hand)


class PartFit(Kept):
    """What a part fits: a claim until it was fitted there once, then a fact."""

    part = models.ForeignKey(Part, models.PROTECT, related_name="fits")
    model = models.CharField(max_length=40, blank=True)
    revision = models.CharField(max_length=40, blank=True)
    position = models.CharField(max_length=60, blank=True)
    claimed_by = models.CharField(max_length=120, blank=True)
    claimed_on = models.DateField(null=True, blank=True)
    fitted_on = models.DateField(null=True, blank=True)
    job = models.ForeignKey(
        Job, models.PROTECT, null=True, blank=True, related_name="fits"
    )

    class Meta:
        ordering = ["model", "revision", "position", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["part", "model", "revision", "position"], name="one_fit_each"
            )
        ]

    def __str__(self) -> str:
        where = " ".join(filter(None, [self.model or "all models", self.revision]))
        return f"{where}, {self.position}" if self.position else where

    @property
    def is_fact(self) -> bool:
        """Say whether it was fitted there once; till then it is a claim."""
        return self.fitted_on is not None


class LookAlike(Kept):
    """Parts easily taken for one another."""

    parts = models.ManyToManyField(Part, related_name="look_alikes")
    tell = models.CharField(max_length=300)

    def __str__(self) -> str:
        return self.tell


class OrderLine(Referenced):
    """Pieces ordered, and how many of them came."""

    part = models.ForeignKey(Part, models.PROTECT, related_name="orders")
    batch = models.ForeignKey(
        Batch, models.PROTECT, null=True, blank=True, related_name="orders"
    )
    n = models.PositiveIntegerField()
    n_received = models.PositiveIntegerField(default=0)
    n_rejected = models.PositiveIntegerField(default=0)
    cost_minor = models.PositiveBigIntegerField(default=0)
    supplier = models.CharField(max_length=120, blank=True)
    ordered_on = models.DateField()
    expected_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.n} {self.part.number}"

    @property
    def n_open(self) -> int:
        return max(0, self.n - self.n_received - self.n_rejected)

    @property
    def is_called_off(self) -> bool:
        """Say whether it was set right to nothing; the line stays readable."""
        return self.n == 0


class Lot(Kept):
    """Pieces that came together and were compared with a known one."""

    TAKEN_BACK = "taken back"
    """The outcome of what never came: its receipt was written wrongly."""

    part = models.ForeignKey(Part, models.PROTECT, related_name="lots")
    order_line = models.ForeignKey(
        OrderLine, models.PROTECT, null=True, blank=True, related_name="lots"
    )
    name = models.CharField(max_length=60)
    n = models.PositiveIntegerField()
    marks_seen = models.CharField(max_length=300, blank=True)
    outcome = models.CharField(max_length=20)
    received_on = models.DateField()
    first_use = models.CharField(max_length=10, blank=True)
    first_used_on = models.DateField(null=True, blank=True)
    first_use_how = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-id"]

    def __str__(self) -> str:
        return self.name


class Allotment(Kept):
    """A piece meant for a job: promised, short, used or released."""

    PROMISED, SHORT, USED, RELEASED = "promised", "short", "used", "released"

    part = models.ForeignKey(Part, models.PROTECT, related_name="allotments")
    job = models.ForeignKey(Job, models.PROTECT, related_name="allotments")
    state = models.CharField(max_length=10)
    donor_part = models.OneToOneField(
        "DonorPart", models.PROTECT, null=True, blank=True, related_name="allotment"
    )
    at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["id"]
        indexes = [models.Index(fields=["part", "state"])]

    def __str__(self) -> str:
        return f"{self.part.number} for {self.job}: {self.state}"


class Donor(Kept):
    """A device taken apart for its parts; it belongs to its customer."""

    job = models.OneToOneField(Job, models.PROTECT, related_name="donor")
    use = models.CharField(max_length=20, default="same customer")
    consent = models.CharField(max_length=200, blank=True)
    carcass_receipt = models.CharField(max_length=120, blank=True)

    def __str__(self) -> str:
        return f"donor {self.job}"

    @property
    def is_spent(self) -> bool:
        """Say whether none of its parts is useful any more."""
        gone = {DonorPart.USED, DonorPart.BAD, DonorPart.WITHDRAWN}
        return all(part.state in gone for part in self.parts.all())


class DonorPart(Kept):
    """One part of a donor."""

    UNTESTED, GOOD, USED, BAD = "untested", "good", "used", "bad"
    # What was found on the donor since spoils it.
    WITHDRAWN = "withdrawn"

    donor = models.ForeignKey(Donor, models.PROTECT, related_name="parts")
    part = models.ForeignKey(Part, models.PROTECT, related_name="+")
    state = models.CharField(max_length=10, default=UNTESTED)
    tested_how = models.CharField(max_length=200, blank=True)
    place = models.CharField(max_length=60, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.part.number}: {self.state}"


class KnownGood(Referenced):
    """Something known to be good, to swap in for a test."""

    what = models.CharField(max_length=120, unique=True)
    fits = models.CharField(max_length=120, blank=True)
    place = models.CharField(max_length=60, blank=True)
    key = models.CharField(max_length=60, blank=True)
    verified_on = models.DateField(null=True, blank=True)
    verified_with = models.CharField(max_length=200, blank=True)
    withdrawn_on = models.DateField(null=True, blank=True)
    history = HistoricalRecords()

    class Meta:
        ordering = ["what"]

    def __str__(self) -> str:
        return self.what

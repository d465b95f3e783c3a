from django.db import models
from simple_history.models import HistoricalRecords

from turnscrew.web.records.models.customer import Customer
from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.reference import Referenced


class Batch(Referenced):
    """Devices received together, with the terms they are mended under."""

    customer = models.ForeignKey(Customer, models.PROTECT, related_name="batches")
    name = models.CharField(max_length=200)
    received = models.DateField()
    order_number = models.CharField(max_length=60, blank=True)
    contact = models.CharField(max_length=120, blank=True)
    terms_text = models.TextField()
    columns_text = models.TextField(blank=True)
    donor_consent = models.CharField(max_length=200, blank=True)
    closed_on = models.DateField(null=True, blank=True)
    history = HistoricalRecords()

    class Meta:
        ordering = ["-received", "-id"]
        verbose_name_plural = "batches"

    def __str__(self) -> str:
        return self.name


class Tranche(Referenced):
    """Part of a batch given back together."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="tranches")
    handed_on = models.DateField()
    taken_by = models.CharField(max_length=120)
    note = models.TextField(blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.batch} {self.handed_on}"


class ListedRow(Kept):
    """One row of the customer's own list, its text kept exactly."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="listed")
    row = models.PositiveIntegerField()
    asset = models.CharField(max_length=120, blank=True)
    serial = models.CharField(max_length=120, blank=True)
    model = models.CharField(max_length=120, blank=True)
    revision = models.CharField(max_length=120, blank=True)
    site = models.CharField(max_length=200, blank=True)
    since = models.DateTimeField()
    until = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["row"]

    def __str__(self) -> str:
        return f"row {self.row}"


class Expected(Kept):
    """Devices that are to come with a batch, and the day they are promised for."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="expected")
    model = models.CharField(max_length=40, blank=True)
    number = models.CharField(max_length=60, blank=True)
    n = models.PositiveIntegerField(default=1)
    due_day = models.PositiveIntegerField(null=True, blank=True)
    since = models.DateTimeField()
    until = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.n} {self.model or self.number}"

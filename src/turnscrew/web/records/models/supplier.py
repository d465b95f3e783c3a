from datetime import date

from django.db import models

from turnscrew.web.records.models.job import Job
from turnscrew.web.records.models.part import Lot, OrderLine, Part
from turnscrew.web.records.models.person import Person
from turnscrew.web.records.models.reference import Referenced


class SupplierReturn(Referenced):
    """Faulty pieces of a part that go back to the supplier, until credit or loss."""

    CREDITED, EXCHANGED, WRITTEN_OFF = "credited", "exchanged", "written off"
    TAKEN_BACK = "taken back"

    part = models.ForeignKey(Part, models.PROTECT, related_name="returns")
    order_line = models.ForeignKey(
        OrderLine, models.PROTECT, null=True, blank=True, related_name="returns"
    )
    job = models.ForeignKey(
        Job, models.PROTECT, null=True, blank=True, related_name="supplier_returns"
    )
    n = models.PositiveIntegerField()
    stage = models.CharField(max_length=20)
    reason = models.CharField(max_length=300)
    evidence = models.CharField(max_length=300, blank=True)
    asked = models.CharField(max_length=10)
    expected_minor = models.PositiveBigIntegerField(default=0)
    found_on = models.DateField()
    deadline = models.DateField(null=True, blank=True)
    sent_on = models.DateField(null=True, blank=True)
    end = models.CharField(max_length=20, blank=True)
    ended_on = models.DateField(null=True, blank=True)
    credited_minor = models.PositiveBigIntegerField(default=0)
    why_ended = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.n} {self.part.number}: {self.end or 'open'}"

    def is_lost(self, today: date) -> bool:
        """Say whether its day passed without credit, exchange or a written end."""
        return not self.end and self.deadline is not None and self.deadline < today


class PartPhoto(Referenced):
    """A photo of a part: a known one to compare with, or one that came."""

    FRONT, BACK, FAULT = "front", "back", "fault"
    SIDES = (FRONT, BACK, FAULT)

    part = models.ForeignKey(Part, models.PROTECT, related_name="photos")
    lot = models.ForeignKey(
        Lot, models.PROTECT, null=True, blank=True, related_name="photos"
    )
    supplier_return = models.ForeignKey(
        SupplierReturn, models.PROTECT, null=True, blank=True, related_name="photos"
    )
    side = models.CharField(max_length=10)
    is_known_good = models.BooleanField(default=False)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    suffix = models.CharField(max_length=5)
    sha256 = models.CharField(max_length=64)
    verdict = models.CharField(max_length=60, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.part.number}: {self.side}"

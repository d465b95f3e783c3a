from django.db import models
from simple_history.models import HistoricalRecords

from turnscrew.web.records.models.customer import Customer
from turnscrew.web.records.models.reference import Referenced


class Item(Referenced):
    """One body: a device that comes, goes and comes again."""

    customer = models.ForeignKey(Customer, models.PROTECT, related_name="items")
    serial = models.CharField(max_length=60, blank=True, db_index=True)
    model = models.CharField(max_length=40)
    revision = models.CharField(max_length=40, blank=True)
    history = HistoricalRecords()

    def __str__(self) -> str:
        return f"{self.model} {self.revision} {self.serial}".replace("  ", " ")

from django.db import models
from simple_history.models import HistoricalRecords

from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.reference import Referenced


class Customer(Referenced):
    """An institution whose devices are mended."""

    name = models.CharField(max_length=200)
    address = models.TextField(blank=True)
    contract = models.CharField(max_length=200, blank=True)
    tax_number = models.CharField(max_length=40, blank=True)
    keep_months = models.PositiveIntegerField(default=36)
    charge_low_percent = models.PositiveIntegerField(default=60)
    charge_high_percent = models.PositiveIntegerField(default=100)
    is_erased = models.BooleanField(default=False)
    history = HistoricalRecords()

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Contact(Referenced):
    """Who answers questions for a customer."""

    customer = models.ForeignKey(Customer, models.PROTECT, related_name="contacts")
    name = models.CharField(max_length=120)
    reach = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return self.name


class Site(Kept):
    """A place of a customer."""

    customer = models.ForeignKey(Customer, models.PROTECT, related_name="sites")
    name = models.CharField(max_length=120)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["customer", "name"], name="one_site_a_name")
        ]
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Fleet(Kept):
    """How many devices of a model a customer has."""

    customer = models.ForeignKey(Customer, models.PROTECT, related_name="fleets")
    model = models.CharField(max_length=40)
    site = models.ForeignKey(Site, models.PROTECT, null=True, blank=True)
    n_devices = models.PositiveIntegerField()
    in_service_on = models.DateField(null=True, blank=True)
    counted_on = models.DateField()

    class Meta:
        ordering = ["model", "counted_on"]

    def __str__(self) -> str:
        return f"{self.n_devices} {self.model}"


class Asset(Kept):
    """An owner's number on a body, as long as it was there."""

    item = models.ForeignKey("records.Item", models.PROTECT, related_name="assets")
    number = models.CharField(max_length=60, db_index=True)
    since = models.DateField()
    until = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["since", "id"]

    def __str__(self) -> str:
        return self.number


class Duty(Kept):
    """One duty of whoever handles a customer's data, and how it stands."""

    customer = models.ForeignKey(Customer, models.PROTECT, related_name="duties")
    code = models.CharField(max_length=20)
    answer = models.CharField(max_length=3, blank=True)
    on = models.DateField(null=True, blank=True)
    words = models.CharField(max_length=300, blank=True)
    history = HistoricalRecords()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["customer", "code"], name="one_duty_a_code")
        ]
        ordering = ["id"]
        verbose_name_plural = "duties"

    def __str__(self) -> str:
        return f"{self.code}: {self.answer or 'not answered'}"

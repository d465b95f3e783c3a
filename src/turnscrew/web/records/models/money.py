from django.db import models

from turnscrew.web.records.models.batch import Batch
from turnscrew.web.records.models.job import Job
from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.part import Allotment
from turnscrew.web.records.models.reference import Referenced


class Quote(Kept):
    """What was decided and quoted for a device, as it stood then."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="quotes")
    at = models.DateTimeField()
    code = models.CharField(max_length=20)
    reason = models.CharField(max_length=400)
    quote_minor = models.BigIntegerField(null=True)
    limit_minor = models.BigIntegerField(null=True)
    charges = models.JSONField(default=list)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.job}: {self.code}"


class Invoice(Referenced):
    """What a customer owes for the devices of a batch."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="invoices")
    number = models.CharField(max_length=40, unique=True)
    on = models.DateField()
    due_on = models.DateField()
    net_minor = models.BigIntegerField()
    tax_minor = models.BigIntegerField()
    owed_minor = models.BigIntegerField()
    reminded_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return self.number

    @property
    def total_minor(self) -> int:
        return self.net_minor + self.tax_minor


class InvoiceLine(Kept):
    """One line of an invoice: one charge or credit for one device."""

    invoice = models.ForeignKey(Invoice, models.PROTECT, related_name="lines")
    job = models.ForeignKey(Job, models.PROTECT, related_name="invoice_lines")
    kind = models.CharField(max_length=10)
    says = models.CharField(max_length=300)
    n = models.IntegerField(default=1)
    net_minor = models.BigIntegerField()
    tax_minor = models.BigIntegerField(default=0)
    # A piece of a donor is credited once, whatever its part is called by then.
    credits = models.OneToOneField(
        Allotment, models.PROTECT, null=True, blank=True, related_name="credit"
    )
    is_by_older_rule = models.BooleanField(default=False)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return self.says


class Payment(Kept):
    """Money that came in for an invoice."""

    invoice = models.ForeignKey(Invoice, models.PROTECT, related_name="payments")
    minor = models.PositiveBigIntegerField()
    on = models.DateField()
    how = models.CharField(max_length=60)
    taken_back_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.minor} {self.how}"

from django.db import models

from turnscrew.web.records.models.batch import Batch, Tranche
from turnscrew.web.records.models.job import Job
from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.reference import Referenced


class Accessory(Kept):
    """What came with a device, or with a batch and nobody knows with which."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="accessories")
    job = models.ForeignKey(
        Job, models.PROTECT, null=True, blank=True, related_name="accessories"
    )
    kind = models.CharField(max_length=60)
    n_in = models.PositiveIntegerField(default=1)
    n_out = models.PositiveIntegerField(default=0)
    n_explained = models.PositiveIntegerField(default=0)
    explanation = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "accessories"

    def __str__(self) -> str:
        return self.kind

    @property
    def n_here(self) -> int:
        return self.n_in - self.n_out - self.n_explained


class DataPart(Referenced):
    """A part that holds data and has left, or will leave, its device."""

    ENDS = ["returned", "cleared", "purged", "destroyed"]
    KEPT_IN = "kept in"
    """The end of what was listed wrongly: it never came out of its device."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="data_parts")
    what = models.CharField(max_length=120)
    serial = models.CharField(max_length=60, blank=True)
    is_readable = models.BooleanField(default=True)
    end = models.CharField(max_length=10, blank=True)
    ended_on = models.DateField(null=True, blank=True)
    verified_how = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.what}: {self.end or 'no end yet'}"


class Signature(Kept):
    """Who signed for a tranche: a name typed, or strokes drawn."""

    tranche = models.OneToOneField(Tranche, models.PROTECT, related_name="signature")
    name = models.CharField(max_length=120)
    strokes = models.TextField(blank=True)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return self.name

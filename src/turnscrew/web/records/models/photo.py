from django.db import models

from turnscrew.web.records.models.job import Job
from turnscrew.web.records.models.person import Person
from turnscrew.web.records.models.reference import Referenced


class Photo(Referenced):
    """A photo of a device; the original stays as it came, less its place."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="photos")
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    caption = models.CharField(max_length=200, blank=True)
    face = models.CharField(max_length=20, blank=True)
    client_key = models.CharField(max_length=64, unique=True, null=True)
    suffix = models.CharField(max_length=5)
    sha256 = models.CharField(max_length=64)
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    verdict = models.CharField(max_length=60, blank=True)
    marks = models.JSONField(default=list)
    masks = models.JSONField(default=list)
    is_cleared = models.BooleanField(default=False)
    is_removed = models.BooleanField(default=False)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return self.ref

from django.db import models

from turnscrew.web.records.models.job import Job
from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.person import Person
from turnscrew.web.records.models.reference import Referenced


class SafetyKind(Kept):
    """Something that must be looked at again and again."""

    name = models.CharField(max_length=120, unique=True)
    every_days = models.PositiveIntegerField()
    how = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["every_days", "name"]

    def __str__(self) -> str:
        return self.name


class SafetyCheck(Kept):
    """One look at it, on the day it was made."""

    kind = models.ForeignKey(SafetyKind, models.PROTECT, related_name="checks")
    on = models.DateField()
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    result = models.CharField(max_length=12)
    reading = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["-on", "-id"]

    def __str__(self) -> str:
        return f"{self.kind}: {self.result}"


class Incident(Referenced):
    """Something that hurt, or might have hurt, somebody or their data."""

    kind = models.CharField(max_length=20)
    on = models.DateField()
    job = models.ForeignKey(
        Job, models.PROTECT, null=True, blank=True, related_name="incidents"
    )
    what = models.CharField(max_length=300)
    done = models.CharField(max_length=300, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    written_at = models.DateTimeField()
    closed_on = models.DateField(null=True, blank=True)
    learnt = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-id"]

    def __str__(self) -> str:
        return f"{self.kind} {self.on}"


class PackLog(Kept):
    """One line of the log of packs: what was seen of one, and where it lies."""

    pack = models.CharField(max_length=60)
    job = models.ForeignKey(
        Job, models.PROTECT, null=True, blank=True, related_name="packs"
    )
    event = models.CharField(max_length=20)
    reading = models.CharField(max_length=120, blank=True)
    place = models.CharField(max_length=60, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["-id"]

    def __str__(self) -> str:
        return f"{self.pack}: {self.event}"

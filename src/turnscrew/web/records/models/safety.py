from django.db import models

from turnscrew.web.records.models.person import Person


class SafetyKind(models.Model):
    """Something that must be looked at again and again."""

    name = models.CharField(max_length=120, unique=True)
    every_days = models.PositiveIntegerField()
    how = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["every_days", "name"]

    def __str__(self) -> str:
        return self.name


class SafetyCheck(models.Model):
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

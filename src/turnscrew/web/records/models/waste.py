from django.db import models

from turnscrew.web.records.models.job import Job
from turnscrew.web.records.models.person import Person
from turnscrew.web.records.models.reference import Referenced


class Waste(Referenced):
    """Something thrown away: what, how heavy, from which job, and who took it."""

    job = models.ForeignKey(
        Job, models.PROTECT, null=True, blank=True, related_name="waste"
    )
    kind = models.CharField(max_length=20)
    what = models.CharField(max_length=120, blank=True)
    model = models.CharField(max_length=40, blank=True)
    mass_g = models.PositiveIntegerField()
    is_weighed = models.BooleanField(default=True)
    on = models.DateField()
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    gone_on = models.DateField(null=True, blank=True)
    receiver = models.CharField(max_length=120, blank=True)
    receipt = models.CharField(max_length=120, blank=True)
    taken_back_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "waste"

    def __str__(self) -> str:
        return f"{self.kind} {self.mass_g} g"

from django.conf import settings
from django.db import models
from simple_history.models import HistoricalRecords

from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.reference import Referenced


class Person(Referenced):
    """Somebody who works here."""

    LEAD, HELPER, DESK = "lead", "helper", "desk"
    LANGUAGES = [("en", "English"), ("de", "Deutsch")]
    RIGHTS = [(LEAD, "lead"), (HELPER, "helper"), (DESK, "desk")]

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True
    )
    key = models.CharField(max_length=40, unique=True)
    name = models.CharField(max_length=120)
    rights = models.CharField(max_length=8, choices=RIGHTS)
    minutes_a_day = models.PositiveIntegerField(default=0)
    pay_minor = models.PositiveIntegerField(default=0)
    pace = models.DecimalField(max_digits=4, decimal_places=2, default=1)
    order = models.PositiveIntegerField(default=0)
    has_left = models.BooleanField(default=False)
    language = models.CharField(max_length=2, choices=LANGUAGES, default="en")
    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "id"]

    def __str__(self) -> str:
        return self.name


class SignOff(Kept):
    """A skill somebody may use alone, with the one who signed for it."""

    person = models.ForeignKey(Person, models.PROTECT, related_name="sign_offs")
    skill = models.CharField(max_length=60)
    signed_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    on = models.DateField()
    until = models.DateField(null=True, blank=True)
    n_supervised = models.PositiveIntegerField(default=0)
    n_left_over = models.PositiveIntegerField(default=0)
    history = HistoricalRecords()

    class Meta:
        ordering = ["skill", "on"]

    def __str__(self) -> str:
        return f"{self.person}: {self.skill}"


class Absence(Kept):
    """A day somebody is away; one taken back stays, as plans were made by it."""

    person = models.ForeignKey(Person, models.PROTECT, related_name="absences")
    day = models.DateField()
    at = models.DateTimeField(null=True, blank=True)
    taken_back_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["person", "day"],
                condition=models.Q(taken_back_at=None),
                name="away_once_a_day",
            )
        ]
        ordering = ["day"]

    def __str__(self) -> str:
        return f"{self.person} {self.day}"

from django.db import models

from turnscrew.web.records.models.handover import Accessory
from turnscrew.web.records.models.job import Job
from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.person import Person


class AdapterCheck(Kept):
    """One check of an adapter: a look and a reading; the newest of a piece counts."""

    accessory = models.ForeignKey(Accessory, models.PROTECT, related_name="checks")
    piece = models.PositiveIntegerField(default=1)
    belongs = models.CharField(max_length=10)
    owner = models.CharField(max_length=120, blank=True)
    is_label_read = models.BooleanField()
    rated_mv = models.PositiveIntegerField(null=True, blank=True)
    rated_ma = models.PositiveIntegerField(null=True, blank=True)
    rated_mw = models.PositiveIntegerField(null=True, blank=True)
    device_mv = models.PositiveIntegerField(null=True, blank=True)
    device_ma = models.PositiveIntegerField(null=True, blank=True)
    is_cable_whole = models.BooleanField()
    output_mv = models.PositiveIntegerField(null=True, blank=True)
    load_ma = models.PositiveIntegerField(null=True, blank=True)
    low_mv = models.PositiveIntegerField(null=True, blank=True)
    high_mv = models.PositiveIntegerField(null=True, blank=True)
    next_on = models.DateField(null=True, blank=True)
    cut_on = models.DateField(null=True, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.accessory}, piece {self.piece}"


class Trial(Kept):
    """A device left to work for hours, to see whether a fault shows itself."""

    SHOWN, NOT_SHOWN, BROKEN_OFF = "shown", "not shown", "broken off"

    job = models.ForeignKey(Job, models.PROTECT, related_name="trials")
    planned_min = models.PositiveIntegerField()
    load = models.CharField(max_length=120)
    position = models.CharField(max_length=120)
    temperature_c = models.IntegerField()
    planned_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    planned_at = models.DateTimeField()
    ran_min = models.PositiveIntegerField(null=True, blank=True)
    tried = models.CharField(max_length=300, blank=True)
    result = models.CharField(max_length=10, blank=True)
    words = models.CharField(max_length=300, blank=True)
    ended_by = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="+"
    )
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.job}: {self.result or 'not ended'}"


class LockRequest(Kept):
    """What was asked of the customer's administrator, and until which day."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="lock_requests")
    asked_of = models.CharField(max_length=120)
    asked_on = models.DateField()
    due_on = models.DateField()
    words = models.CharField(max_length=300, blank=True)
    answered_on = models.DateField(null=True, blank=True)
    answer = models.CharField(max_length=300, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.job}: due {self.due_on}"


class Finishing(Kept):
    """How a device was cleaned and charged before it went back."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="finishings")
    surface = models.CharField(max_length=40, blank=True)
    agent = models.CharField(max_length=60, blank=True)
    marks_left = models.CharField(max_length=300, blank=True)
    are_trims_right = models.BooleanField(null=True, blank=True)
    charge_percent = models.PositiveIntegerField(null=True, blank=True)
    on_charge_min = models.PositiveIntegerField(null=True, blank=True)
    will_not_reach = models.BooleanField(default=False)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.job}: {self.surface or 'charge'}"


class MissingPiece(Kept):
    """Feet, screws or trims that a device came without, counted."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="missing_pieces")
    kind = models.CharField(max_length=20)
    n = models.PositiveIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["job", "kind"], name="one_count_a_kind")
        ]
        ordering = ["kind"]

    def __str__(self) -> str:
        return f"{self.n} {self.kind}"


class ArrivalMark(Kept):
    """Damage that was there on arrival, as a place on the outline of a face."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="arrival_marks")
    face = models.CharField(max_length=20)
    kind = models.CharField(max_length=20)
    x_percent = models.PositiveIntegerField()
    y_percent = models.PositiveIntegerField()
    words = models.CharField(max_length=120, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.face}: {self.kind}"


class Viewing(Kept):
    """That somebody looked at a record or photo, one row for each hour."""

    who = models.CharField(max_length=16)
    what = models.CharField(max_length=10)
    about = models.CharField(max_length=16, db_index=True)
    hour = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["who", "what", "about", "hour"], name="one_viewing_an_hour"
            )
        ]
        ordering = ["-hour", "id"]

    def __str__(self) -> str:
        return f"{self.what} {self.about}: {self.hour}"


class Sighting(Kept):
    """What one look from outside showed on a device; the newest of a look counts."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="sightings")
    look = models.CharField(max_length=200)
    shows = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.look}: {self.shows or 'could not be seen'}"

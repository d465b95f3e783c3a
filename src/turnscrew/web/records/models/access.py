from django.db import models

from turnscrew.web.records.models.batch import Batch
from turnscrew.web.records.models.kept import Kept
from turnscrew.web.records.models.person import Person
from turnscrew.web.records.models.reference import Referenced


class SignInLink(Kept):
    """A link that signs somebody in once."""

    person = models.ForeignKey(Person, models.CASCADE)
    token_digest = models.CharField(max_length=64, unique=True)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"link for {self.person}"


class SentSheet(Kept):
    """A sheet that was sent from a page: sent twice, it is written once."""

    digest = models.CharField(max_length=64, unique=True)
    at = models.DateTimeField(db_index=True)
    is_written = models.BooleanField(default=False)

    def __str__(self) -> str:
        return f"sheet sent {self.at}"


class ContactLink(Referenced):
    """What a customer's contact may see and answer; the signed address names it."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="contact_links")
    name = models.CharField(max_length=120)
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    is_withdrawn = models.BooleanField(default=False)

    class Meta:
        ordering = ["-id"]

    def __str__(self) -> str:
        return f"link for {self.name}"


class ApiToken(Referenced):
    """A bearer token, known by its digest alone."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="tokens")
    name = models.CharField(max_length=60)
    token_digest = models.CharField(max_length=64, unique=True)
    scopes = models.CharField(max_length=200)
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField(null=True, blank=True)
    is_withdrawn = models.BooleanField(default=False)

    class Meta:
        ordering = ["-id"]

    def __str__(self) -> str:
        return self.name

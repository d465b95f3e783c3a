from django.db import models

from turnscrew.web.records.models.kept import Kept


class Entry(Kept):
    """One entry of a journal; the database refuses to change or delete it."""

    journal = models.CharField(max_length=8)
    sequence = models.PositiveBigIntegerField()
    at = models.DateTimeField()
    is_clock_doubtful = models.BooleanField(default=False)
    author = models.CharField(max_length=16, blank=True)
    verb = models.CharField(max_length=24)
    subject = models.CharField(max_length=16)
    facts = models.TextField(default="{}")
    words_digest = models.CharField(max_length=64, blank=True)
    corrects = models.PositiveBigIntegerField(default=0)
    previous = models.CharField(max_length=64)
    digest = models.CharField(max_length=64)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["journal", "sequence"], name="one_entry_a_number"
            )
        ]
        indexes = [
            models.Index(fields=["subject", "journal", "sequence"]),
        ]
        ordering = ["journal", "sequence"]

    def __str__(self) -> str:
        return f"{self.journal} {self.sequence} {self.verb}"


class EntryWords(Kept):
    """The words of an entry, outside the chain, so that they can be erased."""

    entry = models.OneToOneField(Entry, models.PROTECT, related_name="words")
    salt = models.CharField(max_length=32)
    text = models.TextField()

    def __str__(self) -> str:
        return self.text


class Head(Kept):
    """The last entry of a journal, remembered apart."""

    journal = models.CharField(max_length=8, primary_key=True)
    sequence = models.PositiveBigIntegerField(default=0)
    digest = models.CharField(max_length=64)
    at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"{self.journal} {self.sequence}"

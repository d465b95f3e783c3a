from django.db import models

from turnscrew.web.records.models.kept import Kept


class HowItReads(Kept):
    """How lengths, decimal numbers and weeks are shown here; one row or none."""

    LENGTHS = [("mm", "millimetres"), ("inch", "millimetres, inches beside them")]
    SIGNS = [("", "as the language has it"), ("point", "point"), ("comma", "comma")]
    WEEKS = [("monday", "Monday"), ("saturday", "Saturday"), ("sunday", "Sunday")]

    lengths = models.CharField(max_length=8, choices=LENGTHS, default="mm")
    sign = models.CharField(max_length=8, choices=SIGNS, default="", blank=True)
    week = models.CharField(max_length=8, choices=WEEKS, default="monday")

    class Meta:
        verbose_name = "how figures read"
        verbose_name_plural = "how figures read"

    def __str__(self) -> str:
        return f"{self.lengths}, {self.sign or 'by language'}, {self.week}"

"""In which one spelling are times sealed?"""

from datetime import UTC, datetime


def time_text(at: datetime) -> str:
    """Spell a time."""
    return at.astimezone(UTC).isoformat(timespec="microseconds")

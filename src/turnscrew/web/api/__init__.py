"""The records for other programs."""

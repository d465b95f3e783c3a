"""What do the terms of a batch say, and in which currency?"""

from functools import lru_cache

from turnscrew.core.model.terms import Terms
from turnscrew.files.terms_file import read_terms
from turnscrew.web.records.models import Batch


@lru_cache(maxsize=64)
def terms_in(text: str) -> Terms:
    """Read terms once for each text of them."""
    return read_terms(text)


def currency_of(batch: Batch) -> str:
    """Give the currency of all money of a batch."""
    return terms_in(batch.terms_text).currency if batch.terms_text else ""

"""Which rows bear what somebody typed, in large letters or small?"""

from django.db.models import Q


def spelled(name: str, typed: str) -> Q:
    """
    Ask for rows whose text is what was typed, large or small letters alike.

    SQLite knows large and small of plain letters alone, so what was typed is looked
    for in both spellings too: a label is mostly in one.
    """
    both = {typed.upper(), typed.lower()}
    return Q(**{f"{name}__iexact": typed}) | Q(**{f"{name}__in": both})

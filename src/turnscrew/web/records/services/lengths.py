"""Which texts are longer than the records have room for?"""

from collections.abc import Mapping

from django.db.models import Model

from turnscrew.web.records.models.kept import lacks_room


def too_long(kept: type[Model], texts: Mapping[str, str], where: str = "") -> list[str]:
    """
    Say of each text why its column has no room for it; SQLite alone would take it.

    The texts go by the names of their columns.
    """
    return lacks_room(kept(**texts), where=where)

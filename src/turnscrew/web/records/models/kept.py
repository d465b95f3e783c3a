"""What has a table no room for, so that it is refused before it is written?"""

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from django.db import models

from turnscrew.web.records.refusal import RefusedError
from turnscrew.web.records.room import lack_of

_SAID = {
    "order_number": "order", "asset_number": "asset", "revision": "rev",
    "accessories_told": "acc", "taken_by": "signature", "minor": "amount",
    "n": "pieces", "n_in": "came in", "n_out": "went back",
}  # fmt: skip
"""What stands over a figure where it is entered, if it is kept under another name."""


class Kept(models.Model):
    """A row that is refused, with every reason, where its table has no room for it."""

    class Meta:
        abstract = True

    def save(self, **how: Any) -> None:
        """Save it, or refuse it: no service can forget to ask."""
        if reasons := lacks_room(self, how.get("update_fields")):
            raise RefusedError(*reasons)
        super().save(**how)


def lacks_room(
    row: models.Model, only: Iterable[str] | None = None, where: str = ""
) -> list[str]:
    """
    Say of each figure and text of a row why there is no room for it.

    What stands in the row already may stay: nobody entered it now.
    """
    wanted = None if only is None else set(only)
    wrong = {
        name: why
        for name, field in _limited(type(row)).items()
        # What was not read of a row is not written either.
        if name in row.__dict__ and (wanted is None or name in wanted)
        if (why := lack_of(field, row.__dict__[name]))
    }
    if wrong and not row._state.adding:
        stored = type(row)._default_manager.filter(pk=row.pk).values(*wrong).first()
        for name, value in (stored or {}).items():
            if value == row.__dict__[name]:
                del wrong[name]
    return [
        f"{where}{_said(name)}: found {found}, wanted {most}"
        for name, (found, most) in wrong.items()
    ]


@cache
def _limited(kept: type[models.Model]) -> Mapping[str, "models.Field[Any, Any]"]:
    kinds = (
        models.CharField, models.TextField, models.JSONField, models.IntegerField,
    )  # fmt: skip
    return {
        field.attname: field
        for field in kept._meta.concrete_fields
        if isinstance(field, kinds)
    }


def _said(name: str) -> str:
    plain = name.removeprefix("n_").removesuffix("_minor").replace("_", " ")
    return _SAID.get(name, plain)

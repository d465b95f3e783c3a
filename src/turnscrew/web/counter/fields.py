"""How are amounts, lines and lists of words entered?"""

import re
from datetime import date
from decimal import Decimal
from typing import Any

from django import forms

from turnscrew.core.model.calendar import A_DAY_MEANT, can_be_meant
from turnscrew.core.model.check_character import is_sound
from turnscrew.errors import BadArgumentError
from turnscrew.web.counter.notation_now import has_comma, notation
from turnscrew.web.records.queries import batch_page

_OF_ANY_SIGN = re.compile(r"\d{1,9}(?:[.,]\d{1,9})?")
_SCANNED = re.compile(r"\d{6}\d{3,5}[0-9A-Z]", re.ASCII)
_AMOUNT = re.compile(r"(\d{1,9})(?:\.(\d{1,2}))?")

_NOT_AS_SENT = "found other figures than were sent"

MOST_LINES = 10_000
"""Devices that one entry may name. [1]"""


class _ManyInput(forms.ClearableFileInput):
    allow_multiple_selected = True


class ManyFilesField(forms.FileField):
    """Several files chosen at once."""

    def __init__(self, **options: Any) -> None:
        super().__init__(widget=_ManyInput(), **options)

    def clean(self, value: Any, initial: Any = None) -> list[Any]:
        given = value if isinstance(value, list | tuple) else [value]
        return [super(ManyFilesField, self).clean(one, initial) for one in given]


class AmountField(forms.CharField):
    """An amount of money, given back in whole minor units."""

    def __init__(self, **options: Any) -> None:
        options.setdefault("widget", forms.TextInput(attrs={"inputmode": "decimal"}))
        super().__init__(max_length=14, **options)

    def clean(self, value: Any) -> int | None:
        text = super().clean(value).strip()
        if not text:
            return None
        comma = notation().uses_comma(has_comma=has_comma())
        sign, such = ("comma", "116,12") if comma else ("point", "116.12")
        wanted = f"wanted an amount such as {such}, with a {sign}"
        if _OF_ANY_SIGN.fullmatch(text) is None:
            raise forms.ValidationError(f"found {text}, {wanted}")
        number = _number(text, wanted)
        if _AMOUNT.fullmatch(str(number)) is None:
            raise forms.ValidationError(f"found {text}, {wanted}")
        return int(number * 100)

    @staticmethod
    def shown(minor: int) -> str:
        """Give an amount as it is entered."""
        return _as_entered(f"{minor // 100}.{minor % 100:02}")


class NumberField(forms.DecimalField):
    """A number with the decimal sign of the workshop; the other is shown back."""

    def __init__(self, **options: Any) -> None:
        options.setdefault("widget", forms.TextInput(attrs={"inputmode": "decimal"}))
        super().__init__(**options)

    def to_python(self, value: Any) -> Any:
        if value in self.empty_values:
            return None
        return _number(str(value))

    def prepare_value(self, value: Any) -> Any:
        if not isinstance(value, Decimal):
            return value
        return _as_entered(f"{value:f}")


def _as_entered(text: str) -> str:
    """Write a number with the decimal sign of the workshop."""
    uses_comma = notation().uses_comma(has_comma=has_comma())
    return text.replace(".", ",") if uses_comma else text


def _number(text: str, wanted: str = "") -> Decimal:
    try:
        return notation().number(text, has_comma=has_comma())
    except BadArgumentError as error:
        told = f"{error}; {wanted}" if wanted else str(error)
        raise forms.ValidationError(told) from None


class LinesField(forms.CharField):
    """
    Numbers of devices such as ``1, 3-9``, given back as a list.

    A workshop number that is scanned is taken as it stands: the device of another batch
    is none of this one, whatever its line.
    """

    batch: Any = None

    def __init__(self, **options: Any) -> None:
        options.setdefault(
            "help_text", "such as 1, 3-9; a workshop number may be scanned"
        )
        super().__init__(max_length=2000, **options)

    def clean(self, value: Any) -> list[int]:
        text = super().clean(value)
        lines: list[int] = []
        pieces = [one.strip("*").upper() for one in re.split(r"[,;\s]+", text)]
        scanned = [one for one in pieces if _SCANNED.fullmatch(one)]
        line_by_number = batch_page.lines_by_number(self.batch, scanned)
        for piece in filter(None, pieces):
            match = re.fullmatch(r"(\d{1,7})(?:-(\d{1,7}))?", piece)
            if piece in line_by_number:
                lines.append(line_by_number[piece])
            elif piece in scanned:
                raise forms.ValidationError(_no_number_here(piece))
            elif match is None:
                raise forms.ValidationError(
                    f"found {piece}, wanted numbers such as 1, 3-9"
                )
            else:
                first, last = int(match[1]), int(match[2] or match[1])
                if not first <= last <= first + MOST_LINES:
                    raise forms.ValidationError(f"found {piece}, wanted FROM-TO")
                lines += range(first, last + 1)
            if len(lines) > MOST_LINES:
                # A database looks for so many at once; ranges add up.
                raise forms.ValidationError(
                    f"found {len(lines)} numbers or more, wanted {MOST_LINES} or less"
                )
        return list(dict.fromkeys(lines))


def _no_number_here(scanned: str) -> str:
    if not is_sound(scanned):
        return f"{scanned}: the check character is wrong, look again"
    return f"found {scanned}, wanted a workshop number of this batch"


class OfBatch(forms.Form):
    """A form that names devices of one batch."""

    def __init__(self, *args: Any, batch: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for field in self.fields.values():
            if isinstance(field, LinesField):
                field.batch = batch


class _Shown(forms.Field):
    """What the page is sent with; shown again, it is what the page shows then."""

    def __init__(self, **options: Any) -> None:
        super().__init__(widget=forms.HiddenInput, **options)

    def bound_data(self, data: Any, initial: Any) -> Any:
        del data
        return initial


class AsShown(_Shown, forms.IntegerField):
    """A number as the page shows it."""


class TextAsShown(_Shown, forms.CharField):
    """A text that tells what the page shows from anything else."""


class PiecesAsShown(_Shown, forms.JSONField):
    """Pieces and their cost by part, as the page shows them."""

    def clean(self, value: Any) -> dict[str, tuple[int, int]] | None:
        told = super().clean(value)
        if told is None:
            return None
        try:
            return {name: (int(n), int(minor)) for name, (n, minor) in told.items()}
        except (AttributeError, TypeError, ValueError):
            raise forms.ValidationError(_NOT_AS_SENT) from None


class QuotesAsShown(_Shown, forms.JSONField):
    """Quotes by device with what was found, as the page shows them."""

    def clean(self, value: Any) -> dict[int, tuple[int | None, str]] | None:
        told = super().clean(value)
        if told is None:
            return None
        try:
            return {
                int(line): (None if minor is None else int(minor), str(found))
                for line, (minor, found) in told.items()
            }
        except (AttributeError, TypeError, ValueError):
            raise forms.ValidationError(_NOT_AS_SENT) from None


class DayField(forms.DateField):
    """A day, by the browser's own picker or typed; none a slip by centuries."""

    def __init__(self, **options: Any) -> None:
        options.setdefault(
            "widget", forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        )
        super().__init__(input_formats=["%Y-%m-%d"], **options)

    def clean(self, value: Any) -> date | None:
        day: date | None = super().clean(value)
        if day is not None and not can_be_meant(day):
            raise forms.ValidationError(f"found {day}, wanted {A_DAY_MEANT}")
        return day


def words(label: str, *, needed: bool = False, most: int = 300) -> forms.CharField:
    """Give a field for one line of words."""
    return forms.CharField(label=label, required=needed, max_length=most)


def text(label: str, *, needed: bool = False, rows: int = 8) -> forms.CharField:
    """Give a field for many lines."""
    area = forms.Textarea(attrs={"rows": rows, "spellcheck": "false"})
    return forms.CharField(
        label=label, required=needed, max_length=2_000_000, widget=area, strip=False
    )


def choice(
    label: str, options: list[str] | list[tuple[str, str]], *, needed: bool = True
) -> forms.ChoiceField:
    """Give a field for one of several words."""
    pairs = [one if isinstance(one, tuple) else (one, one) for one in options]
    if not needed:
        pairs = [("", "–"), *pairs]
    return forms.ChoiceField(label=label, choices=pairs, required=needed)


class Chosen(forms.Form):
    """A form with a choice among things that are known only when it is shown."""

    chooses = ""

    def __init__(self, *args: Any, chosen: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields[self.chooses].choices = chosen  # type: ignore[attr-defined]

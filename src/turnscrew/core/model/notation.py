"""How does a workshop read and write lengths, decimal numbers and weeks?"""

import re
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from turnscrew.core.model import amounts
from turnscrew.errors import BadArgumentError

Lengths = Literal["mm", "inch"]
Sign = Literal["", "point", "comma"]
Week = Literal["monday", "saturday", "sunday"]

MM_PER_INCH = Decimal("25.4")
"""Exact, by the agreement on the inch of 1959 (from memory)."""

_WEEKDAYS: dict[Week, int] = {"monday": 0, "saturday": 5, "sunday": 6}
_NUMBER = r"\d+(?:[.,]\d+)?"
_LENGTH = re.compile(
    rf"(?<![\w.,])(?:({_NUMBER})( x | × | to |–))?({_NUMBER}) mm(?![\w²³/])"
)
"""A length, or two with what stands between; the name of a thread bears no unit."""

_UNITS = (
    "mm²|mm|cm|m|in|V|mV|A|mA|W|Wh|Ah|mAh|ohm|megohm|gigohm|Ω|N|Nm|g|kg|s|min|h|°C|MPa"
    "|years|months|times|device-years"
)
_BEFORE_UNIT = (
    rf"(?=(?:(?: (?:to|bis|and|und|or|oder|x|×) |–){_NUMBER})? (?:(?:{_UNITS})\b|%))"
)
_POINTED = re.compile(rf"(?<![\w.,])(\d+)\.(\d+){_BEFORE_UNIT}")
_WITH_COMMA = re.compile(rf"(?<![\w.,])(\d+),(\d+){_BEFORE_UNIT}")
_AMOUNT = re.compile(r"(?<![\w.,-])\d{1,3}(?:,\d{3})*\.\d\d(?![\w]|[.,]\d)")
_ENTERED = re.compile(r"[+-]?\d+(?:([.,])(\d+))?")
_PARTS = ("tenths", "hundredths", "thousandths", "ten-thousandths")
_SWAPPED = str.maketrans(",.", ".,")


def with_signs_swapped(figure: str) -> str:
    """
    Write a figure with the comma as its decimal sign, or with the point again.

    Parameters
    ----------
    figure
        Such as ``3,712.18``.

    Returns
    -------
    str
        Such as ``3.712,18``.
    """
    return figure.translate(_SWAPPED)


@dataclass(frozen=True)
class Notation:
    """
    How lengths, decimal numbers and weeks are written; what is kept never changes.

    Parameters
    ----------
    lengths
        ``inch`` for inches beside every length in millimetres.
    sign
        The decimal sign; empty for that of the language.
    week
        Its first day.
    """

    lengths: Lengths = "mm"
    sign: Sign = ""
    week: Week = "monday"

    def says(self, text: str, *, has_comma: bool = False) -> str:
        """
        Write the lengths and the numbers with a unit of a text as they are read here.

        Parameters
        ----------
        text
            Words and figures.
        has_comma
            True if the decimal sign of its language is the comma.

        Returns
        -------
        str
            The text; threads, numbers of things and days stay as they were.
        """
        told = _LENGTH.sub(_with_inches, text) if self.lengths == "inch" else text
        if self.sign == "comma" and not has_comma:
            return _POINTED.sub(r"\1,\2", told)
        if self.sign == "point" and has_comma:
            return _WITH_COMMA.sub(r"\1.\2", told)
        return told

    def prose(self, text: str, *, has_comma: bool = False) -> str:
        """
        Write a sentence of ours as it is read here, the amounts of money in it too.

        Parameters
        ----------
        text
            A sentence that names no number of anything but amounts and measures.
        has_comma
            True if the decimal sign of its language is the comma.

        Returns
        -------
        str
            The sentence.
        """
        told = self.says(text, has_comma=has_comma)
        if self.sign != "comma" or has_comma:
            return told
        return _AMOUNT.sub(lambda found: with_signs_swapped(found[0]), told)

    def uses_comma(self, *, has_comma: bool = False) -> bool:
        """
        Tell whether the decimal sign is the comma.

        Parameters
        ----------
        has_comma
            True if that of the language is.

        Returns
        -------
        bool
            True if so.
        """
        return self.sign == "comma" or (has_comma and not self.sign)

    def money(self, minor: int | None, *, has_comma: bool = False) -> str:
        """
        Write an amount without its currency.

        Parameters
        ----------
        minor
            The amount. [minor units]
        has_comma
            True if the decimal sign of the language is the comma.

        Returns
        -------
        str
            Such as ``3,712.18`` or ``3.712,18``.
        """
        told = amounts.money(minor)
        # Point and comma change places where the comma is the decimal sign.
        is_comma = self.uses_comma(has_comma=has_comma)
        return with_signs_swapped(told) if is_comma else told

    def number(self, text: str, *, has_comma: bool = False) -> Decimal:
        """
        Read a number as it was entered; the other decimal sign is shown back in words.

        Parameters
        ----------
        text
            What was entered.
        has_comma
            True if the decimal sign of the language is the comma.

        Returns
        -------
        Decimal
            The number. [1]

        Raises
        ------
        BadArgumentError
            If it is no number, or has the other decimal sign.
        """
        wanted = "," if self.uses_comma(has_comma=has_comma) else "."
        entered = text.strip().replace("\u2212", "-")
        found = _ENTERED.fullmatch(entered)
        if found is None:
            raise BadArgumentError(f"found {text}, wanted a number such as 1{wanted}5")
        if found[1] in (None, wanted):
            return Decimal(entered.replace(",", "."))
        right = entered.replace(found[1], wanted)
        raise BadArgumentError(
            f"found {text}, which may mean {_in_words(entered, found[1])}; nothing was"
            f" saved: if that is meant, write {right}"
        )

    def begin_of_week(self, day: date) -> date:
        """
        Give the first day of a week.

        Parameters
        ----------
        day
            A day of it.

        Returns
        -------
        date
            That day or one of the six before it.
        """
        return day - timedelta(days=(day.weekday() - _WEEKDAYS[self.week]) % 7)


def inches(mm: Decimal) -> Decimal:
    """
    Give a length in inches, to two decimals more than it has in millimetres.

    So much is kept that millimetres reckoned back from it are the same.

    Parameters
    ----------
    mm
        The length. [mm]

    Returns
    -------
    Decimal
        The length, half a last place upwards. [in]
    """
    places = max(0, -int(mm.as_tuple().exponent))
    return (mm / MM_PER_INCH).quantize(
        Decimal(1).scaleb(-places - 2), rounding=ROUND_HALF_UP
    )


def _with_inches(found: re.Match[str]) -> str:
    numbers = [one for one in (found[1], found[3]) if one]
    told = [str(inches(Decimal(one.replace(",", ".")))) for one in numbers]
    if any("," in one for one in numbers):
        told = [one.replace(".", ",") for one in told]
    return f"{found[0]} ({(found[2] or '').join(told)} in)"


def _in_words(text: str, sign: str) -> str:
    whole, _, rest = text.partition(sign)
    if not 0 < len(rest) <= len(_PARTS):
        return f"{whole} whole and {rest or 'no'} parts of one"
    said = f"{whole} whole and {int(rest)} {_PARTS[len(rest) - 1]}"
    return f"{said}, or {whole}{rest}" if len(rest) == 3 else said

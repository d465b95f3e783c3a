"""Which values may stand in a noun, in which unit, and how is a bad one refused?"""

import re
from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass
from decimal import Decimal
from functools import cache
from types import UnionType
from typing import (
    Annotated,
    Any,
    Literal,
    Self,
    Union,
    get_args,
    get_origin,
    get_type_hints,
)

from turnscrew.errors import BadArgumentError

_NUMBER = re.compile(r"[-+]?\d{1,12}(\.\d{1,12})?", re.ASCII)
_AMOUNT = re.compile(r"(\d{1,8})(?:\.(\d{1,2}))?", re.ASCII)


class BadFieldError(BadArgumentError):
    """
    Refuse one field of a noun.

    Parameters
    ----------
    field
        Name of the field.
    found
        What stood there.
    wanted
        What would be right.
    """

    def __init__(self, field: str, found: object, wanted: str) -> None:
        super().__init__(f"{field}: found {_shown(found)}, wanted {wanted}")
        self.field = field
        self.found = _shown(found)
        self.wanted = wanted


def _shown(value: object) -> str:
    """Write a value as it would be typed."""
    if isinstance(value, tuple):
        return ", ".join(_shown(item) for item in value)
    return f"{value:g}" if isinstance(value, float) else str(value)


@dataclass(frozen=True)
class Bounds:
    """
    The smallest and largest value a number may take.

    Parameters
    ----------
    low
        Smallest value, in ``unit``.
    high
        Largest value, in ``unit``.
    unit
        Unit as it is shown; ``1`` for a bare number.
    """

    low: float
    high: float
    unit: str

    def __str__(self) -> str:
        """Give the range in words."""
        unit = "" if self.unit == "1" else f" {self.unit}"
        return f"a number from {self.low:g} to {self.high:g}{unit}"


@dataclass(frozen=True)
class Key:
    """
    The word under which a field stands in a description, if not its own name.

    Parameters
    ----------
    text
        The word.
    """

    text: str


@dataclass(frozen=True)
class Spelling:
    """
    A short text from which a field may be read.

    Parameters
    ----------
    read
        Gives the value, or raises BadArgumentError.
    example
        One text that can be read.
    """

    read: Callable[[str], object]
    example: str


@dataclass(frozen=True)
class Refers:
    """
    A field that names something else in the description.

    Parameters
    ----------
    kind
        What it names: a part, a joint, a thing (either), a view, a posture and so on.
    """

    kind: Literal["part", "joint", "thing", "view", "posture", "test", "tool"]


@dataclass(frozen=True)
class OneOf:
    """
    A field whose kind is told by the key it stands under.

    Parameters
    ----------
    kinds
        Pairs of key and class.
    """

    kinds: tuple[tuple[str, type], ...]


SUM_TOLERANCE = 1e-6
"""How far chances that belong together may miss 1. [1]"""

PartName = Annotated[str, Refers("part")]
JointName = Annotated[str, Refers("joint")]
ThingName = Annotated[str, Refers("thing")]
ViewName = Annotated[str, Refers("view")]
PostureName = Annotated[str, Refers("posture")]
TestName = Annotated[str, Refers("test")]
ToolName = Annotated[str, Refers("tool")]
LengthMm = Annotated[float, Bounds(0, 2000, "mm")]
SmallMm = Annotated[float, Bounds(0, 60, "mm")]
PlaceMm = Annotated[float, Bounds(-2000, 2000, "mm")]
TimeS = Annotated[float, Bounds(0, 86_400, "s")]
TemperatureC = Annotated[float, Bounds(-40, 350, "°C")]
ForceN = Annotated[float, Bounds(0, 500, "N")]
TorqueNm = Annotated[float, Bounds(0.001, 5, "N·m")]
AngleDeg = Annotated[float, Bounds(-360, 360, "°")]
Turns = Annotated[float, Bounds(0, 50, "turns")]
EnergyWh = Annotated[float, Bounds(0, 500, "Wh")]
Share = Annotated[float, Bounds(0, 1, "1")]
Count = Annotated[int, Bounds(0, 500, "1")]
PointMm = tuple[PlaceMm, PlaceMm]
"""A place on a face: to the right of, and down from, the upper left corner."""


def minor_from_text(text: str) -> int:
    """
    Read an amount of money written with at most two decimals.

    Parameters
    ----------
    text
        The amount, such as ``31.50``.

    Returns
    -------
    int
        Whole minor units.

    Raises
    ------
    BadArgumentError
        If the text is no such amount.
    """
    match = _AMOUNT.fullmatch(text)
    if match is None:
        raise BadArgumentError(f"an amount such as 31.50, not {text}")
    return 100 * int(match[1]) + int((match[2] or "").ljust(2, "0"))


def decimal_from_text(text: str) -> Decimal:
    """
    Read a plain decimal exactly.

    Parameters
    ----------
    text
        The number, such as ``1.30``.

    Returns
    -------
    Decimal
        The number.

    Raises
    ------
    BadArgumentError
        If the text is no such number.
    """
    if not text.replace(".", "", 1).isdecimal() or len(text) > 12:
        raise BadArgumentError(f"a number such as 1.30, not {text}")
    return Decimal(text)


def number_from_text(text: str) -> float | None:
    """
    Read a number written in plain digits.

    Parameters
    ----------
    text
        The number, with a decimal point if any.

    Returns
    -------
    float or None
        The number, or ``None`` if the text is anything else.
    """
    return float(text) if _NUMBER.fullmatch(text) else None


def refuse_outside(name: str, value: float, bounds: Bounds) -> None:
    """
    Refuse a figure outside its bounds, or one that is no number.

    Parameters
    ----------
    name
        Name of the argument, with its unit.
    value
        The figure, in the unit of the bounds.
    bounds
        Smallest and largest figure, both allowed.

    Raises
    ------
    BadFieldError
        If the figure is outside.
    """
    if not bounds.low <= value <= bounds.high:
        raise BadFieldError(name, value, str(bounds))


Minor = Annotated[
    int,
    Bounds(0, 10_000_000, "minor units"),
    Spelling(minor_from_text, "31.50"),
]


class Checked:
    """Check every bounded number and every choice when a noun is made."""

    def __post_init__(self) -> None:
        """Refuse a number outside its bounds or a word outside its choices."""
        noun: Any = type(self)
        for name, checks in _checks_of(noun):
            value = getattr(self, name)
            for check in checks:
                _refuse_bad(name, value, check)


class Shortened(Checked):
    """A noun that may be written as the text of its first field alone."""

    @classmethod
    def from_text(cls, text: str) -> Self:
        """
        Read the first field alone.

        Parameters
        ----------
        text
            Its text.

        Returns
        -------
        Self
            The noun, with defaults for the rest.
        """
        noun: Any = cls
        return cls(**{fields(noun)[0].name: text})


def field_types(noun: type) -> dict[str, Any]:
    """
    Give the type of every field of a noun, with bounds and spellings.

    Parameters
    ----------
    noun
        The dataclass.

    Returns
    -------
    dict
        Type by field name.
    """
    return dict(_field_types(noun))


def unwrapped(hint: Any) -> tuple[Any, tuple[Any, ...]]:
    """
    Part a type from the notes attached to it.

    Parameters
    ----------
    hint
        The type, perhaps annotated.

    Returns
    -------
    tuple
        The bare type and its notes.
    """
    notes: tuple[Any, ...] = ()
    while get_origin(hint) is Annotated:
        hint, *more = get_args(hint)
        notes = (*more, *notes)
    return hint, notes


def key_of(field: str, hint: Any, value: object) -> str:
    """
    Give the word a field stands under in a description.

    Parameters
    ----------
    field
        Name of the field.
    hint
        Its type, with its notes.
    value
        Its value, which tells the word where there are several.

    Returns
    -------
    str
        The word.
    """
    for note in unwrapped(hint)[1]:
        if isinstance(note, Key):
            return note.text
        if isinstance(note, OneOf):
            return next((k for k, kind in note.kinds if isinstance(value, kind)), field)
    return field


@cache
def _field_types(noun: type) -> tuple[tuple[str, Any], ...]:
    hints = get_type_hints(noun, include_extras=True)
    assert is_dataclass(noun)
    return tuple((field.name, hints[field.name]) for field in fields(noun))


@cache
def _checks_of(noun: type) -> tuple[tuple[str, tuple[Any, ...]], ...]:
    found = ((name, tuple(_checks_in(hint))) for name, hint in _field_types(noun))
    return tuple((name, checks) for name, checks in found if checks)


def _checks_in(hint: Any) -> list[Any]:
    """Find bounds and choices in a type, through tuples and alternatives."""
    origin, args = get_origin(hint), get_args(hint)
    if origin is Annotated:
        return [arg for arg in args[1:] if isinstance(arg, Bounds)] + _checks_in(
            args[0]
        )
    if origin is Literal:
        return [args]
    if origin in (tuple, Union, UnionType):
        return [check for arg in args for check in _checks_in(arg)]
    return []


def _refuse_bad(name: str, value: object, check: Any) -> None:
    if isinstance(value, tuple):
        for item in value:
            _refuse_bad(name, item, check)
        return
    if isinstance(check, Bounds):
        if (
            isinstance(value, (int, float, Decimal))
            and not check.low <= value <= check.high
        ):
            raise BadFieldError(name, value, str(check))
    elif isinstance(value, str) and value not in check:
        raise BadFieldError(name, value, "one of " + ", ".join(check))


@dataclass(frozen=True)
class Seconds(Checked):
    """
    How long something takes.

    Parameters
    ----------
    typical_s
        Usual time, all pieces together. [s]
    first_s
        The first time somebody does it; ``None`` if not known. [s]
    practised_s
        After practice; ``None`` if not known. [s]
    """

    typical_s: Annotated[TimeS, Key("typical")]
    first_s: Annotated[TimeS | None, Key("first")] = None
    practised_s: Annotated[TimeS | None, Key("practised")] = None

    @classmethod
    def from_text(cls, text: str) -> "Seconds":
        """
        Read a bare number as the typical time.

        Parameters
        ----------
        text
            The number. [s]

        Returns
        -------
        Seconds
            The time.

        Raises
        ------
        BadArgumentError
            If the text is no number.
        """
        seconds = number_from_text(text)
        if seconds is None:
            raise BadArgumentError(f"a number of seconds, not {text}")
        return cls(seconds)

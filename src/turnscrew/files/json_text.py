"""How is a JSON text read so that every problem in it is told at once, with its place?

Method: parse, then walk with a cursor that notes a problem and goes on.
Lines and columns are looked up afterwards, and only if something was wrong.
"""

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, NoReturn

from turnscrew.core.model.nearest import nearest, wanted_name
from turnscrew.errors import BadFileError, Problem

LARGEST_WHOLE = 10**12
"""Largest whole number a text may hold; no cost on a bench comes near it. [1]"""

_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[{}\[\]:,]|[^\s{}\[\]:,"]+')
_SHOWN = 40

Path = tuple[str | int, ...]
_Note = tuple[Path, str, str]


@dataclass(frozen=True)
class Cursor:
    """
    One value of the text, with its path and the list that collects the problems.

    Parameters
    ----------
    value
        The value as parsed.
    path
        Keys and indices that lead to it.
    notes
        Problems found so far, shared by all cursors of one text.
    """

    value: Any
    path: Path
    notes: list[_Note]

    def note(self, wanted: str, *, found: str = "") -> None:
        """
        Note a problem with this value.

        Parameters
        ----------
        wanted
            What would be right.
        found
            What stands there, if it is not the value itself.
        """
        self.notes.append((self.path, found or _shown(self.value), wanted))

    def fields(
        self, required: Iterable[str], optional: Iterable[str] = ()
    ) -> dict[str, "Cursor"]:
        """
        Take the value as an object; note missing and unknown keys.

        Parameters
        ----------
        required
            Keys that must be there.
        optional
            Keys that may be there.

        Returns
        -------
        dict[str, Cursor]
            The known keys that are there.
        """
        if not isinstance(self.value, dict):
            self.note("an object with names and values")
            return {}
        known = (*required, *optional)
        for key in self.value:
            if key not in known:
                wanted = wanted_name(key, known)
                self.at(key).note(wanted, found=f"unknown key {_shown(key)}")
        for key in required:
            if key not in self.value:
                self.note(f"a value for {key}", found="nothing")
        return {key: self.at(key) for key in known if key in self.value}

    def entries(self) -> dict[str, "Cursor"]:
        """
        Take the value as an object with free keys.

        Returns
        -------
        dict[str, Cursor]
            One cursor per key.
        """
        if not isinstance(self.value, dict):
            self.note("an object with names and values")
            return {}
        return {key: self.at(key) for key in self.value}

    def items(self) -> list["Cursor"]:
        """
        Take the value as a list.

        Returns
        -------
        list[Cursor]
            One cursor per item; empty if it is no list.
        """
        if not isinstance(self.value, list):
            self.note("a list")
            return []
        return [self.at(index) for index in range(len(self.value))]

    def text(self) -> str:
        """
        Take the value as a text that is not empty.

        Returns
        -------
        str
            The text; empty if it is none.
        """
        if not isinstance(self.value, str) or not self.value.strip():
            self.note("a text")
            return ""
        return self.value

    def whole(self) -> int:
        """
        Take the value as a whole number, zero or more.

        Returns
        -------
        int
            The number; 0 if it is none. [1]
        """
        if type(self.value) is not int or not 0 <= self.value <= LARGEST_WHOLE:
            self.note(f"a whole number from 0 to {LARGEST_WHOLE}")
            return 0
        return self.value

    def name_among(self, names: Iterable[str], kind: str) -> str:
        """
        Take the value as one of the known names.

        Parameters
        ----------
        names
            The names known.
        kind
            What they name, with its article, such as ``a posture``.

        Returns
        -------
        str
            The name; empty if it is none.
        """
        name = self.text()
        known = tuple(names)
        if name and name not in known:
            self.note(nearest(name, known) or f"the name of {kind}")
        return name

    def at(self, key: str | int) -> "Cursor":
        """
        Go one level down.

        Parameters
        ----------
        key
            Key or index of the value there.

        Returns
        -------
        Cursor
            The value there.
        """
        return Cursor(self.value[key], (*self.path, key), self.notes)


def items_under(fields: dict[str, Cursor], key: str) -> list[Cursor]:
    """
    Take one field of an object as a list, if it is there.

    Parameters
    ----------
    fields
        Fields of the object.
    key
        Name of the field.

    Returns
    -------
    list[Cursor]
        One cursor per item; empty if the field is missing or no list.
    """
    return fields[key].items() if key in fields else []


def cursor_on(text: str) -> Cursor:
    """
    Parse a text.

    Parameters
    ----------
    text
        A JSON document.

    Returns
    -------
    Cursor
        Its outermost value.

    Raises
    ------
    BadFileError
        If the text is no JSON, or an object in it has one key twice.
    """
    notes: list[_Note] = []
    try:
        value = json.loads(text, parse_constant=_refuse, object_pairs_hook=_unique)
    except json.JSONDecodeError as error:
        found = _shown(text[error.pos : error.pos + _SHOWN]) if text else "nothing"
        fault = Problem("text", found, f"JSON: {error.msg}", error.lineno, error.colno)
        raise BadFileError((fault,)) from error
    except (ValueError, RecursionError) as error:
        found = str(error) or type(error).__name__
        if isinstance(error, RecursionError):
            found = "values nested too deep"
        raise BadFileError((Problem("text", found, "plain JSON"),)) from error
    return Cursor(value, (), notes)


def raise_if_any(notes: list[_Note], text: str) -> None:
    """
    Raise all problems noted, in the order of the text.

    Parameters
    ----------
    notes
        What the cursors noted.
    text
        The text they walked.

    Raises
    ------
    BadFileError
        If there is any.
    """
    if not notes:
        return
    places = places_in(text)
    problems = [
        Problem(in_words(path), found, wanted, *places.get(path, (0, 0)))
        for path, found, wanted in dict.fromkeys(notes)
    ]
    raise BadFileError(tuple(sorted(problems, key=lambda p: (p.line, p.column))))


def places_in(text: str) -> dict[Path, tuple[int, int]]:
    """
    Find where each value of a sound JSON text begins.

    Parameters
    ----------
    text
        A JSON document that parses.

    Returns
    -------
    dict[Path, tuple[int, int]]
        Line and column of each value, or of its key in an object, from 1. [1]
    """
    places: dict[Path, tuple[int, int]] = {}
    stack: list[str | int | None] = []
    line, line_start, seen = 1, 0, 0
    previous = ""
    for match in _TOKEN.finditer(text):
        line += text.count("\n", seen, match.start())
        line_start = text.rfind("\n", 0, match.start()) + 1
        seen, token = match.start(), match.group()
        place = (line, match.start() - line_start + 1)
        _follow(stack, token, previous, text_is_key=_is_key(text, match))
        if token not in "]},:":
            path = tuple(key for key in stack if key is not None)
            places.setdefault(path, place)
        if token in "{[":
            stack.append(None if token == "{" else 0)
        previous = token
    return places


def _is_key(text: str, match: re.Match[str]) -> bool:
    rest = re.compile(r"\s*:").match(text, match.end())
    return match.group().startswith('"') and rest is not None


def _follow(
    stack: list[str | int | None], token: str, previous: str, *, text_is_key: bool
) -> None:
    if token in ("]", "}"):
        stack.pop()
    elif text_is_key:
        stack[-1] = json.loads(token)
    elif previous == "," and stack and isinstance(stack[-1], int):
        stack[-1] += 1


def in_words(path: Path) -> str:
    """
    Write a path as a person would.

    Parameters
    ----------
    path
        Keys and indices.

    Returns
    -------
    str
        Such as ``actions[3].modes[0].cost``; ``text`` for the whole.
    """
    words = ""
    for key in path:
        words += f"[{key}]" if isinstance(key, int) else f".{key}" if words else key
    return words or "text"


def _shown(value: object) -> str:
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, list):
        return "a list" if value else "an empty list"
    shown = json.dumps(value, ensure_ascii=False)
    return shown if len(shown) <= _SHOWN else shown[: _SHOWN - 1] + "…"


def _unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise ValueError(f"the key {_shown(twice)} twice in one object")
    return found


def _refuse(constant: str) -> NoReturn:
    raise ValueError(f"the number {constant}")

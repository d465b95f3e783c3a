"""The command ``turnscrew reckon``: one figure, with its equation and source."""

import json
from collections.abc import Callable, Sequence
from dataclasses import asdict, is_dataclass
from importlib import import_module
from inspect import signature
from pkgutil import iter_modules
from typing import Any, get_type_hints

from turnscrew.core import electrics, handbook
from turnscrew.core.electrics.cautions import LIMIT_WORDS, MAINS_WORDS, PACK_WORDS
from turnscrew.core.electrics.equations import EQUATIONS as ON_THE_PATH
from turnscrew.core.handbook.equations import EQUATIONS as IN_THE_HANDBOOK
from turnscrew.core.model.nearest import nearest, wanted_name
from turnscrew.errors import BadArgumentError

EQUATIONS = {**IN_THE_HANDBOOK, **ON_THE_PATH}

_TORQUE_WORDS = (
    "Never a set-point for M3 and smaller: published tightening figures there lie at"
    " 75 to 106 % of the breaking torque.",
)

_WORDS: dict[str, tuple[str, ...]] = {
    "adapter": (MAINS_WORDS,),
    "mains": (MAINS_WORDS, LIMIT_WORDS),
    "screw_torque": _TORQUE_WORDS,
    "pack": PACK_WORDS,
    "charging": PACK_WORDS,
    "storage": PACK_WORDS,
    "transport": PACK_WORDS,
}
_NUMBERS = Sequence[float]


def _numbers(said: str) -> tuple[float, ...]:
    return tuple(float(one) for one in said.split(","))


_KINDS: dict[Any, Callable[[str], Any]] = {
    float: float, int: int, str: str, _NUMBERS: _numbers
}  # fmt: skip
_TRUTH = {"yes": True, "no": False}


def show(name: str | None, given: tuple[str, ...], *, as_json: bool) -> None:
    """
    Reckon one figure and print it with its equation and source.

    Parameters
    ----------
    name
        Name of the reckoning; none for the list of all.
    given
        Texts such as ``current_a=3``.
    as_json
        True for JSON.

    Raises
    ------
    BadArgumentError
        If the name or a figure is unknown, missing or out of range.
    """
    known = reckonings()
    if name is None:
        for one, function in known.items():
            print(f"{one} {' '.join(_wanted(function))}\n    {EQUATIONS[one].text}")
        return
    if name not in known:
        hint = nearest(name, known) or "one of those that turnscrew reckon lists"
        raise BadArgumentError(f"reckoning: found {name}, wanted {hint}")
    function = known[name]
    answer = function(**_arguments(function, given))
    plain = answer
    if is_dataclass(answer) and not isinstance(answer, type):
        plain = asdict(answer)
    cautions = _WORDS.get(function.__module__.rpartition(".")[2], ())
    if as_json:
        equation = asdict(EQUATIONS[name])
        document = {"answer": plain, "equation": equation, "cautions": cautions}
        print(json.dumps(document, ensure_ascii=False, default=str))
    else:
        print("\n".join(_lines(plain, name, cautions)))


def _lines(plain: Any, name: str, cautions: tuple[str, ...]) -> list[str]:
    lines = [_words(plain)]
    if isinstance(plain, dict):
        lines = [f"{key}: {_words(value)}" for key, value in plain.items()]
    equation = EQUATIONS[name]
    lines.append(f"reckoned as {equation.text} ({equation.source})")
    return lines + [f"! {caution}" for caution in cautions]


def reckonings() -> dict[str, Callable[..., Any]]:
    """
    List every reckoning that plain figures suffice for.

    Returns
    -------
    dict
        Functions by name, in the order of the tables of equations.
    """
    functions: dict[str, Callable[..., Any]] = {}
    for package in (electrics, handbook):
        for module in iter_modules(package.__path__, package.__name__ + "."):
            functions |= vars(import_module(module.name))
    return {
        name: functions[name]
        for name in EQUATIONS
        if all(kind in (*_KINDS, bool) for kind in _kinds(functions[name]).values())
    }


def _kinds(function: Callable[..., Any]) -> dict[str, Any]:
    hints = get_type_hints(function)
    return {name: _bare(hints[name]) for name in signature(function).parameters}


def _bare(hint: Any) -> Any:
    """Take a choice of words as words, and what may be left out as what it is."""
    if hint == _NUMBERS:
        return hint
    options = [arg for arg in getattr(hint, "__args__", ()) if arg is not type(None)]
    if options and all(isinstance(option, str) for option in options):
        return str
    return options[0] if len(options) == 1 else hint


def _wanted(function: Callable[..., Any]) -> list[str]:
    return [
        name if parameter.default is parameter.empty else f"[{name}]"
        for name, parameter in signature(function).parameters.items()
    ]


def _arguments(function: Callable[..., Any], given: tuple[str, ...]) -> dict[str, Any]:
    kinds, parameters = _kinds(function), signature(function).parameters
    wrong: list[str] = []
    read: dict[str, Any] = {}
    for text in given:
        name, _, said = text.partition("=")
        kind = kinds.get(name)
        try:
            if kind is None:
                hint = wanted_name(name, kinds)
                wrong.append(f"figure: found {text}, wanted {hint}")
            else:
                read[name] = _TRUTH[said] if kind is bool else _KINDS[kind](said)
        except (ValueError, KeyError):
            wrong.append(f"{name}: found {said or 'nothing'}, wanted {_named(kind)}")
    for name, parameter in parameters.items():
        is_said = any(text.partition("=")[0] == name for text in given)
        if parameter.default is parameter.empty and not is_said:
            wrong.append(f"{name}: found nothing, wanted {_named(kinds[name])}")
    if wrong:
        raise BadArgumentError("\n".join(wrong))
    return read


def _named(kind: Any) -> str:
    words = {
        int: "a whole number", str: "words", bool: "yes or no",
        _NUMBERS: "numbers such as 4,5.5,6",
    }  # fmt: skip
    return words.get(kind, "a number")


def _words(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (tuple, list)):
        return "; ".join(_words(one) for one in value)
    return f"{value:.6g}" if isinstance(value, float) else str(value)

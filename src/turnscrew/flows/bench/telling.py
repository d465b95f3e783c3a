"""How do the lines of a run tell of power, compartments, points and safe stops?"""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from turnscrew.core.bench.run import Line
from turnscrew.core.model.running import NOT_PROVIDED, MayPower
from turnscrew.core.opening.answer import Action
from turnscrew.core.opening.power import power_words, tells_of_power

MOST_POINTS = 4
"""Points looked at in one line; more are not kept in mind. Common practice. [1]"""

MOST_LETTERS = 240
"""Letters of all points of one line; more do not fit a screen read from one metre."""


def together(points: Mapping[str, str]) -> list[list[str]]:
    """
    Put as many points into one line as can be taken in at once.

    Parameters
    ----------
    points
        What is looked at, by name.

    Returns
    -------
    list[list[str]]
        Names, for each line.
    """
    groups: list[list[str]] = []
    n_letters = 0
    for name, words in points.items():
        is_full = not groups or len(groups[-1]) == MOST_POINTS
        if is_full or n_letters + len(words) > MOST_LETTERS:
            groups.append([])
            n_letters = 0
        groups[-1].append(name)
        n_letters += len(words)
    return groups


def power_line(state: MayPower, *, is_live: bool) -> str:
    """
    Say whether it may run, and whether its pack is connected, in passing.

    Parameters
    ----------
    state
        Whether it may.
    is_live
        The pack of the open device is still connected.

    Returns
    -------
    str
        One line.
    """
    pack = " Pack is live." if is_live else ""
    if not state.is_allowed:
        first, *rest = state.reasons
        more = f", and {len(rest)} more" if rest else ""
        return f"May run: no: {first.removesuffix(NOT_PROVIDED)}{more}.{pack}"
    for_s = f", {state.for_s:g} s at most" if state.for_s is not None else ""
    return f"May run: yes{for_s}.{pack}"


def with_bar(test: Action, why: str) -> Action:
    """
    Say of an open test that the device may not have power, whatever its path says.

    Parameters
    ----------
    test
        The test.
    why
        What keeps power off.

    Returns
    -------
    Action
        The test; that the device may be powered as it lies is not told.
    """
    return replace(
        test,
        cautions=(
            power_words(MayPower(is_allowed=False, reasons=(why,))),
            *(words for words in test.cautions if not tells_of_power(words)),
        ),
        details=tuple(words for words in test.details if not tells_of_power(words)),
    )


def count_words(kept: Mapping[str, str]) -> str:
    """
    Ask for empty compartments; in one that is named others may still lie.

    Parameters
    ----------
    kept
        For each letter the compartment it is kept in; empty for that of its letter.

    Returns
    -------
    str
        The question.
    """
    letters = ", ".join(kept)
    if not any(kept.values()):
        one = len(kept) == 1
        where = f"compartment{'' if one else 's'} {letters}"
        return f"Look into {where}: {'is it' if one else 'are all'} empty?"
    if len(kept) == 1:
        place = kept[letters]
        return f"Look into compartment {place}: is nothing of {letters} left there?"
    among = "; ".join(
        f"{letter} kept in {place}" if place else letter
        for letter, place in kept.items()
    )
    return f"Look into the compartments: is nothing left of {among}?"


def with_stops(lines: list[Line]) -> Iterable[Line]:
    """
    Say at each line how many there are to the next safe stop.

    Parameters
    ----------
    lines
        The lines of a run.

    Returns
    -------
    Iterable[Line]
        The same lines with their stops.
    """
    told: list[Line] = []
    ahead: int | None = None
    for line in reversed(lines):
        ahead = 0 if line.stop else None if ahead is None else ahead + 1
        told.append(replace(line, to_stop=ahead))
    return reversed(told)

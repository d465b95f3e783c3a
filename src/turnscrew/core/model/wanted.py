"""Which of these figures are not what was wanted?"""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from turnscrew.errors import BadArgumentError

N_SHOWN = 20
"""How many bad rows of one argument are told one by one. [1]"""


def refuse(*problems: str) -> None:
    """
    Refuse if there is a problem, telling all at once.

    Parameters
    ----------
    *problems
        What is off; an empty text where nothing is.

    Raises
    ------
    BadArgumentError
        If a text is not empty.
    """
    told = [problem for problem in problems if problem]
    if told:
        raise BadArgumentError("; ".join(told))


def unlike(
    where: str,
    value: float | None,
    *,
    above: float = -math.inf,
    least: float = -math.inf,
    below: float = math.inf,
    most: float = math.inf,
    is_whole: bool = False,
) -> str:
    """
    Tell why a number is not as wanted.

    Parameters
    ----------
    where
        Name of the argument.
    value
        The number. [1]
    above
        It must be larger than this. [1]
    least
        It must be this or larger. [1]
    below
        It must be smaller than this. [1]
    most
        It must be this or smaller. [1]
    is_whole
        Whether it must be a whole number.

    Returns
    -------
    str
        What was found and wanted; empty if all is well.
    """
    wanted = _words(above, least, below, most, is_whole=is_whole)
    if value is None or isinstance(value, (str, bytes)):
        return f"{where}: found {value!r}, wanted {wanted}"
    # A negated test also refuses what is not a number at all.
    is_inside = above < value < below and least <= value <= most
    is_fit = is_inside and math.isfinite(value) and (not is_whole or value % 1 == 0)
    return "" if is_fit else f"{where}: found {value:g}, wanted {wanted}"


def unlike_any(
    where: str,
    values: NDArray[np.float64],
    *,
    above: float = -math.inf,
    least: float = -math.inf,
    below: float = math.inf,
    most: float = math.inf,
    is_whole: bool = False,
) -> str:
    """
    Tell which numbers of a column are not as wanted.

    Parameters
    ----------
    where
        Name of the argument.
    values
        The numbers. [1], shape (n_rows,)
    above
        Each must be larger than this. [1]
    least
        Each must be this or larger. [1]
    below
        Each must be smaller than this. [1]
    most
        Each must be this or smaller. [1]
    is_whole
        Whether each must be a whole number.

    Returns
    -------
    str
        One text with the row numbers, counted from 1; empty if all is well.
    """
    wanted = _words(above, least, below, most, is_whole=is_whole)
    is_fit = (values > above) & (values < below) & (values >= least) & (values <= most)
    is_fit &= np.isfinite(values)
    if is_whole:
        with np.errstate(invalid="ignore"):
            is_fit &= values % 1 == 0
    rows = np.flatnonzero(~is_fit)
    told = [
        f"{where}, row {row + 1}: found {values[row]:g}, wanted {wanted}"
        for row in rows[:N_SHOWN]
    ]
    if len(rows) > N_SHOWN:
        told.append(f"{where}: {len(rows) - N_SHOWN} more rows like these")
    return "; ".join(told)


def unlisted(where: str, value: object, choices: Sequence[object]) -> str:
    """
    Tell why a word is none of the choices.

    Parameters
    ----------
    where
        Name of the argument.
    value
        The word.
    choices
        What it may be.

    Returns
    -------
    str
        What was found and wanted; empty if all is well.
    """
    if value in choices:
        return ""
    return f"{where}: found {value}, wanted {' or '.join(str(c) for c in choices)}"


def column(where: str, values: ArrayLike) -> NDArray[np.float64]:
    """
    Make a column of numbers.

    Parameters
    ----------
    where
        Name of the argument.
    values
        The numbers; one alone is a column of one. [1]

    Returns
    -------
    numpy.ndarray
        The numbers. [1], shape (n_rows,)

    Raises
    ------
    BadArgumentError
        If they are no numbers or no column.
    """
    try:
        made = np.atleast_1d(np.asarray(values, dtype=np.float64))
    except (TypeError, ValueError):
        raise BadArgumentError(
            f"{where}: found {_short(values)}, wanted numbers"
        ) from None
    if made.ndim != 1:
        raise BadArgumentError(f"{where}: found {made.ndim} axes, wanted one column")
    return made


def _short(values: Any) -> str:
    text = repr(values)
    return text if len(text) <= 60 else text[:57] + "..."


def _words(
    above: float, least: float, below: float, most: float, *, is_whole: bool
) -> str:
    lows = [f"above {above:g}"] if above > -math.inf else []
    lows += [f"at least {least:g}"] if least > -math.inf else []
    highs = [f"below {below:g}"] if below < math.inf else []
    highs += [f"at most {most:g}"] if most < math.inf else []
    kind = "a whole number" if is_whole else "a number"
    return " ".join([kind, " and ".join(lows + highs)]).strip()

"""When did each mended unit fail, and from which age to which was it watched?"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, Self, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from turnscrew.core.model.wanted import (
    N_SHOWN,
    column,
    refuse,
    unlike_any,
    unlisted,
)
from turnscrew.errors import BadArgumentError

Floats = NDArray[np.float64]
EndedBy = Literal["time", "failure"]
Times = ArrayLike | Sequence[ArrayLike] | Mapping[str, ArrayLike]
Ages = float | Sequence[float] | Mapping[str, float]


@dataclass(frozen=True, slots=True, eq=False)
class Systems:
    """
    Failures of one or several mended units, laid end to end.

    Parameters
    ----------
    times
        Age at each failure, rising within a unit. [unit of age], shape (n_failures,)
    system
        Number of the unit of each failure, from 0. [1], shape (n_failures,)
    starts
        Age from which each unit was watched. [unit of age], shape (n_systems,)
    ends
        Age up to which it was watched. [unit of age], shape (n_systems,)
    termination
        ``time``: the end was set; ``failure``: the last failure ended it.
    """

    times: Floats
    system: NDArray[np.intp]
    starts: Floats
    ends: Floats
    termination: EndedBy

    @classmethod
    def of(
        cls,
        times: Times,
        end: Ages | None,
        *,
        start: Ages = 0.0,
        termination: EndedBy = "time",
    ) -> Self:
        """
        Lay out what was watched.

        Parameters
        ----------
        times
            Ages at failure of one unit, or those of each of several.
        end
            Age up to which it was watched, one for all or one for each; ``None`` for
            the last failure of each, where a failure ended it. [unit of age]
        start
            Age from which it was watched. [unit of age]
        termination
            What ended the watch.

        Returns
        -------
        Systems
            Sorted failures with the limits of the watch.

        Raises
        ------
        BadArgumentError
            If an age lies outside the watch of its unit, or an end is missing.
        """
        refuse(unlisted("termination", termination, get_args(EndedBy)))
        names, rows = _rows(times)
        starts = _ages("start", start, names)
        if end is None:
            ends = _last(names, rows, termination)
        else:
            ends = _ages("end", end, names)
        refuse(
            unlike_any("start", starts, least=0),
            unlike_any("end", ends, above=0),
        )
        system = np.repeat(np.arange(len(rows)), [len(row) for row in rows])
        flat = np.concatenate(rows) if rows else np.zeros(0)
        _refuse_outside(names, flat, system, starts, ends)
        place = np.lexsort((flat, system))
        made = cls(flat[place], system[place], starts, ends, termination)
        if termination == "failure":
            _refuse_other_ends(names, made)
        return made

    @property
    def n_failures(self) -> int:
        """Give the failures of all units. [1]."""
        return len(self.times)

    @property
    def n_systems(self) -> int:
        """Give the number of units. [1]."""
        return len(self.ends)

    @property
    def is_alike(self) -> bool:
        """Tell whether all were watched from new up to one age."""
        return bool(np.all(self.starts == 0) and np.all(self.ends == self.ends[0]))

    def inner(self) -> "Systems":
        """
        Leave out failures that ended the watch.

        Returns
        -------
        Systems
            Failures that came at random within the watch.
        """
        if self.termination == "time":
            return self
        is_last = np.append(self.system[1:] != self.system[:-1], True)
        keep = ~is_last[: len(self.times)]
        return Systems(
            self.times[keep], self.system[keep], self.starts, self.ends, "failure"
        )


def _rows(times: Times) -> tuple[list[str], list[Floats]]:
    if isinstance(times, Mapping):
        names = [str(name) for name in times]
        many: Sequence[Any] = list(times.values())
    elif _is_many(times):
        many = list(times)  # type: ignore[arg-type]
        names = [f"system {n + 1}" for n in range(len(many))]
    else:
        many, names = [times], [""]
    refuse("" if many else "times: found no system, wanted at least one")
    return names, [
        column(_where("times", name), row)
        for name, row in zip(names, many, strict=True)
    ]


def _is_many(times: Any) -> bool:
    if not isinstance(times, (Sequence, np.ndarray)) or isinstance(times, str):
        return False
    return len(times) > 0 and all(
        isinstance(row, (Sequence, np.ndarray)) and np.ndim(row) == 1 for row in times
    )


def _where(argument: str, name: str) -> str:
    return f"{argument} of {name}" if name else argument


def _ages(where: str, ages: Ages, names: list[str]) -> Floats:
    if isinstance(ages, Mapping):
        lacking = [name for name in names if name not in ages]
        refuse(*(f"{where} of {n}: found nothing, wanted an age" for n in lacking))
        return column(where, [ages[name] for name in names])
    made = column(where, ages)
    if len(made) == 1:
        return np.repeat(made, len(names))
    if len(made) != len(names):
        raise BadArgumentError(
            f"{where}: found {len(made)} ages, wanted one for each of {len(names)}"
        )
    return made


def _last(names: list[str], rows: list[Floats], termination: str) -> Floats:
    if termination == "time":
        raise BadArgumentError("end: found nothing, wanted an age where time ended it")
    refuse(
        *(
            f"{_where('times', name)}: found none, wanted the failure that ended it"
            for name, row in zip(names, rows, strict=True)
            if not len(row)
        )
    )
    return np.array([row.max() for row in rows])


def _refuse_outside(
    names: list[str],
    times: Floats,
    system: NDArray[np.intp],
    starts: Floats,
    ends: Floats,
) -> None:
    told = [
        f"{_where('start', names[n])}: found {starts[n]:g}, wanted below {ends[n]:g}"
        for n in np.flatnonzero(starts >= ends)[:N_SHOWN]
    ]
    low, high = starts[system], ends[system]
    first = np.searchsorted(system, system)
    for row in np.flatnonzero(~((times > low) & (times <= high)))[:N_SHOWN]:
        told.append(
            f"{_where('times', names[system[row]])}, row {row - first[row] + 1}: "
            f"found {times[row]:g}, wanted above {low[row]:g} and at most "
            f"{high[row]:g}"
        )
    refuse(*told)


def _refuse_other_ends(names: list[str], made: Systems) -> None:
    last = np.full(made.n_systems, np.nan)
    last[made.system] = made.times
    refuse(
        *(
            f"{_where('end', names[n])}: found {made.ends[n]:g}, wanted the last "
            f"failure at {last[n]:g}"
            for n in np.flatnonzero(last != made.ends)[:N_SHOWN]
        )
    )

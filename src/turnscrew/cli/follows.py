"""The command ``turnscrew follows``."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

import numpy as np

from turnscrew.cli.reading import spells_from
from turnscrew.cli.said import Wording, said, says_in
from turnscrew.core.model.amounts import counted
from turnscrew.core.reliability.follows import Following, follows
from turnscrew.papers.set_aside import written

CAUTION = (
    "Take it out of use and mark it. Mains adapters and packs are looked at by those "
    "who may under local rules; do not plug it in to see."
)
"""What to do first with something that may carry a fault."""


def show(path: Path, *, seed: int, q: float, as_json: bool, wording: Wording) -> None:
    """
    Say whether failures follow an accessory, a place or a person.

    Parameters
    ----------
    path
        The table of spells.
    seed
        Seed of chance, used only where there are too many arrangements to try all. [1]
    q
        Level for chances adjusted for all carriers. [1]
    as_json
        True for JSON.
    wording
        How what is printed is read.

    Raises
    ------
    BadFileError
        If the table does not fit, with every problem and its line.
    BadArgumentError
        If the table has no row.
    """
    says = says_in(wording, "follows")
    spells = spells_from(path)
    told = follows(
        spells.devices,
        spells.carriers,
        spells.failures,
        exposure=spells.days,
        rng=np.random.default_rng(seed),
    )
    if as_json:
        print(json.dumps({**asdict(told), "says": list(said(_lines(told, q), None))}))
        return
    print("\n".join(said(_lines(told, q), says)))


def _lines(told: Following, q: float) -> Iterator[str]:
    n = len(told.carriers)
    suspects = [one for one in told.carriers if one.p_adjusted <= q]
    if told.how == "nothing to compare":
        yield (
            "Nothing to compare: no device that failed was with two carriers in turn."
        )
        return
    for one in suspects:
        yield (
            f"Failures follow {written(one.name)}: {one.failures} with it where "
            f"{one.expected:.1f} were to be expected, in "
            f"{counted(one.n_units, 'device')} that came with it and without it; "
            f"chance {one.p_value:.4f}, {one.p_adjusted:.3f} with all {n} counted."
        )
        yield f"  {CAUTION}"
    if not suspects:
        yield f"Failures follow none of the {n} beyond chance."
    if told.p_any is not None:
        any_of = f"{told.p_any:.4f}, {told.how}"
        yield f"Chance that any is so far off if none matters: {any_of}."
    yield (
        "A device's own failures are shared out anew among its spells, "
        + ("by their days" if told.null == "exposure" else "each alike")
        + ", so that a weak device blames nobody."
    )
    for one in told.carriers[:10]:
        yield (
            f"  {written(one.name)}: {one.failures} seen, {one.expected:.1f} expected, "
            f"{counted(one.n_units, 'device')}, chance {one.p_value:.4f}"
        )

"""
Which device of the batch is which row of the customer's list, and what is left over?

Devices are matched one to one, surest first: serial and owner's number both equal; the
serial alone; the owner's number alone; a serial that is nearly equal, of the same
model. Where several rows would do, the one that agrees in most other fields is taken.
Case, blanks, hyphens and lost leading zeros do not count in comparing, but are told as
differences. A blank never equals a blank.
"""

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence

from turnscrew.core.model.batch import BatchLine, ListedDevice
from turnscrew.core.reconcile.answer import (
    Blank,
    Difference,
    Differing,
    Field,
    Match,
    Near,
    Reconciliation,
)
from turnscrew.core.reconcile.serials import (
    near_between,
    near_pairs,
    plain,
    slip_between,
    without_zeros,
)

_Key = Callable[[BatchLine | ListedDevice], str]


def reconciled(
    lines: Sequence[BatchLine],
    listed: Sequence[ListedDevice],
    models: Mapping[str, str] | None = None,
) -> Reconciliation:
    """
    Compare a batch with the customer's list, both ways.

    Parameters
    ----------
    lines
        The devices received.
    listed
        The list.
    models
        Our short name for other names of models, in small letters.

    Returns
    -------
    Reconciliation
        What is where, and what is doubtful.
    """
    pairs = _pairs(lines, listed)
    known = {line.model.casefold(): line.model for line in lines} | dict(models or {})
    matched: list[Match] = []
    differing: list[Differing] = []
    for line in lines:
        row = pairs.get(line.line)
        if row is None:
            continue
        differences = tuple(_differences(line, row, known))
        if differences:
            differing.append(Differing(line.line, row.row, differences))
        else:
            matched.append(Match(line.line, row.row))
    taken = {row.row for row in pairs.values()}
    return Reconciliation(
        matched=tuple(matched),
        differing=tuple(differing),
        missing=tuple(row for row in listed if row.row not in taken),
        extra=tuple(line.line for line in lines if line.line not in pairs),
        duplicate_serials=_groups((line.serial, line.line) for line in lines),
        duplicate_assets=_groups((line.asset, line.line) for line in lines),
        listed_twice=(
            *_groups((row.serial, row.row) for row in listed),
            *_groups((row.asset, row.row) for row in listed),
        ),
        near_serials=tuple(_near(lines, listed, pairs)),
        blanks=tuple(_blanks(lines)),
    )


def _pairs(
    lines: Sequence[BatchLine], listed: Sequence[ListedDevice]
) -> dict[int, ListedDevice]:
    pairs: dict[int, ListedDevice] = {}
    free = {row.row: row for row in listed}
    for key in _KEYS:
        _pair_by(key, lines, free, pairs)
    left = [line for line in lines if line.line not in pairs and line.serial]
    near = near_between(
        [line.serial for line in left], [row.serial for row in free.values()]
    )
    by_serial = {line.serial: line for line in left}
    rows = {row.serial: row for row in free.values() if row.serial}
    for pair in near:
        line, row = by_serial[pair.one], rows[pair.other]
        is_same = not row.model or row.model.casefold() == line.model.casefold()
        # Both have an owner's number that differs: then it is another device.
        is_other = bool(line.asset and row.asset)
        if is_same and not is_other and line.line not in pairs and row.row in free:
            pairs[line.line] = free.pop(row.row)
    return pairs


def _pair_by(
    key: _Key,
    lines: Sequence[BatchLine],
    free: dict[int, ListedDevice],
    pairs: dict[int, ListedDevice],
) -> None:
    rows: dict[str, list[ListedDevice]] = defaultdict(list)
    for row in free.values():
        if key(row):
            rows[key(row)].append(row)
    wishes: list[tuple[int, int, int]] = []
    for line in lines:
        if line.line not in pairs and key(line):
            wishes += [
                (-_agreement(line, row), line.line, row.row)
                for row in rows.get(key(line), ())
            ]
    for _, name, number in sorted(wishes):
        if name not in pairs and number in free:
            pairs[name] = free.pop(number)


def _both(bare: Callable[[str], str]) -> _Key:
    def key(one: BatchLine | ListedDevice) -> str:
        serial, asset = bare(one.serial), bare(one.asset)
        return f"{serial}\n{asset}" if serial and asset else ""

    return key


_KEYS: tuple[_Key, ...] = (
    _both(plain),
    _both(without_zeros),
    lambda one: plain(one.serial),
    lambda one: without_zeros(one.serial),
    lambda one: plain(one.asset),
    lambda one: without_zeros(one.asset),
)
"""What pairs a device and a row, surest first."""


def _agreement(line: BatchLine, row: ListedDevice) -> int:
    """Count the fields that agree, exact texts a little more."""
    pairs = (
        (line.serial, row.serial),
        (line.asset, row.asset),
        (line.model, row.model),
        (line.revision, _revision(row.revision)),
        (line.site, row.site),
    )
    return sum((plain(a) == plain(b)) + (a == b) for a, b in pairs if a and b)


def _revision(text: str) -> str:
    return re.sub(r"^\s*(revision|rev|version|ver|v)[\s.:]+", "", text, flags=re.I)


def _differences(
    line: BatchLine, row: ListedDevice, known: Mapping[str, str]
) -> Iterable[Difference]:
    numbers: tuple[tuple[Field, str, str], ...] = (
        ("serial", line.serial, row.serial),
        ("asset", line.asset, row.asset),
    )
    for field, here, there in numbers:
        if there and plain(here) != plain(there):
            is_zeros = without_zeros(here) == without_zeros(there)
            kind = "leading zeros" if is_zeros else slip_between(here, there)
            yield Difference(field, here, there, kind)
    model = known.get(row.model.casefold())
    if model is not None and model != line.model:
        yield Difference("model", line.model, row.model)
    there = _revision(row.revision).strip()
    if there and line.revision.casefold() != there.casefold():
        yield Difference("revision", line.revision, row.revision)


def _groups(numbered: Iterable[tuple[str, int]]) -> tuple[tuple[int, ...], ...]:
    groups: dict[str, list[int]] = defaultdict(list)
    for text, number in numbered:
        if plain(text):
            groups[plain(text)].append(number)
    return tuple(tuple(group) for group in groups.values() if len(group) > 1)


def _near(
    lines: Sequence[BatchLine],
    listed: Sequence[ListedDevice],
    pairs: Mapping[int, ListedDevice],
) -> Iterable[Near]:
    by_serial: dict[str, int] = {}
    for line in lines:
        by_serial.setdefault(line.serial, line.line)
    for pair in near_pairs([line.serial for line in lines]):
        two = sorted((by_serial[pair.one], by_serial[pair.other]))
        yield Near(tuple(two), 0, pair.kind)
    taken = {row.row for row in pairs.values()}
    left = {line.serial: line for line in lines if line.line not in pairs}
    rows = {row.serial: row for row in listed if row.row not in taken}
    for pair in near_between(tuple(left), tuple(rows)):
        yield Near((left[pair.one].line,), rows[pair.other].row, pair.kind)
    for line in lines:
        row = pairs.get(line.line)
        kind = slip_between(line.serial, row.serial) if row else ""
        if row and kind:
            yield Near((line.line,), row.row, kind)


def _blanks(lines: Iterable[BatchLine]) -> Iterable[Blank]:
    for line in lines:
        numbers: tuple[tuple[Field, str], ...] = (
            ("asset", line.asset),
            ("serial", line.serial),
        )
        blank: tuple[Field, ...] = tuple(f for f, text in numbers if not plain(text))
        if blank:
            yield Blank(line.line, blank)

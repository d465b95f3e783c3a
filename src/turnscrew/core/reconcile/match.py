"""
Which device of the batch is which row of the customer's list, and what is left over?

Devices are matched one to one, surest first: serial and owner's number both equal; the
serial alone; the owner's number alone; a serial that is nearly equal, of the same
model. Where several rows would do, the one that agrees in most other fields is taken.
Near serials are told within the batch, between devices and rows that are left over, and
where a device and its row differ by a slip.
Case, blanks, dashes and lost leading zeros do not count in comparing; lost zeros are
told as a difference. A blank never equals a blank.
"""

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import TypeVar

from turnscrew.core.model.batch import BatchLine, ListedDevice
from turnscrew.core.model.serials import plain
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
    slip_between,
    without_zeros,
)

_One = TypeVar("_One", BatchLine, ListedDevice)
_Key = Callable[[BatchLine | ListedDevice], str]
_Profile = tuple[str, str, str, str, str]
"""Serial, owner's number, model, revision, place; blank where nothing agrees."""

_REVISION = re.compile(
    r"\s*(?:(?:revision|rev|version|ver|v)[\s.:]+|(?:rev|ver|v)(?=\d))", re.IGNORECASE
)


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
    known = {line.model.casefold(): line.model for line in lines} | dict(models or {})
    pairs = _sure_pairs(lines, listed)
    near = _near_left(lines, listed, pairs)
    _pair_near(near, known, pairs)
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
        near_serials=tuple(_near(lines, listed, pairs, near)),
        blanks=tuple(_blanks(lines)),
    )


def _sure_pairs(
    lines: Sequence[BatchLine], listed: Sequence[ListedDevice]
) -> dict[int, ListedDevice]:
    """Pair by equal numbers, surest first."""
    pairs: dict[int, ListedDevice] = {}
    free = {row.row: row for row in listed}
    for key in _KEYS:
        rows: dict[str, list[ListedDevice]] = defaultdict(list)
        for row in free.values():
            if key(row):
                rows[key(row)].append(row)
        wishes: dict[str, list[BatchLine]] = defaultdict(list)
        for line in lines:
            if line.line not in pairs and key(line) in rows:
                wishes[key(line)].append(line)
        for name, some in wishes.items():
            for line, row in _best_first(some, rows[name]):
                pairs[line.line] = free.pop(row.row)
    return pairs


def _best_first(
    lines: Sequence[BatchLine], rows: Sequence[ListedDevice]
) -> Iterator[tuple[BatchLine, ListedDevice]]:
    """
    Pair what agrees most, then by number.

    Hundreds may bear the same word for a number. Devices that agree with the same rows
    are looked at together, so that not all are compared with all.
    """
    lines_of, rows_of = _profiles(lines, rows), _profiles(rows, lines)
    levels: dict[int, dict[_Profile, list[_Profile]]] = defaultdict(dict)
    for here in lines_of:
        for there in rows_of:
            level = levels[_agreement(here, there)]
            level.setdefault(here, []).append(there)
    left = {line.line: (line, here) for here, some in lines_of.items() for line in some}
    stacks = {
        there: sorted(some, key=lambda row: -row.row) for there, some in rows_of.items()
    }
    for agreement in sorted(levels, reverse=True):
        for number in sorted(left):
            line, here = left[number]
            stack = [stacks[p] for p in levels[agreement].get(here, ()) if stacks[p]]
            if stack:
                del left[number]
                yield line, min(stack, key=lambda rows: rows[-1].row).pop()


def _profiles(
    ones: Sequence[_One], others: Sequence[BatchLine] | Sequence[ListedDevice]
) -> dict[_Profile, list[_One]]:
    """Group by the texts that agree with something on the other side."""
    columns = zip(*map(_texts_of, others), strict=True)
    shared = [{plain(text) for text in column} for column in columns]
    groups: dict[_Profile, list[_One]] = defaultdict(list)
    for one in ones:
        serial, asset, model, revision, site = (
            text if plain(text) in texts else ""
            for text, texts in zip(_texts_of(one), shared, strict=True)
        )
        groups[serial, asset, model, revision, site].append(one)
    return groups


def _texts_of(one: BatchLine | ListedDevice) -> _Profile:
    return one.serial, one.asset, one.model, _revision(one.revision), one.site


def _near_left(
    lines: Sequence[BatchLine],
    listed: Sequence[ListedDevice],
    pairs: Mapping[int, ListedDevice],
) -> list[tuple[BatchLine, ListedDevice, str]]:
    """Find devices and rows, both left over, whose serials are near."""
    taken = {row.row for row in pairs.values()}
    # The first of several with one serial stands for all; they are told as a group.
    line_of: dict[str, BatchLine] = {}
    row_of: dict[str, ListedDevice] = {}
    for line in lines:
        if line.line not in pairs:
            line_of.setdefault(line.serial, line)
    for row in listed:
        if row.row not in taken:
            row_of.setdefault(row.serial, row)
    near = near_between(tuple(line_of), tuple(row_of))
    return [(line_of[pair.one], row_of[pair.other], pair.kind) for pair in near]


def _pair_near(
    near: Iterable[tuple[BatchLine, ListedDevice, str]],
    known: Mapping[str, str],
    pairs: dict[int, ListedDevice],
) -> None:
    taken: set[int] = set()
    for line, row, _ in near:
        is_same = not row.model or known.get(row.model.casefold()) == line.model
        # Both have an owner's number that differs: then it is another device.
        is_other = bool(plain(line.asset) and plain(row.asset))
        if is_same and not is_other and line.line not in pairs and row.row not in taken:
            pairs[line.line] = row
            taken.add(row.row)


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


def _agreement(here: _Profile, there: _Profile) -> int:
    """Count the fields that agree, exact texts a little more."""
    pairs = zip(here, there, strict=True)
    return sum((plain(a) == plain(b)) + (a == b) for a, b in pairs if a and b)


def _revision(text: str) -> str:
    return _REVISION.sub("", text, count=1).strip() if text else ""


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
    # Of names that nobody knows here, one without a figure tells a kind, such as a
    # tablet, and a longer one that holds the model is that model.
    is_a_model = any(one.isdigit() for one in row.model)
    is_other = is_a_model and plain(line.model) not in plain(row.model)
    if is_other if model is None else model != line.model:
        yield Difference("model", line.model, row.model)
    there = _revision(row.revision)
    if there and _revision(line.revision).casefold() != there.casefold():
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
    near: Iterable[tuple[BatchLine, ListedDevice, str]],
) -> Iterable[Near]:
    by_serial: dict[str, int] = {}
    for line in lines:
        by_serial.setdefault(line.serial, line.line)
    # Without a list nothing on it can bear witness.
    doubtful = [line.serial for line in lines if listed and line.line not in pairs]
    for pair in near_pairs([line.serial for line in lines], doubtful):
        two = sorted((by_serial[pair.one], by_serial[pair.other]))
        yield Near(tuple(two), 0, pair.kind)
    taken = {row.row for row in pairs.values()}
    for line, row, kind in near:
        if line.line not in pairs and row.row not in taken:
            yield Near((line.line,), row.row, kind)
    for line in lines:
        paired = pairs.get(line.line)
        kind = slip_between(line.serial, paired.serial) if paired else ""
        if paired and kind:
            yield Near((line.line,), paired.row, kind)


def _blanks(lines: Iterable[BatchLine]) -> Iterable[Blank]:
    for line in lines:
        numbers: tuple[tuple[Field, str], ...] = (
            ("asset", line.asset),
            ("serial", line.serial),
        )
        blank: tuple[Field, ...] = tuple(f for f, text in numbers if not plain(text))
        if blank:
            yield Blank(line.line, blank)

"""How is a fault table read, with every problem in it told at once?"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from turnscrew.core.diagnose.evidence import CHECK_OUT, NO_WORD
from turnscrew.core.diagnose.problem import VERIFY, WRITE_OFF
from turnscrew.core.electrics.equations import EQUATIONS
from turnscrew.core.model.device import Device
from turnscrew.core.model.faults import (
    NOTHING_WRONG,
    OTHERS,
    Fault,
    FaultTable,
    FaultTest,
    KnownGood,
)
from turnscrew.core.model.nearest import nearest
from turnscrew.core.model.quantities import SUM_TOLERANCE
from turnscrew.files.json_text import Path, in_words
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.shape import Place, noun_of
from turnscrew.files.yaml_text import Branch, placed, read_tree

_Fault = tuple[Path, str, str]


def read_faults(text: str, device: Device | None = None) -> FaultTable:
    """
    Read a fault table.

    Parameters
    ----------
    text
        The table.
    device
        The device whose parts and joints the table may name; not checked without one.

    Returns
    -------
    FaultTable
        What the table says.

    Raises
    ------
    BadFileError
        If anything in the text does not fit, with all problems.
    """
    tree, told = read_tree(text, "keys such as faults_of: and faults:")
    problems = list(told)
    table = noun_of(tree, FaultTable, Place((), problems))
    if isinstance(table, FaultTable):
        unread = [problem.where for problem in problems]
        for path, found, wanted in _faults_in(_whole(table, tree), device):
            if not _is_in(path, unread):
                problems.append(placed(tree, path, found, wanted))
    refuse_if_any(problems)
    assert isinstance(table, FaultTable)
    return table


def _whole(table: FaultTable, tree: Branch) -> FaultTable:
    """Put stand-ins for entries that could not be read, so that their names count."""
    return replace(
        table,
        faults={name: Fault(1.0) for name in _names_in(tree, "faults")} | table.faults,
        known_good={name: KnownGood("") for name in _names_in(tree, "known_good")}
        | table.known_good,
    )


def _names_in(tree: Branch, section: str) -> tuple[str, ...]:
    node = tree.items.get(section)
    names = node.items if isinstance(node, Branch) else {}
    # A key given twice is kept under a name that begins with a line break.
    return tuple(name for name in names if not name.startswith("\n"))


def _is_in(path: Path, unread: Iterable[str]) -> bool:
    """Say whether something at this path, or under it, could not be read."""
    where = in_words(path)
    return any(
        place == where or place.startswith((f"{where}.", f"{where}["))
        for place in unread
    )


def _faults_in(table: FaultTable, device: Device | None) -> Iterator[_Fault]:
    yield from _weightless(table)
    yield from _reserved(table)
    yield from _uncounted(table)
    for name, test in table.tests.items():
        yield from _test_faults(table, name, test)
    for name, repair in table.repairs.items():
        path = ("repairs", name, "mends")
        yield from _unknown(path, repair.mends, tuple(table.faults))
        if name in table.tests:
            yield ("repairs", name), f"{name}, also a test", "each name once"
        if repair.keep and not repair.price:
            yield ("repairs", name, "keep"), "keep without a price", "the part's price"
    for name, sign in table.signs.items():
        path = ("signs", name, "shown_by")
        yield from _unknown(path, sign.chances, _chance_names(table))
        yield from _lacking(path, sign.chances, table)
    if device is not None:
        yield from _not_on_device(table, device)


def _weightless(table: FaultTable) -> Iterator[_Fault]:
    if not any(fault.weight > 0 for fault in table.faults.values()):
        yield ("faults",), "no weight above 0", "at least one fault that happens"
    if table.nothing_wrong >= 1:
        yield ("nothing_wrong",), f"{table.nothing_wrong:g}", "a share below 1"


def _uncounted(table: FaultTable) -> Iterator[_Fault]:
    """Find faults counted as something in nobody knows which category."""
    if table.prior.counted_in:
        return
    for name, fault in table.faults.items():
        if fault.counted_as:
            found = f"{', '.join(fault.counted_as)} without a category"
            wanted = "counted_in under prior, as Laptop"
            yield ("faults", name, "counted_as"), found, wanted


def _reserved(table: FaultTable) -> Iterator[_Fault]:
    """Find names that mean something else wherever they are used."""
    taken: tuple[tuple[str, Iterable[str], tuple[str, ...]], ...] = (
        ("faults", table.faults, (OTHERS, NOTHING_WRONG)),
        ("tests", table.tests, (CHECK_OUT, VERIFY, WRITE_OFF)),
        ("repairs", table.repairs, (CHECK_OUT, VERIFY, WRITE_OFF)),
    )
    for section, names, words in taken:
        for name in names:
            if name in words:
                yield (section, name), f"the name {name}", "another name"
    for name, test in table.tests.items():
        for outcome in NO_WORD:
            if outcome in test.outcomes:
                path = ("tests", name, "outcomes")
                yield path, outcome, "no such outcome: it can be answered anyway"


def _chance_names(table: FaultTable) -> tuple[str, ...]:
    return (*table.faults, OTHERS, NOTHING_WRONG)


def _unknown(
    path: Path, named: Mapping[str, object], known: tuple[str, ...]
) -> Iterator[_Fault]:
    for name in named:
        if name not in known:
            wanted = nearest(name, known) or "the name of a fault"
            yield (*path, name), f"the unknown fault {name}", wanted


def _lacking(
    path: Path, named: Mapping[str, object], table: FaultTable
) -> Iterator[_Fault]:
    if OTHERS not in named:
        lacks = [name for name in table.faults if name not in named]
        if lacks:
            yield path, f"nothing for {', '.join(lacks)}", "them, or a line for others"
    if NOTHING_WRONG not in named:
        yield path, f"nothing for {NOTHING_WRONG}", f"a line for {NOTHING_WRONG}"


def _test_faults(table: FaultTable, name: str, test: FaultTest) -> Iterator[_Fault]:
    path: Path = ("tests", name)
    outcomes = test.all_outcomes
    if test.reading and test.outcomes:
        yield (*path, "outcomes"), "outcomes beside a reading", "one of them"
    if not outcomes:
        yield path, "no outcomes", "outcomes or a reading with limits"
    for outcome in {o for o in outcomes if outcomes.count(o) > 1}:
        yield (*path, "outcomes"), f"{outcome} twice", "each outcome once"
    yield from _unknown((*path, "means"), test.means, _chance_names(table))
    yield from _lacking((*path, "means"), test.means, table)
    yield from _row_faults(path, test)
    if test.figure and test.figure not in EQUATIONS:
        wanted = nearest(test.figure, EQUATIONS) or "the name of a reckoning"
        yield (*path, "figure"), test.figure, wanted
    for item in test.known_good:
        if item not in table.known_good:
            wanted = nearest(item, table.known_good) or "a name under known_good"
            yield (*path, "known_good"), f"the unknown {item}", wanted


def _row_faults(path: Path, test: FaultTest) -> Iterator[_Fault]:
    outcomes = test.all_outcomes
    if not outcomes:
        return
    for fault, row in test.means.items():
        if len(row) != len(outcomes):
            yield (
                (*path, "means", fault),
                f"{len(row)} chances",
                f"{len(outcomes)}, one for each of {', '.join(outcomes)}",
            )
        elif abs(sum(row) - 1) > SUM_TOLERANCE:
            found = f"chances that sum to {sum(row):g}"
            yield (*path, "means", fault), found, "a sum of 1"
    rows = [row for row in test.means.values() if len(row) == len(outcomes)]
    for o, outcome in enumerate(outcomes if rows else ()):
        # A reading needs no way to be low if it has no lower limit.
        if not any(row[o] > 0 for row in rows) and not test.reading:
            yield (
                (*path, "outcomes"),
                f"{outcome}, which nothing can give",
                "an outcome with a chance above 0 for something",
            )


def _not_on_device(table: FaultTable, device: Device) -> Iterator[_Fault]:
    known = (*device.parts, *device.joints)
    if table.family != device.name:
        yield ("faults_of",), table.family, f"{device.name}, the device's name"
    actions = [(("tests", n), t.reach) for n, t in table.tests.items()]
    actions += [(("repairs", n), r.reach) for n, r in table.repairs.items()]
    for path, reach in actions:
        for name in reach:
            if name not in known:
                wanted = nearest(name, known) or "a part or joint of the device"
                yield (*path, "reach"), f"{name}, which the device lacks", wanted
    for name, fault in table.faults.items():
        if fault.part and fault.part not in known:
            wanted = nearest(fault.part, known)
            if wanted:
                yield ("faults", name, "part"), fault.part, wanted

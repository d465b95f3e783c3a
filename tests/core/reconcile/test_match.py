"""Does the comparison find every difference, both ways?"""

import random

import pytest

from oracles.reconcile_brute import groups_of, pairs_of
from turnscrew.core.model.batch import BatchLine, ListedDevice
from turnscrew.core.reconcile.match import reconciled


def line(number: int, serial: str, asset: str = "", **facts) -> BatchLine:
    usual = {"model": "L240", "revision": "A"}
    return BatchLine(number, serial=serial, asset=asset, **(usual | facts))


def row(number: int, serial: str, asset: str = "", **facts) -> ListedDevice:
    return ListedDevice(number, asset=asset, serial=serial, **facts)


def small_case(seed: int) -> tuple[list[BatchLine], list[ListedDevice]]:
    """Few numbers over a small alphabet, so that everything clashes."""
    chance = random.Random(seed)
    serials = ["", "K7", "k-7", "K07", "M4", "M 4", "P900", "P0900"]
    assets = ["", "X1", "X01", "x1", "Y2"]
    lines = [
        line(
            n, chance.choice(serials), chance.choice(assets),
            model=chance.choice(["L240", "V80"]), site=chance.choice(["", "Office"]),
        )
        for n in range(1, chance.randint(1, 6))
    ]  # fmt: skip
    rows = [
        row(
            n, chance.choice(serials), chance.choice(assets),
            model=chance.choice(["", "L240"]), site=chance.choice(["", "Office"]),
        )
        for n in range(2, chance.randint(2, 7))
    ]  # fmt: skip
    return lines, rows


@pytest.mark.parametrize("block", range(10))
def test_it_pairs_as_looking_at_every_pair_does(block) -> None:
    for seed in range(block * 300, block * 300 + 300):
        lines, rows = small_case(seed)
        found = reconciled(lines, rows)
        pairs = {one.line: one.row for one in (*found.matched, *found.differing)}

        wanted = pairs_of(lines, rows)
        # Near serials may pair more, never less.
        assert wanted == {n: pairs.get(n) for n in wanted}, seed


def larger_case(seed: int) -> tuple[list[BatchLine], list[ListedDevice]]:
    """Many devices under few numbers, so that all else must tell them apart."""
    chance = random.Random(seed)
    serials, assets = ["unknown", "Unknown", "K7", ""], ["none", "X1", "X01", ""]

    def facts() -> dict[str, str]:
        return {
            "model": chance.choice(["L240", "l240", "V80"]),
            "revision": chance.choice(["A", "b", "B", ""]),
            "site": chance.choice(["Office", "office", "Ward", ""]),
        }

    lines = [
        line(n, chance.choice(serials), chance.choice(assets), **facts())
        for n in range(1, chance.randint(8, 16))
    ]
    rows = [
        row(n, chance.choice(serials), chance.choice(assets), **facts())
        for n in range(2, chance.randint(8, 16))
    ]
    return lines, rows


@pytest.mark.parametrize("block", range(8))
def test_it_pairs_a_crowd_as_looking_at_every_pair_does(block) -> None:
    for seed in range(block * 50, block * 50 + 50):
        lines, rows = larger_case(seed)
        found = reconciled(lines, rows)
        pairs = {one.line: one.row for one in (*found.matched, *found.differing)}

        assert pairs_of(lines, rows) == pairs, seed


@pytest.mark.parametrize("block", range(4))
def test_groups_and_blanks_are_those_that_looking_at_all_finds(block) -> None:
    for seed in range(block * 300, block * 300 + 300):
        lines, rows = small_case(seed)
        found = reconciled(lines, rows)

        assert groups_of(lines, "serial") == found.duplicate_serials
        assert groups_of(lines, "asset") == found.duplicate_assets
        assert (
            *groups_of(rows, "serial"),
            *groups_of(rows, "asset"),
        ) == found.listed_twice
        assert [
            (one.line, tuple(f for f in ("asset", "serial") if not getattr(one, f)))
            for one in lines
            if not (one.asset and one.serial)
        ] == [(blank.line, blank.fields) for blank in found.blanks]


@pytest.mark.parametrize("block", range(4))
def test_every_device_and_every_row_is_in_exactly_one_place(block) -> None:
    for seed in range(block * 500, block * 500 + 500):
        lines, rows = small_case(seed)
        found = reconciled(lines, rows)
        here = [one.line for one in (*found.matched, *found.differing)]
        there = [one.row for one in (*found.matched, *found.differing)]

        assert sorted([*here, *found.extra]) == [one.line for one in lines]
        assert sorted([*there, *(r.row for r in found.missing)]) == [
            r.row for r in rows
        ]


def test_it_finds_one_missing_and_one_extra_when_the_totals_agree() -> None:
    lines = [line(n, f"PL3-{n:05}", f"SHN-{n:04}") for n in range(1, 61)]
    rows = [row(n + 1, f"PL3-{n:05}", f"SHN-{n:04}") for n in range(1, 61) if n != 52]
    rows.append(row(99, "TV8-90315", "SHN-0688"))
    found = reconciled(lines, rows)

    assert (59, (52,), ["SHN-0688"]) == (
        len(found.matched),
        found.extra,
        [one.asset for one in found.missing],
    )


def test_a_serial_given_twice_is_told_apart_by_the_owners_number() -> None:
    lines = [line(18, "GR5-24870", "SHN-0277"), line(49, "GR5-24870", "SHN-0379")]
    rows = [row(2, "GR5-24870", "SHN-0379"), row(3, "GR5-24870", "SHN-0277")]
    found = reconciled(lines, rows)

    assert {18: 3, 49: 2} == {one.line: one.row for one in found.matched}
    assert ((18, 49),) == found.duplicate_serials
    assert ((2, 3),) == found.listed_twice


def test_a_blank_never_equals_a_blank() -> None:
    found = reconciled([line(1, "", ""), line(2, "", "")], [row(2, "", "")])

    assert ((1, 2), 1) == (found.extra, len(found.missing))
    assert () == found.duplicate_serials
    assert [("asset", "serial")] * 2 == [blank.fields for blank in found.blanks]


@pytest.mark.parametrize(
    ("here", "there", "told"),
    [
        (line(1, "K7", "X1"), row(2, "K7", "X1", revision="rev B"), ["revision"]),
        (line(1, "K7", "X1"), row(2, "K7", "X1", revision="Rev. a"), []),
        (line(1, "K7", "X1"), row(2, "K7", "X1", model="V80"), ["model"]),
        (line(1, "K7", "X1"), row(2, "K7", "X1", model="tablet"), []),
        (line(1, "K7", "X1"), row(2, "K7", "X1", model="T500"), ["model"]),
        (
            line(1, "K7", "X1", model="L240"),
            row(2, "K7", "X1", model="notebook l-240, black"),
            [],
        ),
        (line(1, "K7", "X1"), row(2, "K7", ""), []),
        (line(1, "K7", ""), row(2, "K7", "X1"), ["asset"]),
        (line(1, "K7", "X1"), row(2, "Q55", "X1"), ["serial"]),
        (line(1, "K007", "X1"), row(2, "K7", "X1"), ["serial"]),
    ],
)
def test_it_tells_each_field_that_differs(here, there, told) -> None:
    others = [line(9, "Z99", "W9", model="V80")]
    found = reconciled([here, *others], [there])

    assert told == [d.field for one in found.differing for d in one.differences]


def test_lost_leading_zeros_match_and_are_told() -> None:
    found = reconciled([line(1, "00871", "007")], [row(2, "871", "7")])

    assert ["leading zeros", "leading zeros"] == [
        difference.kind for difference in found.differing[0].differences
    ]


def test_a_slip_pairs_what_nothing_else_pairs() -> None:
    found = reconciled([line(1, "PL3-71903", "")], [row(2, "PL3-79103", "SHN-1")])

    assert "neighbours swapped" == found.differing[0].differences[0].kind
    assert ["neighbours swapped"] == [near.kind for near in found.near_serials]


def test_a_slip_never_pairs_two_owners_numbers() -> None:
    found = reconciled([line(1, "PL3-71903", "SHN-2")], [row(2, "PL3-79103", "SHN-1")])

    assert (1,) == found.extra
    assert ["neighbours swapped"] == [near.kind for near in found.near_serials]


def test_without_a_list_everything_is_extra() -> None:
    found = reconciled([line(1, "K7"), line(2, "M4")], [])

    assert ((1, 2), ()) == (found.extra, found.missing)


def test_another_name_of_a_model_is_no_difference() -> None:
    one, two = line(1, "K7"), line(2, "M4", model="V80")
    listed = [row(2, "K7", model="Pellorin L240"), row(3, "M4", model="Pellorin L240")]
    found = reconciled([one, two], listed, {"pellorin l240": "L240"})

    assert [1] == [match.line for match in found.matched]
    assert ["model"] == [d.field for d in found.differing[0].differences]


def test_thousands_under_one_word_are_paired_at_once() -> None:
    lines = [line(n, "unknown", f"X{n}", site=f"W{n % 7}") for n in range(1, 3001)]
    rows = [row(n, "unknown", f"Y{n}", site=f"W{n % 5}") for n in range(1, 3001)]
    found = reconciled(lines, rows)

    assert (3000, (), ()) == (len(found.differing), found.extra, found.missing)


def test_an_empty_list_is_told_from_one_where_nothing_fits() -> None:
    here = [line(1, "K7")]

    assert reconciled(here, []).is_list_empty
    assert not reconciled(here, [row(2, "Q99")]).is_list_empty
    assert not reconciled(here, [row(2, "K7")]).is_list_empty


@pytest.mark.parametrize(
    ("here", "there"),
    [("1", "rev1"), ("1", "v1"), ("rev 2", "2"), ("B", "Rev. B"), ("b", "Version: B")],
)
def test_a_word_before_a_revision_is_no_difference(here, there) -> None:
    found = reconciled([line(1, "K7", revision=here)], [row(2, "K7", revision=there)])

    assert 1 == len(found.matched)


def test_a_slip_pairs_a_model_under_its_other_name() -> None:
    here, there = line(1, "PL3-71903"), row(2, "PL3-79103", model="Pellorin L240")

    assert (1,) == reconciled([here], [there]).extra
    assert () == reconciled([here], [there], {"pellorin l240": "L240"}).extra


def test_left_over_numbers_that_look_alike_to_a_reader_do_not_trip_it() -> None:
    lines = [line(1, "K-7", "X1"), line(2, "K8", "X2"), line(3, "k7", "X3")]
    found = reconciled(lines, [row(2, "K7", "X9")])

    assert [1] == [one.line for one in found.differing]
    assert ((1, 3),) == found.duplicate_serials


def test_it_tells_the_facts_of_a_batch_of_sixty() -> None:
    serial = {n: f"PL3-{(n * 7919) % 100_000:05}" for n in range(1, 61)}
    serial[49] = serial[18]
    asset = {n: f"SHN-{n:04}" for n in range(1, 61)} | {27: ""}
    lines = [
        line(n, serial[n], asset[n], revision="2" if n == 31 else "1")
        for n in range(1, 61)
    ]
    rows = [
        row(n + 1, serial[n], asset[n], revision="rev 1", model="L240")
        for n in range(1, 61)
        if n != 52
    ]
    rows.append(row(90, "TV8-90315", "SHN-0688", revision="rev 1", model="V80"))
    found = reconciled(lines, rows)

    assert (60, 60, 58, 1, 1, 1) == (
        len(lines),
        len(rows),
        len(found.matched),
        len(found.differing),
        len(found.missing),
        len(found.extra),
    )
    assert (31, "revision") == (
        found.differing[0].line,
        found.differing[0].differences[0].field,
    )
    assert (52, "SHN-0688") == (found.extra[0], found.missing[0].asset)
    assert ((18, 49),) == found.duplicate_serials
    assert [(27, ("asset",))] == [(one.line, one.fields) for one in found.blanks]

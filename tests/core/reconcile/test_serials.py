"""Are slips in serial numbers found, and chance neighbours left alone?"""

import random
import string

import pytest
from rapidfuzz.distance import OSA

from turnscrew.core.model.serials import plain
from turnscrew.core.reconcile.serials import (
    near_between,
    near_pairs,
    slip_between,
)

ALNUM = string.ascii_uppercase + string.digits


def random_serials(chance: random.Random, shape: str, n: int) -> list[str]:
    """Distinct serials: 9 stands for a digit, X for a letter or digit."""
    found: set[str] = set()
    while len(found) < n:
        found.add(
            "".join(
                chance.choice(string.digits)
                if c == "9"
                else chance.choice(ALNUM)
                if c == "X"
                else c
                for c in shape
            )
        )
    return sorted(found)


@pytest.mark.parametrize(
    "shape",
    ["PL3-99999", "TV8-999999", "SN9999999", "99999999", "XXXXXX", "XXXXXXXXXX"],
)
def test_it_seldom_flags_distinct_serials(shape) -> None:
    serials = random_serials(random.Random(5), shape, 10_000)
    flagged = {text for pair in near_pairs(serials) for text in (pair.one, pair.other)}

    assert len(flagged) <= 0.02 * len(serials)


@pytest.mark.parametrize("n", [200, 600, 2000, 5000, 10_000])
@pytest.mark.parametrize(
    "shapes",
    [
        ("PL3-99999", "TV8-99999", "GR5-99999"),
        ("PL399999", "TV899999", "GR599999"),
        ("11-99999", "12-99999", "47-99999"),
        ("9999X",),
        ("XXXX",),
        ("XXXXX",),
    ],
)
def test_it_seldom_flags_numbers_of_several_makes(shapes, n) -> None:
    chance = random.Random(n)
    serials = [
        text
        for shape in shapes
        for text in random_serials(chance, shape, n // len(shapes))
    ]
    flagged = {text for pair in near_pairs(serials) for text in (pair.one, pair.other)}

    assert len(flagged) <= 0.02 * len(serials)


def test_it_finds_a_pair_that_stands_alone() -> None:
    assert ["one character"] == [p.kind for p in near_pairs(["PL3-71903", "PL3-71908"])]
    assert ["characters easily confused"] == [
        p.kind for p in near_pairs(["GR5-O0871", "GR5-00871", "TV8-55555"])
    ]


def test_numbers_in_a_row_are_no_slips() -> None:
    assert () == near_pairs([f"PL3-719{n:02}" for n in range(20, 40)])


def test_a_crowd_needs_a_second_witness() -> None:
    crowd = random_serials(random.Random(2), "PL3-99999", 3000)
    slip = next(text for n in range(10) if (text := f"{crowd[0][:-1]}{n}") not in crowd)
    serials = [*crowd, slip]

    assert not any(slip in (p.one, p.other) for p in near_pairs(serials))
    found = near_pairs(serials, [slip])
    assert (crowd[0], slip) in {(p.one, p.other) for p in found}
    assert all(slip in (p.one, p.other) for p in found)


def test_a_list_that_fits_badly_is_no_witness() -> None:
    crowd = random_serials(random.Random(2), "PL3-99999", 3000)

    assert near_pairs(crowd) == near_pairs(crowd, crowd)


def test_pairs_come_in_the_order_of_the_serials() -> None:
    serials = ["K7-55512", "M4-99913", "M4-99931", "K7-55521", "K7-55572"]

    assert [
        ("K7-55512", "K7-55521"),
        ("K7-55512", "K7-55572"),
        ("M4-99913", "M4-99931"),
    ] == [(p.one, p.other) for p in near_pairs(serials)]


@pytest.mark.parametrize(
    ("one", "other", "kind"),
    [
        ("PL3-71903", "PL3-71908", "one character"),
        ("PL3-71903", "PL3-79103", "neighbours swapped"),
        ("PL3-71903", "PL3-7I9O3", "characters easily confused"),
        ("GR5-0O871", "GRS-00871", "characters easily confused"),
        ("PL3-71903", "PL3-7190", "one character more"),
        ("00123-7", "123-7", "leading zeros"),
        ("PL3-00042", "PL3-42", "leading zeros"),
    ],
)
def test_it_names_each_slip(one, other, kind) -> None:
    others = random_serials(random.Random(1), "PL3-99999", 18)

    found = {(p.one, p.other): p.kind for p in near_pairs([one, *others, other])}

    assert kind == (found.get((one, other)) or found.get((other, one)))
    assert kind == slip_between(one, other) == slip_between(other, one)


def test_case_blanks_and_hyphens_are_no_difference() -> None:
    assert plain("pl3 71903") == plain("PL3-71903")
    assert () == near_pairs(["pl3 71903", "PL3-71903"])


def test_a_blank_is_near_to_nothing() -> None:
    assert () == near_pairs(["", " ", "A", ""])
    assert () == near_between(["", "A1"], ["", " "])
    assert "" == slip_between("", "A")


def test_it_finds_planted_slips_in_a_batch_of_sixty() -> None:
    chance = random.Random(11)
    missed = 0
    for _ in range(200):
        serials = [
            text
            for prefix, n in (("PL3-99999", 20), ("TV8-99999", 26), ("GR5-99999", 14))
            for text in random_serials(chance, prefix, n)
        ]
        first = chance.choice(serials)
        at = chance.randrange(4, 9)
        slip = first[:at] + chance.choice(string.digits) + first[at + 1 :]
        if slip in serials:
            continue
        pairs = {frozenset((p.one, p.other)) for p in near_pairs([*serials, slip])}
        missed += frozenset((first, slip)) not in pairs

    assert 0 == missed


@pytest.mark.parametrize("shape", ["99999", "PL3-99999", "XXXXXXXX"])
def test_it_seldom_misses_a_planted_slip_among_few(shape) -> None:
    chance = random.Random(6)
    missed = 0
    for _ in range(400):
        serials = random_serials(chance, shape, chance.randint(1, 12))
        first = chance.choice(serials)
        at = chance.randrange(len(shape) - 5, len(shape))
        digit = chance.choice([c for c in string.digits if c != first[at]])
        slip = first[:at] + digit + first[at + 1 :]
        pairs = {frozenset((p.one, p.other)) for p in near_pairs([*serials, slip])}
        missed += slip not in serials and frozenset((first, slip)) not in pairs

    # Five bare digits, nearly alike in all numbers, look like numbers in a row.
    assert missed <= (8 if shape == "99999" else 0)


def test_it_agrees_with_a_library_of_edit_distances() -> None:
    # Few numbers over a wide alphabet, so that chance says nothing against a pair.
    chance = random.Random(3)
    for _ in range(4000):
        n = chance.randint(2, 5)
        texts = ["".join(chance.choices("ACEFHJKMNPRTWXY", k=8)) for _ in range(n)]
        first = texts[0]
        at = chance.randrange(7)
        texts.append(
            chance.choice(
                [
                    first[:at] + "K" + first[at + 1 :],
                    first[:at] + first[at + 1] + first[at] + first[at + 2 :],
                    first[:at] + first[at + 1 :],
                    first[:at] + "P" + first[at:],
                    first[:at] + "PP" + first[at + 2 :],
                ]
            )
        )
        wanted = {
            frozenset((a, b))
            for i, a in enumerate(texts)
            for b in texts[i + 1 :]
            if a != b and OSA.distance(a, b) <= 1
        }
        found = {
            frozenset((a, b))
            for i, a in enumerate(texts)
            for b in texts[i + 1 :]
            if slip_between(a, b)
        }

        assert wanted == found


def test_the_index_gives_every_pair_the_distance_allows() -> None:
    chance = random.Random(4)
    for _ in range(1500):
        texts = ["".join(chance.choices("ACEF", k=chance.randint(5, 6))) for _ in "12"]
        one, other = texts
        pairs = near_between([one], [other])
        is_near = one != other and OSA.distance(one, other) <= 1

        assert is_near == bool(pairs), texts


@pytest.mark.parametrize(
    "text",
    ["a 1", "A-1", "A−1", "A—1", "A\u20111", "\u200bA1", "\ufeffA1", "'A1", '="A1"'],
)
def test_what_nobody_reads_in_a_number_does_not_count(text) -> None:
    assert "A1" == plain(text)

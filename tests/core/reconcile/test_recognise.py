"""Is a revision told by its marks as chance says, and is the best look found?"""

import random
from math import log2

import pytest

from oracles import recognise_brute as brute
from turnscrew.core.model.device import Device, Revision
from turnscrew.core.reconcile.recognise import (
    NUMBER_SLIP,
    OTHER,
    SERIAL,
    SLIP,
    Known,
    is_number_in,
    known_revisions,
    recognised,
    uncertainty_bits,
)

LOOKS = ("lid", "vents", "dots", "feet")
SHOWN = ("one", "two", "three")


def drawn(rng: random.Random) -> list[brute.Kind]:
    kinds: list[brute.Kind] = []
    for n in range(rng.randint(1, 5)):
        marks = {
            look: rng.choice(("yes", "no") if look == "feet" else SHOWN)
            for look in LOOKS
            if rng.random() < 0.7
        }
        begins = rng.choice(("", "A", "B", "AB"))
        kinds.append((f"kind {n}", marks, begins, rng.randint(0, 6)))
    return kinds


def known_as(kinds: list[brute.Kind]) -> list[Known]:
    return [
        Known(name, "", marks, (begins,) if begins else (), n)
        for name, marks, begins, n in kinds
    ]


@pytest.mark.parametrize("seeds", [range(n, n + 1000) for n in range(0, 4000, 1000)])
def test_it_agrees_with_listing_all_that_could_happen(seeds: range) -> None:
    n_set_aside = 0
    for seed in seeds:
        rng = random.Random(seed)
        kinds = drawn(rng)
        asked = {look for _, marks, _, _ in kinds for look in marks}
        seen = {
            look: rng.choice([*brute.options(kinds, look), ""])
            for look in sorted(asked)
            if rng.random() < 0.5
        }
        number = rng.choice(("", "A1", "B2", "AB3", "C4"))

        told = recognised(known_as(kinds), seen, number)

        n_set_aside += told.is_number_set_aside
        counted = "" if told.is_number_set_aside else number
        shares = brute.worlds(kinds, seen, counted)
        for one in told.candidates:
            wanted = float(shares[one.known.model])
            assert pytest.approx(wanted, abs=1e-12) == one.p, seed
        assert pytest.approx(brute.doubt(shares), abs=1e-9) == told.bits, seed
        after = {
            look: brute.doubt_after(kinds, shares, look)
            for look in asked
            if look not in seen
        }
        useful = {look: left for look, left in after.items() if told.bits - left > 1e-8}
        found = {one.look: one.bits_left for one in told.looks}
        assert set(useful) <= set(found) <= set(after), seed
        for look, left in found.items():
            assert pytest.approx(after[look], abs=1e-9) == left, seed
        if useful:
            least = min(after.values())
            assert pytest.approx(least, abs=1e-8) == told.looks[0].bits_left, seed
    assert n_set_aside > 0


def test_two_that_one_look_parts_are_a_channel_with_errors_and_erasures() -> None:
    """
    Meet a published figure: a binary channel with errors and erasures.

    With two alike revisions and one look the answer is wrong with half the slip and
    tells nothing ("something else") with the other half. What such a channel leaves of
    one bit is e + (1 - e) h(w / (1 - e)) for erasures e and errors w: T. M. Cover and
    J. A. Thomas, Elements of Information Theory, chapter on channel capacity, erasures
    and errors in a binary channel (from memory).
    """
    known = [Known("X", "1", {"vents": "two"}), Known("X", "2", {"vents": "three"})]
    e = w = SLIP / 2
    p = w / (1 - e)
    h = -p * log2(p) - (1 - p) * log2(1 - p)

    told = recognised(known, {})

    assert pytest.approx(1.0) == told.bits
    assert ("vents", ("three", "two", OTHER)) == (
        told.looks[0].look,
        told.looks[0].answers,
    )
    assert pytest.approx(e + (1 - e) * h, abs=1e-12) == told.looks[0].bits_left


def test_shares_sum_to_one_and_looks_never_add_doubt_on_average() -> None:
    for seed in range(500):
        kinds = drawn(random.Random(seed))
        told = recognised(known_as(kinds), {})

        assert pytest.approx(1.0) == sum(one.p for one in told.candidates)
        assert all(one.bits_left <= told.bits for one in told.looks)
        left = [round(one.bits_left, 9) for one in told.looks]
        assert sorted(left) == left


def test_the_order_of_revisions_and_of_looks_changes_nothing() -> None:
    for seed in range(300):
        rng = random.Random(seed)
        kinds = drawn(rng)
        looks = sorted({look for _, marks, _, _ in kinds for look in marks})
        seen = [(look, brute.options(kinds, look)[0]) for look in looks[:3]]
        told = recognised(known_as(kinds), dict(seen), "A1")
        other = recognised(known_as(kinds[::-1]), dict(seen[::-1]), "A1")

        assert pytest.approx({one.known.name: one.p for one in told.candidates}) == {
            one.known.name: one.p for one in other.candidates
        }
        assert pytest.approx(told.bits) == other.bits
        assert [one.look for one in told.looks] == [one.look for one in other.looks]


def test_nothing_measured_leaves_what_was_met_before() -> None:
    known = [Known("X", "1", {"vents": "two"}, n_before=8), Known("X", "2")]
    told = recognised(known, {})

    assert (0, False) == (told.n_seen, told.is_sure)
    assert [pytest.approx(0.9), pytest.approx(0.1)] == [
        one.p for one in told.candidates
    ]
    # However often it was met before, that alone never tells it.
    known = [Known("X", "1", {"vents": "two"}, n_before=1000), Known("X", "2")]
    assert not recognised(known, {}).is_sure


def test_a_tie_names_all_that_are_alike() -> None:
    known = [Known("X", name, {"vents": "two"}) for name in ("1", "2", "3")]
    told = recognised(known, {"vents": "two"})

    assert ["X 1", "X 2", "X 3"] == [one.known.name for one in told.tied]
    assert ((), False) == (told.looks, told.is_sure)


def test_what_could_not_be_seen_is_neither_for_nor_against() -> None:
    known = [Known("X", "1", {"vents": "two"}), Known("X", "2", {"vents": "three"})]
    told = recognised(known, {"vents": ""})

    assert [0.5, 0.5] == [one.p for one in told.candidates]
    assert 0 == told.n_seen
    assert () == told.looks
    assert all((one.fits, one.against) == ((), ()) for one in told.candidates)


def test_something_else_speaks_against_every_revision_that_says_otherwise() -> None:
    known = [Known("X", "1", {"vents": "two"}), Known("X", "2", {"vents": "three"})]
    told = recognised(known, {"vents": OTHER})

    assert told.fits_none
    assert not told.is_sure
    assert not recognised([*known, Known("Y")], {"vents": OTHER}).fits_none


def test_a_number_of_another_kind_gives_way_to_the_body() -> None:
    known = [
        Known("X", "1", {"vents": "two"}, ("XA",)),
        Known("X", "2", {"vents": "three"}, ("XB",)),
    ]
    told = recognised(known, {"vents": "three"}, "XA-17")

    assert told.is_number_set_aside
    assert "X 2" == told.best.known.name
    assert ((SERIAL,), ("vents",)) == (told.best.against, told.best.fits)
    assert not told.is_sure
    # A number alone is believed, less a little.
    alone = recognised(known, {}, "XA-17")
    assert not alone.is_number_set_aside
    n = NUMBER_SLIP / 2
    assert pytest.approx((1 - NUMBER_SLIP) / (1 - NUMBER_SLIP + n)) == alone.best.p


def test_a_number_lies_in_a_range_or_begins_as_said() -> None:
    assert is_number_in("pl3 00420", ("PL3-00100 to PL3-00499",))
    assert not is_number_in("PL3-00500", ("PL3-00100 to PL3-00499",))
    assert not is_number_in("PL3-420", ("PL3-00100 to PL3-00499",))
    assert is_number_in("PL3-1", ("TV8", "PL3"))
    assert not is_number_in("PL3-1", ("TV8", ""))
    assert is_number_in("s7-1", ("S7-",))
    assert not is_number_in("S7-1", ("S71-",))
    assert is_number_in("S71", ("S7-",))


def test_a_description_without_marks_is_told_by_its_sentence() -> None:
    two = Device(
        name="Two",
        tell="grey lid",
        revisions={"A": Revision(tell="three vents"), "B": Revision(tell="two vents")},
    )
    one = Device(name="One", tell="blue lid", serials=("ON",))
    known = known_revisions({"T": two, "O": one}, {("T", "B"): 4, ("O", ""): 2})

    assert ["T A", "T B", "O"] == [k.name for k in known]
    assert {
        "grey lid": "yes", "blue lid": "no", "three vents": "no", "two vents": "yes",
    } == known[1].marks  # fmt: skip
    assert [0, 4, 2] == [k.n_before for k in known]
    told = recognised(known, {"two vents": "yes"})
    assert "T B" == told.best.known.name
    assert ("yes", "no") == told.looks[0].answers


def test_marks_of_a_revision_stand_beside_those_of_its_family() -> None:
    device = Device(
        name="Two",
        marks={"lid": "grey"},
        serials=("TW",),
        revisions={
            "A": Revision(marks={"vents": "three"}, tell="three vents"),
            "B": Revision(
                marks={"vents": "two"}, serials=("TWB",), confirm="square can",
                order_after_confirm=True,
            ),
        },
    )  # fmt: skip
    first, second = known_revisions({"T": device}, {})

    assert {"lid": "grey", "vents": "three"} == first.marks
    assert (("TW",), ("TWB",)) == (first.serials, second.serials)
    assert ("square can", True) == (second.confirm, second.order_after_confirm)


def test_the_uncertainty_of_alike_ones_is_their_logarithm() -> None:
    assert pytest.approx(3.0) == uncertainty_bits([1 / 8] * 8)
    assert 0 == uncertainty_bits([1.0, 0.0])

"""Are minutes and parts of a batch foretold from what is known of its models?"""

import random
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from small_batch import PARTS, TERMS
from turnscrew.cli.batch_folder import folder_from
from turnscrew.core.batch.ahead import BatchAhead, PastDevice
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.device import Device
from turnscrew.core.model.faults import CheckOut, Fault, FaultTable, GiveUp, Prior
from turnscrew.core.model.part import Part
from turnscrew.flows.batch.ahead import LEAST_OWN, Known, batch_ahead, spread_words
from turnscrew.flows.batch.whole import Effort, batch_reckoned

SALLOWMERE = Path(__file__).resolve().parents[2] / "examples" / "sallowmere"


def ahead(known: Known, n: int = 10, model: str = "N") -> BatchAhead:
    return batch_ahead({model: n}, TERMS, PARTS, {model: known}, lambda _line: None)


def past(*codes: str, revision: str = "1") -> tuple[PastDevice, ...]:
    return tuple(PastDevice(revision, (code,)) for code in codes)


def table(**facts: object) -> FaultTable:
    usual = {
        "family": "N", "rate": 4800,
        "faults": {
            "fan worn": Fault(3, part="fan"),
            "pack swollen": Fault(1, part="pack", no_power=True),
            "adapter dead": Fault(1, part="adapter"),
        },
        "repairs": {}, "check_out": CheckOut(5), "give_up": GiveUp(100),
        "nothing_wrong": 0.2, "prior": Prior("a count", 20),
    }  # fmt: skip
    return FaultTable(**(usual | facts))  # type: ignore[arg-type]


DEVICE = Device(name="N", parts={"fan": Part(spare="FAN"), "pack": Part(spare="PACK")})


def test_it_is_the_mean_of_what_was_met_times_the_number() -> None:
    # 12 + 14 + 16 and 22 or 14 of exchange.
    told = ahead(Known(past=past("KBD", "FAN"), whose="of all customers"))

    (one,) = told.models
    assert one.total is not None
    assert 10 * (64 + 56) / 2 == one.total.mean == told.total.mean
    met = "from 2 devices of it met before, of all customers"
    assert f"{met}; minutes as the terms set them" == one.why
    assert ["FAN", "KEYS"] == sorted(part for part, _ in one.parts)
    assert {5.0} == {pieces.mean for _, pieces in one.parts}
    low, high = one.total.limits
    assert f"600 min, in eight cases of ten {low:,.0f} to {high:,.0f}" == (
        spread_words(one.total)
    )


def test_parts_follow_the_revision_met() -> None:
    (one,) = ahead(Known(past=past("KBD", revision="2"))).models

    assert ["KEYS2"] == [part for part, _ in one.parts]


def test_a_stripped_device_takes_the_minutes_of_a_strip_and_no_part() -> None:
    (one,) = ahead(Known(past=(PastDevice("1", ("LIQ",), is_stripped=True),))).models

    assert one.total is not None
    # 12 receiving, 18 + 6 strip.
    assert 10 * 36 == one.total.mean
    assert () == one.parts


def test_what_the_terms_cannot_read_is_left_out_and_counted() -> None:
    (one,) = ahead(Known(past=past("FAN", "OLD", "FAN"))).models

    met = "from 2 devices of it met before"
    assert f"{met}; 1 left out, with faults the terms do not name" in one.why
    assert 2 == one.n_met


def test_own_whole_jobs_give_the_minutes_at_the_bench() -> None:
    few = ahead(Known(past=past("FAN"), own_min=(50.0,) * (LEAST_OWN - 1)))
    enough = ahead(Known(past=past("FAN"), own_min=(50.0,) * LEAST_OWN))
    shut = ahead(Known(past=past("DOR"), own_min=(50.0,) * LEAST_OWN))

    assert 10 * (26 + 30) == few.total.mean
    assert 10 * (26 + 50) == enough.total.mean
    assert 10 * (26 + 2) == shut.total.mean
    assert "bench minutes of 5 whole jobs here" in enough.models[0].why


def test_a_fault_table_counts_as_its_cases_and_says_what_has_no_code() -> None:
    (one,) = ahead(Known(table=table(), devices=(DEVICE,))).models

    # Of 0.8 faulty a fifth, the adapter, has no code; the rest by 0.48, 0.16 and 0.2.
    assert "the fault table counts as 20 more" in one.why
    assert "faults that the terms do not name left out, 16 % of the table" in one.why
    mean = (0.48 * 56 + 0.16 * 48 + 0.2 * 41) / 0.84
    assert one.total is not None
    assert pytest.approx(10 * mean) == one.total.mean


def test_own_devices_outweigh_the_table_as_they_come() -> None:
    known = Known(table=table(), devices=(DEVICE,))
    means = [
        ahead(replace(known, past=past(*["DOR"] * n))).total.mean for n in (0, 20, 2000)
    ]

    assert means[0] > means[1] > means[2]
    # As many own ones as the table counts for: halfway.
    assert pytest.approx((means[0] + 280) / 2) == means[1]
    assert pytest.approx(280, rel=0.01) == means[2]


def test_liquid_on_a_part_that_is_reached_is_the_code_for_it() -> None:
    faults = {
        "wet board": Fault(1, part="board", no_power=True),
        "board faulty": Fault(1, part="board"),
    }
    liquid = replace(TERMS.faults["LIQ"], reach=("board",))
    given = replace(TERMS, faults={**TERMS.faults, "LIQ": liquid})
    known = Known(
        table=table(faults=faults, nothing_wrong=0.0),
        devices=(Device(name="N", parts={"board": Part()}),),
    )
    told = batch_ahead({"N": 10}, given, PARTS, {"N": known}, lambda _line: None)

    # By these terms liquid inside is stripped: 12 receiving, 18 + 6 strip.
    assert 10 * 36 == told.total.mean
    why = told.models[0].why
    assert "faults that the terms do not name left out, 50 % of the table" in why


def test_nothing_to_reckon_from_is_unknown_with_its_reason() -> None:
    told = ahead(Known())
    other = ahead(Known(past=past("FAN")), model="none such")
    unmatched = ahead(Known(table=table(nothing_wrong=0.0)))

    assert (None, 10, 0.0) == (told.models[0].total, told.n_unknown, told.total.mean)
    assert "none of it was here before" in told.models[0].why
    assert "the terms do not name it" in other.models[0].why
    assert unmatched.models[0].total is None


def test_models_are_added_and_each_tells_its_own() -> None:
    mended = PastDevice("1", ("GLS",), is_stripped=False)
    known = {"N": Known(past=past("FAN")), "S": Known(past=(mended,))}
    poor = {**known, "S": Known(past=past("GLS"))}
    counts = {"N": 2, "S": 3, "T": 4}
    told = batch_ahead(counts, TERMS, PARTS, known, lambda _line: None)
    less = batch_ahead(counts, TERMS, PARTS, poor, lambda _line: None)

    # What was mended once is mended again; else no glass is worth it: 11 receiving,
    # 25 + 6 strip.
    assert 2 * 56 + 3 * (11 + 25 + 6) == less.total.mean
    assert () == less.models[1].parts
    assert 2 * 56 + 3 * (24 + 28 + 34) == told.total.mean
    assert (3, 4) == (len(told.models), told.n_unknown)
    assert {"GLASS": 3.0, "FRAME": 3.0} == {
        part: pieces.mean for part, pieces in told.models[1].parts
    }


def test_after_three_simulated_batches_it_is_within_a_quarter() -> None:
    """Workshops whose faults come by shares of their own, 20 devices a batch."""
    held, n_plays = 0, 300
    codes = ("KBD", "FAN", "BAT", "DOR", "NFF")
    for seed in range(n_plays):
        rng = random.Random(seed)
        weights = [rng.random() + 0.05 for _ in codes]
        met = past(*rng.choices(codes, weights, k=3 * 20))
        coming = past(*rng.choices(codes, weights, k=20))
        foretold = ahead(Known(past=met), n=20).total.mean
        # A mean over exactly what comes is what it takes.
        actual = ahead(Known(past=coming), n=20).total.mean
        held += abs(foretold / actual - 1) <= 0.25

    assert 0.99 <= held / n_plays


def test_what_these_terms_would_strip_is_foretold_as_stripped() -> None:
    """The same again as the example batch: its own minutes and parts come out."""
    given = folder_from(SALLOWMERE)
    answer = batch_reckoned(
        given, WhatIf(), lambda _line: None, Effort(0, 0, lambda: 0.0)
    )
    tablets = [one for one in answer.devices if one.line.model == "V80"]
    met = tuple(PastDevice(one.line.revision, one.line.found) for one in tablets)
    told = batch_ahead(
        {"V80": len(tablets)}, given.terms, given.parts, {"V80": Known(past=met)},
        lambda _line: None,
    )  # fmt: skip

    minutes = sum(
        one.work.mending if one.is_mended else one.work.receive + one.work.strip
        for one in tablets
    )
    used = Counter(name for one in tablets if one.is_mended for name in one.parts)
    assert pytest.approx(minutes) == told.total.mean
    foretold = {name: pieces.mean for name, pieces in told.models[0].parts}
    assert pytest.approx(dict(used)) == foretold

"""Is each device decided as the terms say?"""

import random
from dataclasses import replace
from decimal import Decimal

import pytest

from small_batch import PARTS, TERMS, line, terms
from turnscrew.core.model.quote import DecidedDevice, net_sum
from turnscrew.core.price.decide import Figures, decided, within_caps, worth_limit_minor
from turnscrew.core.price.limits import running_sums
from turnscrew.core.price.quote import charges_for, parts_needed, work_of


def quote(one, under=TERMS) -> int:
    work = work_of(one, under)
    return net_sum(
        charges_for(work.mending, parts_needed(one, under, PARTS), under, PARTS)
    )


def test_it_charges_one_opening_for_two_faults() -> None:
    single = sum(work_of(line(found=code), TERMS).open_close for code in ("BAT", "FAN"))

    assert 32 == single
    assert 16 == work_of(line(found="BAT+FAN"), TERMS).open_close
    assert 62 == work_of(line(found="BAT+FAN"), TERMS).mending


def test_it_charges_no_opening_for_a_shut_case() -> None:
    assert 0 == work_of(line(found="DOR"), TERMS).open_close
    assert 41 == work_of(line(found="NFF"), TERMS).mending


def test_it_takes_the_part_that_fits_the_revision() -> None:
    assert ("KEYS",) == parts_needed(line(), TERMS, PARTS)
    assert ("KEYS2",) == parts_needed(line(revision="2"), TERMS, PARTS)
    assert () == parts_needed(line(revision=""), TERMS, PARTS)


def test_it_adds_what_opening_uses_up_once() -> None:
    assert ("GLASS", "FRAME") == parts_needed(
        line(found="GLS", model="S"), TERMS, PARTS
    )


def test_where_tax_alone_passes_a_limit_the_least_quote_is_asked_about() -> None:
    taxed = terms(taxes=(), ask_limit_minor=5, limits_with_tax=True)

    told = [decided(line(), taxed, Figures(minor, tax_minor=5)) for minor in (0, 1, 2)]
    assert ["go", "ask", "ask"] == [one.code for one in told]
    assert [0, 0, 0] == [one.flips_at_minor for one in told]


@pytest.mark.parametrize(
    ("minor", "code", "flips"),
    [
        (9500, "go", 9500),
        (9501, "ask", 9500),
        (10000, "ask", 10450),
        (10450, "ask", 10450),
        (10451, "strip", 10450),
    ],
)
def test_a_quote_equal_to_a_limit_is_within_it(minor, code, flips) -> None:
    decision = decided(line(), TERMS, Figures(minor))

    assert (code, flips) == (decision.code, decision.flips_at_minor)


def test_the_figure_that_flips_does_flip() -> None:
    for minor in range(8000, 11000, 7):
        decision = decided(line(), TERMS, Figures(minor))
        edge = decision.flips_at_minor
        assert edge is not None
        sides = {
            decided(line(), TERMS, Figures(edge)).code,
            decided(line(), TERMS, Figures(edge + 1)).code,
        }
        assert decision.code in sides
        assert 2 == len(sides)


def test_no_figure_turns_a_trial_of_no_fault_found() -> None:
    decisions = {
        decided(line(found="NFF"), TERMS, Figures(n)) for n in (1, 9501, 20_000)
    }

    assert {("no_fault_found", None)} == {
        (one.code, one.flips_at_minor) for one in decisions
    }


@pytest.mark.parametrize("seen", ["KBD", "BAT+KBD", "NFF"])
def test_a_comeback_is_free_whatever_it_costs(seen) -> None:
    decision = decided(line(found=seen), TERMS, Figures(99_999, comeback="ours: x"))

    assert ("comeback", 0) == (decision.code, decision.quote_minor)


def test_who_counts_on_a_promise_that_does_not_hold_is_asked() -> None:
    charged = decided(line(), TERMS, Figures(5000))
    disputed = decided(line(), TERMS, Figures(5000, disputed="class user: x"))

    assert ("go", "ask") == (charged.code, disputed.code)
    assert ("class user: x", None) == (disputed.reason, disputed.flips_at_minor)
    assert (5000, charged.limit_minor) == (disputed.quote_minor, disputed.limit_minor)
    wet = decided(line(found="LIQ"), TERMS, Figures(100, disputed="class user: x"))
    assert "strip" == wet.code


def test_liquid_is_stripped_whatever_it_costs() -> None:
    assert "strip" == decided(line(found="LIQ"), TERMS, Figures(100)).code
    dry = terms(strip_liquid=False)
    assert "go" == decided(line(found="LIQ"), dry, Figures(100)).code


def test_it_says_when_each_fault_alone_would_pass() -> None:
    figures = Figures(12555, each_minor=(("KBD", 8890), ("BAT", 7025)))
    decision = decided(line(found="KBD+BAT"), TERMS, figures)

    assert "strip" == decision.code
    assert "each alone would be" in decision.reason


def test_who_agreed_to_have_it_mended_is_asked_before_it_is_stripped() -> None:
    figures = Figures(
        12555, each_minor=(("KBD", 8890), ("BAT", 7025)), agreed_minor=8890
    )
    decision = decided(line(found="KBD+BAT"), TERMS, figures)

    assert ("ask", 12555, None) == (
        decision.code, decision.quote_minor, decision.flips_at_minor
    )  # fmt: skip
    assert decision.reason.startswith("88.90 was agreed to before, so ask: not worth")
    wet = decided(line(found="LIQ"), TERMS, Figures(12555, agreed_minor=8890))
    assert "strip" == wet.code


@pytest.mark.parametrize(
    ("one", "under", "figures", "words"),
    [
        (line(revision="9"), TERMS, Figures(5000), "no residual value"),
        (line(), terms(worth_ratio=None), Figures(5000), "worth-mending limit"),
        (line(), terms(ask_limit_minor=None), Figures(5000), "no limit for mending"),
        (line(), TERMS, Figures(None, "the cost of FAN is zero"), "no quote yet"),
    ],
)
def test_what_is_not_known_is_asked(one, under, figures, words) -> None:
    decision = decided(one, under, figures)

    assert "ask" == decision.code
    assert words in decision.reason


def test_the_limit_is_rounded_down() -> None:
    odd = terms(worth_ratio=Decimal("0.333"))

    assert 6327 == worth_limit_minor(line(), odd)


def test_the_sum_without_asking_keeps_to_the_cap() -> None:
    devices = [
        DecidedDevice(one, work_of(one, TERMS), (), decided(one, TERMS, Figures(4000)))
        for one in (line(1), line(2), line(3, due_day=4))
    ]
    capped = within_caps(devices, terms(batch_limit_minor=9000))

    assert ["go", "ask", "go"] == [device.decision.code for device in capped]
    assert 1000 == capped[1].decision.flips_at_minor
    same = within_caps(devices, terms(day_limit_minor=8000, batch_limit_minor=9000))
    assert ["go", "ask", "go"] == [device.decision.code for device in same]
    free = within_caps(devices, TERMS)
    assert tuple(devices) == free


def test_the_cap_of_a_day_holds_what_goes_on_that_day() -> None:
    """Replayed one by one from the words, in random batches."""
    draw = random.Random(7)
    seen: set[tuple[str, bool]] = set()
    for _ in range(400):
        minors = [draw.randint(1, 40) * 100 for _ in range(draw.randint(1, 7))]
        devices = [
            DecidedDevice(
                one := line(n), work_of(one, TERMS), (), decided(one, TERMS, Figures(m))
            )
            for n, m in enumerate(minors, 1)
        ]
        before = {n for n in range(1, 8) if draw.random() < 0.4}
        day, batch = draw.randint(0, 90) * 100, draw.randint(0, 120) * 100
        told = within_caps(
            devices, terms(day_limit_minor=day, batch_limit_minor=batch),
            let_go_before=before,
        )  # fmt: skip
        of_day = of_batch = 0
        for device, minor in zip(told, minors, strict=True):
            is_before = device.name in before
            fits = of_batch + minor <= batch
            fits = fits and (is_before or of_day + minor <= day)
            assert ("go" if fits else "ask") == device.decision.code
            seen.add((device.decision.code, is_before))
            if fits:
                of_batch += minor
                of_day += 0 if is_before else minor
        sums = running_sums(told, terms(day_limit_minor=day), before)
        assert [of_batch, of_day] == [one.taken_minor for one in sums]

    assert 4 == len(seen)


def test_the_quote_is_the_sum_of_its_lines() -> None:
    assert 5120 + 3900 == quote(line())
    assert quote(line()) == quote(replace(line(), due_day=None))

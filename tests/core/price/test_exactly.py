"""Is every figure and word of a quote and a decision just what the terms make it?"""

import random
from dataclasses import replace
from decimal import Decimal

import pytest

from small_batch import PARTS, TERMS, line, terms
from turnscrew.core.model.quote import Charge, DecidedDevice, Decision, Work
from turnscrew.core.model.terms import Tax
from turnscrew.core.price.decide import Figures, decided, within_caps
from turnscrew.core.price.quote import charges_for, is_taxed_by, with_tax, work_of

# Worth-mending limit of the laptop: .55 of 190.00. [minor units]
LIMIT = 10450

TAXES = (Tax("work", Decimal(20), ("labour",)), Tax("goods", Decimal(7), ("parts",)))


def without_standard() -> object:
    model = TERMS.models["N"]
    shut = replace(model, minutes=replace(model.minutes, open_close=None))
    return terms(models={**TERMS.models, "N": shut})


def test_the_minutes_are_those_of_the_terms() -> None:
    work = work_of(line(found="BAT+FAN"), TERMS, 99)

    assert work == Work(
        receive=12, finish=14, open_close=16, exchange=20, strip=24, charge=0
    )


@pytest.mark.parametrize(("computed", "minutes"), [(21, 21), (None, 0), (0, 0)])
def test_a_computed_opening_serves_where_the_terms_have_none(computed, minutes) -> None:
    under = without_standard()

    assert minutes == work_of(line(found="BAT"), under, computed).open_close
    assert 0 == work_of(line(found="DOR"), under, computed).open_close


def test_each_line_of_a_quote_tells_what_it_is_for() -> None:
    assert charges_for(64, ("KEYS", "FAN"), TERMS, PARTS) == (
        Charge("labour", "64 min of work", 5120, 0, 64, ""),
        Charge("parts", "keys", 3900, 0, 1, "KEYS"),
        Charge("parts", "fan", 1300, 0, 1, "FAN"),
    )


def test_each_rate_is_put_on_what_it_is_for_alone() -> None:
    work, keys = charges_for(64, ("KEYS",), terms(taxes=TAXES), PARTS)

    # 20 % of 51.20 and 7 % of 39.00, by hand.
    assert (5120, 1024) == (work.net_minor, work.tax_minor)
    assert (3900, 273) == (keys.net_minor, keys.tax_minor)


def test_a_rate_within_leaves_the_sum_as_it_was() -> None:
    under = terms(taxes=TAXES, tax_included=True)
    work, keys = charges_for(64, ("KEYS",), under, PARTS)

    # 51.20 / 1.20 = 42.666..., 39.00 / 1.07 = 36.448...
    assert (4267, 853) == (work.net_minor, work.tax_minor)
    assert (3645, 255) == (keys.net_minor, keys.tax_minor)


DECISIONS = {
    "comeback": (
        line(), TERMS, Figures(5000, comeback="ours: the same key"),
        Decision("comeback", "ours: the same key", 0, LIMIT),
    ),
    "no fault found": (
        line(found="NFF"), TERMS, Figures(3280),
        Decision("no_fault_found", "no fault found: the trial is recorded and charged",
                 3280, LIMIT),
    ),
    "liquid": (
        line(found="LIQ"), TERMS, Figures(100),
        Decision("strip", "liquid inside: stripped by agreement", 100, LIMIT),
    ),
    "no quote": (
        line(), TERMS, Figures(None, "the cost of FAN is zero"),
        Decision("ask", "no quote yet: the cost of FAN is zero", None, LIMIT),
    ),
    "no value": (
        line(revision="9"), TERMS, Figures(5000),
        Decision("ask", "no residual value known for N 9: ask the list price and age",
                 5000),
    ),
    "no ratio": (
        line(), terms(worth_ratio=None), Figures(5000),
        Decision("ask",
                 "no worth-mending limit known for N 1: ask the list price and age",
                 5000),
    ),
    "not worth it": (
        line(), TERMS, Figures(10451),
        Decision("strip", "not worth mending: the quote is above the limit", 10451,
                 LIMIT, LIMIT),
    ),
    "one fault that is not worth it": (
        line(), TERMS, Figures(10451, each_minor=(("KBD", 9000),)),
        Decision("strip", "not worth mending: the quote is above the limit", 10451,
                 LIMIT, LIMIT),
    ),
    "two, one of them not worth it alone": (
        line(found="KBD+BAT"), TERMS,
        Figures(20000, each_minor=(("KBD", 10451), ("BAT", 9549))),
        Decision("strip", "not worth mending: the quote is above the limit", 20000,
                 LIMIT, LIMIT),
    ),
    "two, each just worth it": (
        line(found="KBD+BAT"), TERMS,
        Figures(20000, each_minor=(("KBD", 10450), ("BAT", 9550))),
        Decision("strip", "not worth mending for all its faults; each alone would be",
                 20000, LIMIT, LIMIT),
    ),
    "nothing said of asking": (
        line(), terms(ask_limit_minor=None), Figures(5000),
        Decision("ask", "no limit for mending without asking", 5000, LIMIT),
    ),
    "go": (
        line(), TERMS, Figures(9500),
        Decision("go", "within both limits", 9500, LIMIT, 9500),
    ),
    "go, the value being the tighter limit": (
        line(), terms(ask_limit_minor=12000), Figures(10450),
        Decision("go", "within both limits", 10450, LIMIT, LIMIT),
    ),
    "ask, nearer to going": (
        line(), TERMS, Figures(9974),
        Decision("ask", "above the limit without asking", 9974, LIMIT, 9500),
    ),
    "ask, as near to both": (
        line(), TERMS, Figures(9975),
        Decision("ask", "above the limit without asking", 9975, LIMIT, LIMIT),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", DECISIONS)
def test_a_decision_says_what_why_how_much_and_what_would_change_it(name) -> None:
    one, under, figures, expected = DECISIONS[name]

    assert expected == decided(one, under, figures)


def devices(*rows: tuple[int, int | None, int]) -> list[DecidedDevice]:
    """Give devices by number, due day and quote."""
    made = []
    for number, due_day, quote in rows:
        one = line(number, due_day=due_day)
        decision = decided(one, TERMS, Figures(quote))
        made.append(DecidedDevice(one, work_of(one, TERMS), (), decision))
    return made


def test_a_cap_names_itself_and_what_is_taken_of_it() -> None:
    rows = devices((1, 7, 4000), (2, 7, 4000), (3, 7, 4000))
    batch = within_caps(rows, terms(batch_limit_minor=8500))
    day = within_caps(rows, terms(batch_limit_minor=8500, day_limit_minor=8000))

    words = "would pass the limit for the batch: 80.00 of 85.00 taken"
    assert (words, 500) == (batch[2].decision.reason, batch[2].decision.flips_at_minor)
    assert ["go", "go", "ask"] == [one.decision.code for one in day]
    words = "would pass the limit for one day: 80.00 of 80.00 taken"
    assert (words, 0) == (day[2].decision.reason, day[2].decision.flips_at_minor)


def test_a_cap_is_used_by_due_day_then_number_and_never_by_what_is_asked() -> None:
    rows = devices((1, None, 3000), (2, 9, 3000), (3, 4, 3000), (4, 4, 9600),
                   (5, 4, 3000))  # fmt: skip
    capped = within_caps(rows, terms(batch_limit_minor=9000))

    # 3, 5 and 2 fill it; 4 asks for itself; 1, due on no day, comes last.
    assert [1, 2, 3, 4, 5] == [one.name for one in capped]
    assert ["ask", "go", "go", "ask", "go"] == [one.decision.code for one in capped]
    assert "above the limit without asking" == capped[3].decision.reason
    assert "90.00 of 90.00 taken" in capped[0].decision.reason


def test_a_smaller_one_behind_may_still_go() -> None:
    capped = within_caps(
        devices((1, 7, 5000), (2, 7, 5000), (3, 7, 1000)), terms(batch_limit_minor=6000)
    )

    assert ["go", "ask", "go"] == [one.decision.code for one in capped]


def test_a_line_is_known_by_the_rates_it_was_taxed_by() -> None:
    draw = random.Random(20261130)
    for _ in range(2_000):
        rates = [Decimal(draw.randint(1, 250)) / 10 for _ in range(draw.randint(1, 3))]
        taxes = tuple(Tax(str(n), rate) for n, rate in enumerate(rates))
        under = terms(taxes=taxes, tax_included=draw.random() < 0.5)
        n = draw.randint(1, 4)
        line = with_tax(Charge("parts", "", draw.randint(0, 500_000), n=n), under)
        share = replace(
            line, n=1, net_minor=line.net_minor // n, tax_minor=line.tax_minor // n
        )

        assert is_taxed_by(line, under)
        assert is_taxed_by(share, under)
        other = replace(line, tax_minor=line.tax_minor + 4 + line.net_minor // 50)
        assert not is_taxed_by(other, under)

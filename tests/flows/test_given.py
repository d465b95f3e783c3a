"""Does the plan keep to what was promised and fitted, and plan only the rest?"""

from dataclasses import replace

from small_batch import batch, line
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.given_piece import GivenPiece
from turnscrew.core.stock.demand import Use
from turnscrew.flows.batch.decisions import decided_devices
from turnscrew.flows.batch.planning import problem_at_best, problem_by_rule
from turnscrew.flows.batch.supply import supplied
from turnscrew.flows.batch.whole import Effort, batch_reckoned

FITTED = {"is_fitted": True}


def wanting(*given: GivenPiece, stock: int = 1) -> BatchInput:
    """Three that want a fan, the first due first, and two donors with a good one."""
    made = batch(
        line(1, "FAN", due_day=5), line(2, "FAN"), line(3, "FAN", due_day=9),
        line(8, "KBD", revision="2"), line(9, "KBD", revision="2"),
    )  # fmt: skip
    model = replace(made.terms.models["N"], worth={"1": 1_000_000, "2": 1})
    terms = replace(made.terms, models={**made.terms.models, "N": model})
    parts = {**made.parts, "FAN": replace(made.parts["FAN"], stock=stock)}
    return replace(made, parts=parts, terms=terms, given=given)


def fans_of(given: BatchInput, what_if: WhatIf | None = None) -> dict[int, Use]:
    devices = decided_devices(given, {}, lambda _: 10)
    uses = supplied(given, devices, what_if or WhatIf()).uses
    return {use.demand.device: use for use in uses if use.demand.part == "FAN"}


def sources(given: BatchInput) -> dict[int, tuple[str, int]]:
    return {name: (use.source, use.donor) for name, use in fans_of(given).items()}


def test_without_anything_given_it_plans_by_due_day() -> None:
    assert {1: ("stock", 0), 2: ("donor", 8), 3: ("donor", 9)} == sources(wanting())


def test_a_device_keeps_the_donor_whose_piece_it_has() -> None:
    given = wanting(GivenPiece(3, "FAN", 8, "8", "box 8"))

    assert {1: ("stock", 0), 2: ("donor", 9), 3: ("donor", 8)} == sources(given)
    piece = fans_of(given)[3].given
    assert piece is not None
    assert "box 8" == piece.place


def test_a_device_keeps_what_it_has_of_the_shelf() -> None:
    given = wanting(GivenPiece(3, "FAN", is_fitted=True))

    assert {1: ("donor", 8), 2: ("donor", 9), 3: ("stock", 0)} == sources(given)


def test_what_got_lost_is_wanted_anew() -> None:
    both = (GivenPiece(3, "FAN", is_fitted=True), GivenPiece(2, "FAN"))

    told = sources(wanting(*both))

    # One lies on the shelf of two that were given: the fitted one is it.
    assert ("stock", 0) == told[3]
    assert {("donor", 8), ("donor", 9)} == {told[1], told[2]}
    # With none on the shelf the promised one is gone; what was fitted is in its device.
    none_left = sources(wanting(*both, stock=0))
    assert ("stock", 0) == none_left[3]
    assert {("donor", 8), ("donor", 9)} == {none_left[1], none_left[2]}


def test_what_nothing_asks_for_any_more_is_free() -> None:
    unasked = (GivenPiece(9, "FAN"), GivenPiece(9, "FAN", 8, "8"))

    assert sources(wanting()) == sources(wanting(*unasked))


def test_a_piece_in_hand_waits_for_no_stripping() -> None:
    given = wanting(GivenPiece(2, "FAN", 8, "8"))
    devices = decided_devices(given, {}, lambda _: 10)
    supply = supplied(given, devices, WhatIf())
    by_rule = problem_by_rule(given, devices, supply, WhatIf())
    at_best = problem_at_best(by_rule, supply)

    for problem in (by_rule, at_best):
        assert () == next(job.after for job in problem.jobs if job.name == 2)
    assert (9,) == next(job.after for job in at_best.jobs if job.name == 3)


def test_the_donor_of_the_piece_is_credited() -> None:
    given = wanting(GivenPiece(3, "FAN", 9, "9", is_fitted=True))
    answer = batch_reckoned(given, WhatIf(), lambda _: 10, Effort(0, 0, lambda: 0.0))

    credited = {
        item.device.name: [one.says for one in item.credits] for item in answer.items
    }
    assert any("device 3" in says for says in credited[9])
    assert 9 == fans_of(given)[3].donor
    # What was fitted stays so, whatever donors would give.
    assert 9 == fans_of(given, WhatIf(use_donors=False))[3].donor


def test_what_was_fitted_is_served_whatever_was_found_on_its_donor() -> None:
    given = wanting(GivenPiece(1, "FAN", donor=8, **FITTED), stock=0)
    spoiled = replace(given, pieces_left={8: ()})

    fans = fans_of(spoiled)
    assert ("donor", 8) == (fans[1].source, fans[1].donor)
    assert fans[1].given is not None
    assert 8 not in {use.donor for name, use in fans.items() if name != 1}

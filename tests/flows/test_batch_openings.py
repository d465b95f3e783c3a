"""Does what opening uses up come from the path where there is one, and is that said?"""

from dataclasses import replace
from pathlib import Path

import pytest

from small_batch import PARTS, TERMS, batch, line, terms
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.opening.answer import OpeningAnswer, UsedUp
from turnscrew.files.batch_folder import is_of_batch, read_batch_folder
from turnscrew.files.device_file import read_device
from turnscrew.flows.batch.decisions import decided_devices
from turnscrew.flows.batch.openings import paths_remembered, uses_by_description
from turnscrew.flows.batch.whole import Effort, batch_reckoned

SALLOWMERE = Path(__file__).resolve().parents[2] / "examples" / "sallowmere"
NO_EFFORT = Effort(0, 0, lambda: 0.0)


@pytest.fixture(scope="module")
def sallowmere():
    """Give the example batch with a way to look its descriptions up."""
    contents = {
        path.name: path.read_bytes()
        for path in SALLOWMERE.iterdir()
        if is_of_batch(path.name)
    }
    given = read_batch_folder(contents)
    known: dict = {}

    def device_of(model: str, revision: str):
        name = given.terms.models[model].device
        if (model, revision) not in known:
            text = (SALLOWMERE / name).read_text("utf-8")
            known[model, revision] = read_device(text, revision=revision or None)
        return known[model, revision]

    return given, device_of, paths_remembered(device_of, lambda: False)


def reckon(sallowmere, parts=None):
    given, device_of, path_of = sallowmere
    if parts is not None:
        given = replace(given, parts=parts)
    uses_of = uses_by_description(given, device_of, path_of)
    return batch_reckoned(given, WhatIf(), lambda _line: None, NO_EFFORT, uses_of)


def test_the_path_uses_up_what_the_demo_scenario_says(sallowmere) -> None:
    # 20 adhesive sets and one seal set for each opened handheld: the invented demo
    # scenario's own figures; its order of 322.00 must not move.
    answer = reckon(sallowmere)
    mended = [device for device in answer.devices if device.is_mended]
    tablets = [d for d in mended if d.line.model == "V80" and d.uses.parts]
    handhelds = [d for d in mended if d.line.model == "R50" and d.uses.parts]

    assert 20 == len(tablets)
    assert {("T-AD",)} == {device.uses.parts for device in tablets}
    assert {("H-GK",)} == {device.uses.parts for device in handhelds}
    assert {"opening path"} == {device.uses.known_by for device in tablets}
    # Two leak: nothing of theirs is named in the description, so the terms say it.
    by_terms = [d.line.found for d in handhelds if d.uses.known_by == "terms"]
    assert [("H-SEA",), ("H-SEA",)] == by_terms
    assert 32200 == answer.supply.cost_minor


def test_what_the_parts_list_lacks_is_said_and_not_priced(sallowmere) -> None:
    answer = reckon(sallowmere)
    panel = next(d for d in answer.devices if d.line.found == ("L-DSP",))

    assert "1 piece of bezel strip, not on the list" in panel.uses.notes
    assert () == panel.uses.parts


def test_what_is_used_up_twice_is_said_once_with_its_sum(sallowmere) -> None:
    answer = reckon(sallowmere)
    notes = [device.uses.notes for device in answer.devices if device.uses.notes]

    assert notes
    for told in notes:
        spares = [note.partition(" of ")[2] for note in told if " of " in note]
        assert len(set(spares)) == len(spares)
    assert any("2 pieces of stretch strip, not on the list" in told for told in notes)


def test_it_marks_before_opening_what_cannot_be_closed_properly(sallowmere) -> None:
    given = sallowmere[0]
    gone = replace(given.parts["T-AD"], is_sold_no_more=True, stock=2)
    answer = reckon(sallowmere, {**given.parts, "T-AD": gone})
    tablets = [d for d in answer.devices if d.is_mended and "T-AD" in d.uses.parts]
    marked = [device for device in tablets if device.lacks]

    # Two sets are left for twenty tablets.
    assert 18 == len(marked)
    assert (
        "cannot be closed properly: T-AD Adhesive frame set single use is sold no "
        "more, and none is left: decide before opening"
    ) == marked[0].lacks[0]
    assert "T-AD" not in {one.part for one in answer.supply.orders}


def path(*used: UsedUp):
    answer = OpeningAnswer(
        device="S", revision="1", reach=("glass",), status="optimal", cost_s=60.0,
        bound_s=60.0, used_up=used,
    )  # fmt: skip
    return lambda _line, _reach: answer


def used(spare: str, n: float = 1, unit: str = "piece", why: str = "x is undone"):
    return UsedUp(spare, n, unit, "x", why)


class Described:
    """Stands for a description that names the glass."""

    parts = {"glass": type("Part", (), {"spare": "GLASS"})}


@pytest.mark.parametrize(
    ("found", "parts", "notes"),
    [
        ([used("FRAME")], ("FRAME",), ()),
        ([used("FRAME", 2)], ("FRAME", "FRAME"), ()),
        # What may be needed only is told at the bench and not priced.
        (
            [used("FRAME", why="only if torn")],
            (),
            ("the terms name FRAME, the path does not use it up",),
        ),
        (
            [used("FRAME", 60, "mm")],
            ("FRAME",),
            ("60 mm of FRAME, which is kept by the piece: 1 piece counted",),
        ),
        # The glass is exchanged anyway: closing needs no second one.
        ([used("FRAME"), used("GLASS")], ("FRAME", "GLASS"), ()),
    ],
)
def test_it_compares_the_path_with_list_and_terms(found, parts, notes) -> None:
    given = batch(line(1, "GLS", model="S"))
    uses_of = uses_by_description(given, lambda *_: Described, path(*found))
    (device,) = decided_devices(given, {}, lambda _line: None, uses_of)

    assert (parts, notes) == (device.uses.parts, device.uses.notes)
    assert 1 == device.parts.count("GLASS")
    assert parts.count("FRAME") == device.parts.count("FRAME")


def test_without_a_description_the_terms_say_it() -> None:
    given = batch(line(1, "GLS", model="S"), line(2, "DOR", model="S"))
    uses_of = uses_by_description(given, lambda *_: None, path())
    opened, shut = decided_devices(given, {}, lambda _line: None, uses_of)

    assert "used up by opening, by the terms: FRAME" == str(opened.uses)
    assert "" == str(shut.uses)


def test_another_unit_of_the_list_is_counted_whole() -> None:
    tape = replace(PARTS["FRAME"], unit="cm")
    given = batch(line(1, "GLS", model="S"), parts=PARTS | {"FRAME": tape})
    uses_of = uses_by_description(
        given, lambda *_: Described, path(used("FRAME", 2.4, "cm"))
    )
    (device,) = decided_devices(given, {}, lambda _line: None, uses_of)

    assert 3 == device.parts.count("FRAME")


def test_a_part_of_the_fault_that_is_gone_is_told_as_such() -> None:
    gone = replace(PARTS["FAN"], is_sold_no_more=True)
    given = batch(line(1, "FAN"), parts=PARTS | {"FAN": gone})
    answer = batch_reckoned(given, WhatIf(), lambda _line: None, NO_EFFORT)
    holds = [hold.kind for hold in answer.devices[0].holds]

    assert "part gone" in holds
    assert "closing" not in holds
    assert "FAN fan is sold no more, and none is left" in answer.devices[0].lacks[0]


def test_what_lacks_a_part_that_is_gone_is_in_no_plan_and_no_sum() -> None:
    gone = replace(PARTS["FAN"], is_sold_no_more=True)
    given = batch(line(1, "FAN"), line(2, "KBD"), parts=PARTS | {"FAN": gone})
    alone = batch(line(2, "KBD"), parts=PARTS | {"FAN": gone})
    answer = batch_reckoned(given, WhatIf(), lambda _line: None, NO_EFFORT)
    other = batch_reckoned(alone, WhatIf(), lambda _line: None, NO_EFFORT)

    why = answer.planned.rule.impossible[1]
    assert why.startswith("FAN fan is sold no more, and none is left")
    assert other.account.invoice_minor == answer.account.invoice_minor
    assert other.account.parts_cost_minor == answer.account.parts_cost_minor
    [(says, _, minor)] = answer.still_open
    assert "Cannot be planned, in no sum: 1" == says
    assert answer.devices[0].decision.quote_minor == minor
    assert not {line.part for line in answer.supply.orders} & {"FAN"}


def test_what_is_charged_over_night_wants_its_part_a_day_sooner() -> None:
    def latest(charge: int) -> int | None:
        minutes = replace(TERMS.models["N"].minutes, charge=charge)
        model = replace(TERMS.models["N"], minutes=minutes)
        given = batch(
            line(1, "FAN", due_day=9), terms=terms(models={**TERMS.models, "N": model})
        )
        answer = batch_reckoned(given, WhatIf(), lambda _line: None, NO_EFFORT)
        assert 44 == answer.devices[0].job_minutes
        [bought] = answer.supply.orders
        return bought.latest_day

    # The longest day has 390 minutes; the fan takes five days to come.
    assert [4, 4, 3] == [latest(charge) for charge in (0, 390 - 44, 390 - 44 + 1)]


def test_an_answer_that_cannot_come_soon_enough_is_too_late_already() -> None:
    def by_day(charge: int) -> int | None:
        minutes = replace(TERMS.models["N"].minutes, charge=charge)
        model = replace(TERMS.models["N"], minutes=minutes)
        asked = terms(models={**TERMS.models, "N": model}, ask_limit_minor=0)
        given = batch(line(1, "KBD", due_day=1), terms=asked)
        answer = batch_reckoned(given, WhatIf(), lambda _line: None, NO_EFFORT)
        return answer.answer_by[1]

    # The part is there; on charge over night the device is done on day 2.
    assert [1, 0] == [by_day(charge) for charge in (0, 1000)]

"""Are packs and storage never harvested, whatever the terms list?"""

from dataclasses import replace

from small_batch import TERMS, batch, line
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.device import Device
from turnscrew.core.model.part import Pack, Part
from turnscrew.core.model.spare_part import SparePart
from turnscrew.flows.batch.decisions import decided_devices
from turnscrew.flows.batch.harvest import listed_in_vain, with_never_harvested
from turnscrew.flows.batch.supply import supplied

LISTED = ("FAN", "PACK", "BOARD", "DISK")


def listing(*parts: str) -> BatchInput:
    """Two that want every part listed, and a donor that could give them."""
    model = replace(TERMS.models["N"], harvest=parts, worth={"1": 1_000_000, "2": 1})
    faults = {
        **TERMS.faults,
        "ALL": replace(TERMS.faults["FAN"], parts=parts),
    }
    given = batch(
        line(1, "ALL"), line(2, "KBD", revision="2"),
        terms=replace(TERMS, models={**TERMS.models, "N": model}, faults=faults),
    )  # fmt: skip
    more = {
        "BOARD": SparePart("BOARD", "board", "N", (), 9000, 9, 0, row=8),
        "DISK": SparePart("DISK", "storage module", "N", (), 4000, 9, 0, row=9),
    }
    pack = replace(given.parts["PACK"], stock=0)
    return replace(given, parts={**given.parts, **more, "PACK": pack})


def given_by_donors(batch: BatchInput) -> set[str]:
    """Name the parts that donors of a batch would give."""
    devices = decided_devices(batch, {}, lambda _: 10)
    supply = supplied(batch, devices, WhatIf())
    assert {2} == {one.donor for one in supply.offers}
    return {one.part for one in supply.offers}


def described(_model: str, _revision: str) -> Device:
    parts = {
        "fan": Part(spare="FAN"),
        "energy": Part(spare="PACK", pack=Pack()),
        "board": Part(spare="BOARD", contains=("flash",)),
        "flash": Part(data_bearing=True),
        "drive": Part(kind="storage", spare="DISK"),
    }
    return Device(name="N", parts=parts)


def test_it_leaves_out_what_the_description_calls_a_pack_or_storage() -> None:
    given = listing(*LISTED)
    kept = with_never_harvested(given, described)

    assert set(LISTED) == given_by_donors(given)
    assert {"FAN"} == given_by_donors(kept)
    assert ("PACK", "BOARD", "DISK") == kept.never_harvested
    assert kept.notes[-1] == (
        "the terms list PACK, BOARD, DISK for harvest: "
        "packs and storage are never harvested"
    )


def test_without_a_description_it_goes_by_terms_and_name() -> None:
    kept = with_never_harvested(listing(*LISTED), lambda *_: None)

    # The fault of the pack exchanges the one, the other is called storage.
    assert ("PACK", "DISK") == kept.never_harvested
    assert {"FAN", "BOARD"} == given_by_donors(kept)


def test_it_says_where_the_terms_list_one() -> None:
    kept = with_never_harvested(listing(*LISTED), described)
    clean = with_never_harvested(listing("FAN"), described)

    assert [("N", "harvest", part) for part in LISTED[1:]] == list(listed_in_vain(kept))
    assert () == listed_in_vain(clean)
    assert () == clean.never_harvested

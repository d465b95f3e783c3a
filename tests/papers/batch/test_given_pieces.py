"""Do papers name the piece that was given, and the planned one only until then?"""

import re
from dataclasses import replace

import pytest

from papers.batch.test_batch_papers import LINES, words
from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.given_piece import GivenPiece
from turnscrew.flows.batch.whole import Effort, batch_reckoned
from turnscrew.papers.batch.bench import donor_cards, kit_lists
from turnscrew.papers.batch.evidence import evidence
from turnscrew.papers.page import Paper

A4 = Paper("a4", language="de")


def with_given(*given: GivenPiece) -> BatchAnswer:
    """Reckon the example with pieces given; its plan is 9 <- 2, 32 <- 6, 37 <- 17."""
    batch = replace(LINES, given=given)
    return batch_reckoned(batch, WhatIf(), lambda _line: 10, Effort(0, 0, lambda: 0))


LAID = with_given(
    GivenPiece(9, "T-CM", 35, "35", "box 35"),
    GivenPiece(32, "T-CM", 17, "17", is_fitted=True),
)


def test_a_kit_list_says_which_donor_gave_the_piece_and_where_it_lies() -> None:
    told = words(kit_lists(LAID, "a4"))

    assert "donor 35, tested and good: box 35" in told
    assert "fitted already, from donor 17" in told
    assert "Rear camera donor 2, once it has passed its test" in told
    assert "Rear camera donor 17" not in told
    assert "fitted already" not in words(kit_lists(with_given(), "a4"))


def test_a_kit_list_says_so_in_german() -> None:
    told = words(kit_lists(LAID, A4))

    assert "Spender 35, geprüft und gut: box 35" in told
    assert "schon eingebaut, vom Spender 17" in told


@pytest.mark.parametrize(
    ("page", "from_donor"), [("a4", "from donor"), (A4, "vom Spender")]
)
def test_evidence_names_the_donor_of_the_piece(page, from_donor) -> None:
    told = words(evidence(LAID, page))

    named = re.findall(rf"Rear camera \({from_donor} (\d+)\)", told)
    assert ["2", "17", "35"] == sorted(named, key=int)


def test_evidence_names_a_donor_of_another_batch_by_its_number() -> None:
    stock = replace(LINES.parts["T-CM"], stock=1)
    other = GivenPiece(9, "T-CM", 0, "2702011002U", is_fitted=True)
    batch = replace(LINES, parts={**LINES.parts, "T-CM": stock}, given=(other,))
    answer = batch_reckoned(batch, WhatIf(), lambda _: 10, Effort(0, 0, lambda: 0))

    assert "(from donor 2702011002U)" in words(evidence(answer, "a4"))


def test_a_donor_card_says_for_whom_its_piece_is() -> None:
    told = words(donor_cards(LAID, "a4"))
    card = told[told.index("Donor 35") :]

    assert "Rear camera 9" in card[: card.index("Never harvested")]

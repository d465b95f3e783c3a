"""A question about a day years ahead is refused before anything is reckoned."""

import pytest

from small_batch import batch, line
from turnscrew.core.batch.question import Absence, WhatIf
from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.errors import BadArgumentError
from turnscrew.flows.batch.what_if import asked

FAR = {
    "answers in hand: found 1002, wanted 1001 or less": WhatIf(answers_on=1002),
    "days away: found 9999, wanted 1001 or less": WhatIf(
        away=(Absence("lead", 1, 9999),)
    ),
    "late part: found 1001, wanted 1000 or less": WhatIf(late_parts={"FAN": 1001}),
    "answers in hand: found 9999, wanted 1700 or less": WhatIf(
        answers_on=9999, start_day=700
    ),
}


@pytest.mark.parametrize("told", FAR)
def test_it_refuses_days_years_ahead(told) -> None:
    with pytest.raises(BadArgumentError) as refused:
        asked(batch(line()), FAR[told])

    assert told == str(refused.value)
    assert "„" not in Phrasebook(GERMAN_COUNTER).says(told)


def test_it_lists_every_day_that_is_too_far() -> None:
    far = WhatIf(answers_on=9999, late_parts={"FAN": 9998})
    with pytest.raises(BadArgumentError, match=r"9999.*9998"):
        asked(batch(line()), far)


@pytest.mark.parametrize("start", [1, 700])
def test_it_takes_the_last_day_it_names(start) -> None:
    last = start + 1000
    near = WhatIf(
        answers_on=last, away=(Absence("lead", 1, last),), late_parts={"FAN": 1000},
        start_day=start,
    )  # fmt: skip

    assert asked(batch(line()), near)

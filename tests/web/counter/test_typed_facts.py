"""Is what somebody types as a fact of a description kept whole?"""

import pytest

from turnscrew.web.records.queries.descriptions import device_in, newest
from turnscrew.web.records.services import descriptions
from turnscrew.web.records.services.refusal import RefusedError
from web.counter.worked import describe


@pytest.fixture
def correct(sallowmere, lead, now):
    describe(sallowmere, lead, now)

    def corrected(where: str, value: str):
        descriptions.correct_fact("L240", where, value, by=lead, now=now)
        return device_in(newest("L240"), "")

    return corrected


@pytest.mark.parametrize(
    "typed",
    [
        "blue wire # 2 of three", "&a b", "!tag v", "a: b", '"quoted" text', "*a",
        "null", "~", "- x", "yes", "0012", "it's", "%d", "100 % of it", "? what",
        "| bar", "> more", "@ once", "`x`", "back\\slash", "ä ö ß € 漢",
    ],
)  # fmt: skip
def test_a_text_is_kept_as_it_was_typed(correct, typed) -> None:
    assert typed == correct("parts.fan.says", typed).parts["fan"].says


def test_a_text_in_quotation_marks_is_kept_without_them(correct) -> None:
    device = correct("parts.fan.says", '"pull # 2: up"')

    assert "pull # 2: up" == device.parts["fan"].says


def test_a_list_is_a_list(correct) -> None:
    device = correct("parts.battery.pack.do_not", '[bend, "press # 2"]')

    assert ("bend", "press # 2") == device.parts["battery"].pack.do_not


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("[bend, press # 2]", "value: found # in a list"),
        ("[&a bend]", "value: found & in a list"),
        ("[bend, press", "value: found a bracket that is not closed"),
        ("[bend] # never", "value: found # in a list"),
        ("", "value: found none"),
    ],
)
def test_nothing_of_a_list_is_lost_without_a_word(correct, typed, told) -> None:
    with pytest.raises(RefusedError) as refused:
        correct("parts.battery.pack.do_not", typed)

    assert str(refused.value).startswith(told)

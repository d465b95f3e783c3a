"""Any JSON text is read with the place of everything in it."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.errors import BadFileError, Problem
from turnscrew.files.json_text import (
    LARGEST_WHOLE,
    cursor_on,
    in_words,
    places_in,
    raise_if_any,
)

TEXTS = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=6),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.text(max_size=6), inner, max_size=4)
    ),
    max_leaves=20,
)


def paths_in(value: object, path: tuple[str | int, ...] = ()) -> list[tuple]:
    found = [path]
    if isinstance(value, dict):
        for key, inner in value.items():
            found += paths_in(inner, (*path, key))
    if isinstance(value, list):
        for index, inner in enumerate(value):
            found += paths_in(inner, (*path, index))
    return found


@given(TEXTS, st.sampled_from([None, 0, 1, "\t"]), st.booleans())
def test_it_finds_a_place_for_every_value(
    value: object, indent: int | str | None, is_ascii: bool
) -> None:
    text = json.dumps(value, indent=indent, ensure_ascii=is_ascii)

    assert set(paths_in(value)) == set(places_in(text))


def test_it_counts_lines_and_columns_from_one() -> None:
    text = '{\n  "a": [1,\n    {"b, c": "x: y"}],\n"d": 2}'

    assert {
        (): (1, 1),
        ("a",): (2, 3),
        ("a", 0): (2, 9),
        ("a", 1): (3, 5),
        ("a", 1, "b, c"): (3, 6),
        ("d",): (4, 1),
    } == places_in(text)


def test_it_writes_a_path_as_a_person_would() -> None:
    assert "actions[3].modes[0].cost" == in_words(("actions", 3, "modes", 0, "cost"))
    assert "text" == in_words(())


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("", Problem("text", "nothing", "JSON: Expecting value", 1, 1)),
        (
            '{"a": 1,\n "b" 2}',
            Problem("text", '"2}"', "JSON: Expecting ':' delimiter", 2, 6),
        ),
        (
            '{"a": 1, "a": 2}',
            Problem("text", 'the key "a" twice in one object', "plain JSON"),
        ),
        ('{"a": NaN}', Problem("text", "the number NaN", "plain JSON")),
        ("[" * 100_000, Problem("text", "values nested too deep", "plain JSON")),
    ],
    ids=["nothing", "a slip", "a key twice", "no number", "a well"],
)
def test_it_says_why_a_text_is_no_json(text: str, problem: Problem) -> None:
    with pytest.raises(BadFileError) as caught:
        cursor_on(text)

    assert (problem,) == caught.value.problems


def test_it_tells_all_problems_in_the_order_of_the_text() -> None:
    text = '{"n": 1.5,\n "wholes": [true, -1, "2", 7, null],\n "name": " "}'
    cursor = cursor_on(text)
    fields = cursor.fields(("name", "n", "wholes", "missing"))
    fields["name"].text()
    assert [0, 0, 0, 7, 0] == [item.whole() for item in fields["wholes"].items()]
    fields["n"].items()
    fields["n"].entries()
    fields["n"].fields(())

    with pytest.raises(BadFileError) as caught:
        raise_if_any(cursor.notes, text)

    whole = f"a whole number from 0 to {LARGEST_WHOLE}"
    assert [
        ("text", "nothing", "a value for missing", 1),
        ("n", "1.5", "a list", 1),
        ("n", "1.5", "an object with names and values", 1),
        ("wholes[0]", "true", whole, 2),
        ("wholes[1]", "-1", whole, 2),
        ("wholes[2]", '"2"', whole, 2),
        ("wholes[4]", "null", whole, 2),
        ("name", '" "', "a text", 3),
    ] == [(p.where, p.found, p.wanted, p.line) for p in caught.value.problems]


def test_it_names_the_nearest_known_name() -> None:
    text = '{"postures": "lid-opn", "postrues": 1, "zzz": 2}'
    cursor = cursor_on(text)
    fields = cursor.fields(("postures",))
    fields["postures"].name_among(("lid-open", "base-up"), "a posture")
    fields["postures"].name_among(("x",), "a posture")

    assert [
        (("postrues",), 'unknown key "postrues"', 'perhaps "postures"'),
        (("zzz",), 'unknown key "zzz"', "one of postures"),
        (("postures",), '"lid-opn"', 'perhaps "lid-open"'),
        (("postures",), '"lid-opn"', "the name of a posture"),
    ] == cursor.notes

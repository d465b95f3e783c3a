"""Does a text come in as it was typed, with the place of each thing?"""

import pytest

from turnscrew.errors import BadFileError
from turnscrew.files.yaml_text import (
    MAX_CHARACTERS,
    MAX_DEPTH,
    Branch,
    Leaf,
    Row,
    decode,
    found_words,
    mark_at,
    node_at,
    path_there,
    read_tree,
)

TEXT = """\
# a comment
a: {b: [1, NO], "c d": 0755}
e:
  - f: 1.10
  - ~
g: |
  two
  lines
"""


def test_it_keeps_values_as_they_are_typed() -> None:
    tree, problems = read_tree(TEXT)

    assert () == problems
    assert (
        Branch(
            {
                "a": Branch({"b": Row((Leaf("1"), Leaf("NO"))), "c d": Leaf("0755")}),
                "e": Row((Branch({"f": Leaf("1.10")}), Leaf(None))),
                "g": Leaf("two\nlines\n"),
            }
        )
        == tree
    )


@pytest.mark.parametrize(
    ("path", "place"),
    [
        (("a",), (2, 4)),
        (("a", "b", 1), (2, 12)),
        (("e", 0, "f"), (4, 8)),
        (("e", 5, "f"), (4, 3)),
        (("a", 0, "c d"), (2, 24)),
        (("nowhere",), (2, 1)),
    ],
)
def test_it_finds_the_place_or_the_nearest_round_it(path, place) -> None:
    tree, _ = read_tree(TEXT)

    mark = mark_at(tree, path)

    assert place == (mark.line, mark.column)


@pytest.mark.parametrize(
    ("path", "wanted"),
    [
        (("a", 0, "c d", 0, "x"), ("a", "c d")),
        (("e", 0, "f"), ("e", 0, "f")),
        (("a", "missing", 1), ("a", "missing", 1)),
    ],
)
def test_it_shortens_a_path_to_how_it_is_written(path, wanted) -> None:
    assert wanted == path_there(read_tree(TEXT)[0], path)


def test_it_finds_nothing_beyond_a_single_value() -> None:
    assert node_at(read_tree(TEXT)[0], ("g", "x")) is None


@pytest.mark.parametrize(
    ("content", "wanted"),
    [
        ("a: é".encode(), "a: é"),
        ("a: é".encode("utf-8-sig"), "a: é"),
        ("a: é".encode("utf-16"), "a: é"),
    ],
)
def test_it_decodes_marked_texts(content: bytes, wanted: str) -> None:
    assert wanted == decode(content)


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (
            b"a: 1\nb: caf\xe9 \n",
            "text:2:7: text: found byte 0xe9, wanted text in UTF-8",
        ),
        (b"x" * (5 * MAX_CHARACTERS), f"wanted at most {MAX_CHARACTERS} characters"),
    ],
)
def test_it_refuses_bytes_that_are_no_text(content: bytes, told: str) -> None:
    with pytest.raises(BadFileError, match=told):
        decode(content)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "found an empty text"),
        ("# nothing\n", "found an empty text"),
        ("word", "found word"),
        ("a: \x00", "unacceptable character"),
        ("[" * 500_000, f"more than {MAX_DEPTH} levels"),
        ("{a: " * 200_000, f"more than {MAX_DEPTH} levels"),
        ("a: 'open", "text:1:9"),
        ("%YAML 9.9\n---\na: 1", "incompatible"),
    ],
)
def test_it_refuses_what_it_cannot_read(text: str, told: str) -> None:
    with pytest.raises(BadFileError, match=told):
        read_tree(text)


def test_it_tells_a_key_that_is_none() -> None:
    _, problems = read_tree("? [a]\n: 1\n? \n: 2\nb: 3\n")

    assert [("a list", 1), ("no key", 3)] == [(p.found, p.line) for p in problems]


def test_it_shortens_a_long_value_in_words() -> None:
    assert "x" * 57 + "..." == found_words(Leaf("x" * 61))

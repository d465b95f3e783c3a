"""Does a written value read back as itself, and a change touch nothing besides?"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from example_files import example_text
from turnscrew.errors import BadArgumentError
from turnscrew.files.yaml_text import Branch, Leaf, Node, Row, read_tree
from turnscrew.files.yaml_write import changed, flow

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = example_text("grondle-r50.device.yaml")
HARD = """\
a:
  b: 1   # one
  c:     # nothing yet

  d: |
    two
    lines
# between
e:
- x
- {f: 1,
   g: }
-
  - y
"h: i": {}
j: []
k: 'it''s'
l:
    m:
        n: deep
"""

texts = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")))
values = st.recursive(
    st.booleans() | st.integers(-9999, 9999) | st.floats(-9, 9) | texts,
    lambda inner: st.lists(inner) | st.dictionaries(texts.filter(bool), inner),
    max_leaves=6,
)


def paths_in(node: Node, path: tuple = ()) -> Iterator[tuple]:
    yield path
    if isinstance(node, Row):
        for index, item in enumerate(node.items):
            yield from paths_in(item, (*path, index))
    elif isinstance(node, Branch):
        for key, item in node.items.items():
            yield from paths_in(item, (*path, key))


def plain(node: Node) -> object:
    match node:
        case Leaf(text=text):
            return text
        case Row(items=items):
            return [plain(item) for item in items]
    return {key: plain(item) for key, item in node.items.items()}


def as_typed(value: object) -> object:
    if isinstance(value, dict):
        return {key: as_typed(item) for key, item in value.items()}
    if isinstance(value, list):
        return [as_typed(item) for item in value]
    return value if isinstance(value, str) else flow(value)


@given(values)
def test_it_writes_what_reads_back(value) -> None:
    tree, problems = read_tree(f"a: {flow(value)}\n")

    assert () == problems
    assert as_typed(value) == plain(tree.items["a"])


def test_it_writes_nothing_as_null() -> None:
    assert '[null, yes, 1.5, a b, "a, b"]' == flow([None, True, 1.5, "a b", "a, b"])


HARD_PATHS = [path for path in paths_in(read_tree(HARD)[0]) if path]


@pytest.mark.parametrize("path", HARD_PATHS, ids=str)
@pytest.mark.parametrize("value", ["new", "a, b", 7, ["x"], {"y": 1}], ids=str)
def test_it_sets_any_fact_of_a_hard_text(path, value) -> None:
    """The writer itself refuses a change that would say anything else besides."""
    new = changed(HARD, path, value)

    # A comment goes only with the lines it stands among.
    assert new.count("#") >= HARD.count("#") - 2


@pytest.mark.parametrize(
    "path", [path for path in HARD_PATHS if isinstance(path[-1], str)], ids=str
)
def test_it_removes_any_fact_of_a_hard_text(path) -> None:
    assert len(changed(HARD, path, None)) < len(HARD)


@pytest.mark.parametrize(
    "path",
    [
        ("new",),
        ("a", "new"),
        ("a", "c", "new"),
        ("a", "c", "new", "below"),
        ("a", "c", 0),
        ("e", 3),
        ("e", 1, "new"),
        ("e", 1, "g", "new"),
        ("e", 2, 1),
        ("h: i", "new"),
        ("j", 0),
        ("l", "m", "o"),
        ("l", "p", "q", "r"),
    ],
    ids=str,
)
def test_it_adds_a_fact_anywhere(path) -> None:
    new = changed(HARD, path, "added: here")

    assert HARD.count("#") == new.count("#")


def test_it_adds_to_a_text_without_an_end_of_line() -> None:
    assert "a: 1\nb: 2\n" == changed("a: 1", ("b",), 2)


EXAMPLE_PATHS = [path for path in paths_in(read_tree(EXAMPLE)[0]) if path]


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(EXAMPLE_PATHS))
def test_it_sets_any_fact_of_an_example(path) -> None:
    new = changed(EXAMPLE, path, "something else")

    assert EXAMPLE.count("#") == new.count("#")


@pytest.mark.parametrize(
    ("path", "told"),
    [
        (("a", "b", "x"), "found a.b as the short text 1"),
        (("k", 0), "found k as the short text it's"),
    ],
)
def test_it_refuses_to_reach_through_a_single_value(path, told) -> None:
    with pytest.raises(BadArgumentError, match=told):
        changed(HARD, path, "x")


def test_it_refuses_to_fill_an_empty_entry_of_a_list() -> None:
    with pytest.raises(BadArgumentError, match="wanted the list as a whole"):
        changed("a:\n-   # nothing\n- c\n", ("a", 0), "x")


@pytest.mark.parametrize("path", [("z",), ("a", "z"), ("e", 0), ("k", "z")], ids=str)
def test_it_refuses_to_remove_what_is_no_named_fact(path) -> None:
    with pytest.raises(BadArgumentError, match="wanted a fact to remove"):
        changed(HARD, path, None)

"""Is what a heading means remembered exactly, whatever the heading?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.errors import BadFileError
from turnscrew.files.columns_file import Columns, columns_text, read_columns

# A text from a file holds no half of a pair of surrogates, a cell no outer blanks.
WORDS = (
    st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=6)
    .map(str.strip)
    .filter(bool)
)


@given(
    st.dictionaries(
        WORDS,
        st.builds(
            Columns,
            st.sampled_from(["", "cp1252"]),
            st.dictionaries(WORDS, WORDS, max_size=3),
            st.lists(WORDS, max_size=2).map(tuple),
        ),
        max_size=3,
    )
)
def test_what_is_written_reads_as_the_same(known) -> None:
    assert known == read_columns(columns_text(known))


@pytest.mark.parametrize(
    ("text", "line", "where"),
    [
        ("a.csv: {encodin: cp1252}", 1, "a.csv.encodin"),
        ("a.csv:\n  headings: [x]", 2, "a.csv.headings"),
        ("a.csv:\n  headings:\n    x: y\n    x: z", 4, "a.csv.headings"),
        ("- a", 1, ""),
    ],
)
def test_it_refuses_with_the_place(text, line, where) -> None:
    with pytest.raises(BadFileError) as caught:
        read_columns(text)

    assert line == caught.value.problems[0].line
    assert where in caught.value.problems[0].where

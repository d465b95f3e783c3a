"""
Does every reader take a spoilt text or refuse it in words, in time and in place?

What is made by chance is the same at every run; ``--fuzz`` asks for more of it.
"""

from time import process_time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fuzz.readers import readers
from fuzz.spoiling import garbage, spoils, spoilt
from turnscrew.errors import BadArgumentError, BadFileError
from turnscrew.files import question_text, sheet_package

resource = pytest.importorskip("resource", reason="no count of memory here")

READERS = readers()
GARBAGE = garbage()

MOST_S = 20.0
"""Longest time one text may keep a reader busy; common practice, no source. [s]"""

MOST_MB = 1500
"""Most memory one text may add; common practice, no source. [MB]"""


def outcome(read, content: bytes) -> str:
    """Read a text; say how it ended, or let anything but a refusal through."""
    try:
        read(content)
    except BadFileError as error:
        assert error.problems
        for problem in error.problems:
            assert problem.where
            assert problem.wanted
            assert problem.line >= 0
            # A message of a megabyte helps nobody; it would also fill a page.
            assert len(str(problem)) < 3_000, len(str(problem))
        return "refused"
    except BadArgumentError as error:
        assert str(error)
        return "refused"
    return "read"


@pytest.mark.parametrize("name", READERS)
def test_it_reads_what_is_sound(name) -> None:
    reader = READERS[name]

    assert ["read"] * len(reader.sound) == [
        outcome(reader.read, one) for one in reader.sound
    ]


@pytest.mark.parametrize("name", READERS)
def test_it_reads_or_refuses_what_was_spoilt_by_chance(name, n_fuzz) -> None:
    reader = READERS[name]
    ends = set()

    @settings(
        max_examples=n_fuzz, derandomize=True, database=None, deadline=None,
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(st.sampled_from(reader.sound), spoils)
    def holds(content: bytes, how: list[tuple[str, float, bytes | int]]) -> None:
        ends.add(outcome(reader.read, spoilt(content, how)))

    holds()
    assert "refused" in ends


@pytest.mark.parametrize("harm", GARBAGE)
def test_it_bears_what_was_made_to_harm(harm, monkeypatch) -> None:
    # As many as are allowed take ten seconds each time.
    monkeypatch.setattr(sheet_package, "MAX_ELEMENTS", 800_000)
    made = GARBAGE[harm]
    content = made if isinstance(made, bytes) else made()
    for name, reader in READERS.items():
        before_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        began = process_time()
        outcome(reader.read, content)

        assert process_time() - began < MOST_S, name
        after_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        assert after_mb - before_mb < MOST_MB, name


@pytest.mark.parametrize("name", ["parts", "history", "spells", "symptom counts"])
def test_it_refuses_more_rows_than_it_takes(name) -> None:
    began = process_time()

    assert "refused" == outcome(READERS[name].read, b"part,cost\n" + b"a,1\n" * 200_001)
    assert process_time() - began < MOST_S


QUESTIONS = (
    question_text.absence_from,
    question_text.answer_from,
    question_text.late_part_from,
    question_text.sign_off_from,
)


@pytest.mark.parametrize("read", QUESTIONS, ids=lambda read: read.__name__)
def test_it_reads_or_refuses_any_question(read, n_fuzz) -> None:
    @settings(max_examples=10 * n_fuzz, derandomize=True, database=None, deadline=None)
    @given(
        st.one_of(
            st.text(max_size=60),
            st.from_regex(r"\A[a-z١²]{0,3}=[0-9١²]{0,7}(-[0-9²]{1,5})?\Z"),
        )
    )
    def holds(words: str) -> None:
        try:
            read(words)
        except BadArgumentError as error:
            assert "wanted" in str(error)

    holds()

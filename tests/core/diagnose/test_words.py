"""Do words speak for the right sign and sort of fault, and are they exact?"""

import random
from dataclasses import replace
from fractions import Fraction
from itertools import product
from math import prod

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.diagnose.small_bench import TABLE
from turnscrew.core.diagnose.words import (
    EACH_WORD,
    OPEN_WORDS,
    STOP_WORDS,
    OpenTexts,
    Told,
    WordLaw,
    known_in,
    leaned_on,
    own_words,
    p_labels,
    phrases_of,
    sign_laws,
    sort_laws,
    stems_of,
)
from turnscrew.core.model.faults import NOTHING_WRONG, Sign
from turnscrew.core.model.past_job import PastJob
from turnscrew.errors import BadArgumentError

SIGNS = {
    "dead": Sign({"lead": 0.8, "pack": 0.4, NOTHING_WRONG: 0.0}, ("no light",)),
    "hums": Sign({"lead": 0.1, "pack": 0.3, NOTHING_WRONG: 0.0}, ("buzzing noise",)),
}
BOX = replace(
    TABLE,
    signs=SIGNS,
    prior=replace(TABLE.prior, counted_in="Boxes"),
    faults={
        "lead": replace(TABLE.faults["lead"], counted_as=("Cord",)),
        "pack": replace(TABLE.faults["pack"], counted_as=("Power", "Cells")),
    },
)
TEXTS = OpenTexts(
    "Boxes",
    {"Cord": 10, "Power": 30, "Cells": 10, "Other": 50},
    {
        "Cord": {"wire": 6.0, "dead": 2.0},
        "Power": {"flat": 9.0, "dead": 3.0},
        "Cells": {"flat": 4.0},
        "Other": {"slow": 40.0},
    },
)
DONE = PastJob("Box", "mended", "lead", ("dead",))


@pytest.mark.parametrize(
    ("text", "stems"),
    [
        ("Charging charges CHARGED charge", ["charg"]),
        ("It won't switch on, switching; switches!", ["switch"]),
        ("running runs run", ["run"]),
        ("glass dead speed 19.4 V", ["glass", "dead", "speed", "v"]),
        ("battery batteries", ["battery", "batteri"]),
        ("the it and will not", []),
        ("Tür lädt nicht", ["tür", "lädt", "nicht"]),
        ("", []),
    ],
)
def test_it_folds_words_simply(text, stems) -> None:
    """The rule is ours; battery and batteries show where it is too simple."""
    assert stems == list(stems_of(text))


def test_it_keeps_words_as_they_were_first_said() -> None:
    assert {"charg": "Charging", "lamp": "lamps"} == stems_of(
        "Charging; charges, lamps"
    )


@pytest.mark.parametrize("word", ["dead", "light", "off", "screen", "sometimes"])
def test_it_stops_no_word_that_tells(word) -> None:
    assert word not in STOP_WORDS


def test_it_meets_a_case_by_hand() -> None:
    """
    Dirichlet means by hand: e = 1/5, two words, hence (.2 + 3) / (.4 + 4) = 8/11 and
    (.2 + 0) / (.4 + 2) = 1/12; cases 1 to 3.
    """
    laws = {
        "a": WordLaw(1.0, {"hot": 3.0, "loud": 1.0}),
        "b": WordLaw(3.0, {"loud": 2.0}),
    }

    a, b = 8 / 11, 3 / 12
    assert p_labels(laws, ["hot"]) == pytest.approx(
        {"a": a / (a + b), "b": b / (a + b)}
    )


def urn_posterior(
    cases: list[int], balls: list[list[int]], text: tuple[int, ...]
) -> list[Fraction]:
    """
    Count it out: every label, every row of words it could say, one draw at a time.

    Each label has an urn with one ball for each word there is, and five more for each
    own word, as e = 1/5.
    """
    assert Fraction(1, 5) == Fraction(EACH_WORD).limit_denominator(100)
    ways: list[Fraction] = []
    for label, n_cases in enumerate(cases):
        urn = [1 + 5 * n for n in balls[label]]
        rows = {
            said: prod(urn[word] for word in said)
            for said in product(range(len(urn)), repeat=len(text))
        }
        ways.append(Fraction(n_cases * rows[text], sum(rows.values())))
    return [way / sum(ways) for way in ways]


def test_it_agrees_with_counting_out_exact_fractions() -> None:
    """Two thousand random small tables, seed 20270301."""
    rng = random.Random(20270301)
    for _ in range(2000):
        n_labels, n_words = rng.randint(1, 3), rng.randint(1, 3)
        cases = [rng.randint(0, 4) for _ in range(n_labels)]
        cases[rng.randrange(n_labels)] += 1
        balls = [[rng.randint(0, 3) for _ in range(n_words)] for _ in cases]
        for word in range(n_words):
            # Some label says each word; the others are not words of the table at all.
            balls[rng.choice([i for i, n in enumerate(cases) if n])][word] += 1
        text = tuple(rng.sample(range(n_words), rng.randint(0, n_words)))
        laws = {
            str(i): WordLaw(n, {str(w): float(k) for w, k in enumerate(balls[i])})
            for i, n in enumerate(cases)
        }

        found = p_labels(laws, [*map(str, text), "never said"])

        wanted = urn_posterior(cases, balls, text)
        assert found == pytest.approx(
            {str(i): float(p) for i, p in enumerate(wanted) if cases[i]}, abs=1e-12
        )


LAWS = st.dictionaries(
    st.sampled_from("abcd"),
    st.builds(
        WordLaw,
        st.floats(0.1, 50),
        st.dictionaries(st.sampled_from("uvwxyz"), st.floats(0, 50)),
    ),
    min_size=2,
)


@given(LAWS, st.permutations("uvwxyz"), st.integers(0, 6))
def test_it_gives_probabilities_in_any_order_of_words(laws, words, n) -> None:
    p = p_labels(laws, words[:n])

    assert 1.0 == pytest.approx(sum(p.values()))
    assert list(p.values()) == sorted(p.values(), reverse=True)
    assert p == pytest.approx(p_labels(laws, sorted(words[:n])))


@given(LAWS, st.sampled_from("uvwxyz"), st.floats(0.5, 50))
def test_it_never_believes_less_in_a_label_that_says_a_word_more(laws, word, more):
    name = next(iter(laws))
    told = {**laws[name].words, word: laws[name].words.get(word, 0.0) + more}
    # All other words stay the same, so only the share of this one grows.
    known = {**laws, "all": WordLaw(1.0, dict.fromkeys("uvwxyz", 1.0))}
    after = {**known, name: replace(laws[name], words=told)}

    assert p_labels(after, [word])[name] >= p_labels(known, [word])[name] - 1e-12


def test_it_says_the_shares_when_no_word_is_known() -> None:
    laws = {"a": WordLaw(1.0, {"x": 1.0}), "b": WordLaw(3.0, {})}

    assert not known_in(laws, "y")
    assert {"b": 0.75, "a": 0.25} == pytest.approx(p_labels(laws, ["y"]))


@pytest.mark.parametrize(
    ("laws", "said"),
    [
        ({"a": WordLaw(-1.0, {}), "b": WordLaw(2.0, {})}, "weights of a: found -1"),
        ({"a": WordLaw(1.0, {"x": -2.0})}, "weights of a: found -2"),
        ({"a": WordLaw(0.0, {"x": 2.0})}, "cases: found 0"),
        ({}, "cases: found 0"),
    ],
)
def test_it_refuses_weights_that_cannot_be(laws, said) -> None:
    with pytest.raises(BadArgumentError, match=said):
        p_labels(laws, ["x"])


def test_it_names_the_words_it_leans_on() -> None:
    laws = {
        "a": WordLaw(1.0, {"hot": 9.0, "loud": 4.0, "box": 2.0}),
        "b": WordLaw(1.0, {"loud": 1.0, "box": 6.0}),
    }
    stems = {"box": "box", "loud": "Loud", "hot": "hot", "zzz": "zzz"}

    assert ("hot", "Loud") == leaned_on(laws, "a", stems)
    assert ("box",) == leaned_on(laws, "b", stems)
    assert () == leaned_on({"a": laws["a"]}, "a", stems)


def test_a_sign_says_its_name_and_phrases() -> None:
    laws = sign_laws(BOX, ())

    assert {"dead": 1.0, "light": 1.0} == laws["dead"].words
    assert {"hum": 1.0, "buzz": 1.0, "nois": 1.0} == laws["hums"].words
    # By hand: 1/4 x .8 + 3/4 x .4, and 1/4 x .1 + 3/4 x .3.
    assert (0.5, 0.25) == pytest.approx((laws["dead"].cases, laws["hums"].cases))


def test_a_sign_says_what_open_counts_say_of_the_faults_behind_it() -> None:
    """
    By hand, behind dead: lead .2 and pack .3 of .5; a lead says wire in 6 of 8 words, a
    pack flat in 13 of its 16.
    """
    words = sign_laws(BOX, (), TEXTS)["dead"].words

    assert OPEN_WORDS * 0.4 * 6 / 8 == pytest.approx(words["wire"])
    assert OPEN_WORDS * 0.6 * 13 / 16 == pytest.approx(words["flat"])
    assert OPEN_WORDS + 2 == pytest.approx(sum(words.values()))
    assert "slow" not in words


def test_own_jobs_teach_the_sign_that_was_noted() -> None:
    told = [Told(DONE, "nothing glows"), Told(replace(DONE, signs=()), "glows")]

    laws = sign_laws(BOX, told)

    # The second noted none, so its fault speaks: .8 to .1.
    assert 1 + 8 / 9 == pytest.approx(laws["dead"].words["glow"])
    assert 1 / 9 == pytest.approx(laws["hums"].words["glow"])


def test_a_sign_in_the_customers_words_is_some_of_them() -> None:
    """An unknown sign is words; one that is a phrase of the table is its sign."""
    job = replace(DONE, signs=("No light", "glows green"))

    assert {"glow": 1.0, "green": 1.0} == own_words(BOX, [Told(job)])[0][1]
    assert 1.0 == sign_laws(BOX, [Told(job)])["dead"].words["glow"]


@pytest.mark.parametrize(
    "told",
    [
        Told(replace(DONE, family="Crate"), "glows"),
        Told(DONE),
        Told(PastJob("Box", "written off"), "glows"),
    ],
)
def test_jobs_without_words_or_sign_or_of_others_teach_no_sign(told) -> None:
    assert sign_laws(BOX, ()) == sign_laws(BOX, [told])


def test_twenty_own_jobs_move_a_new_word_to_its_sign() -> None:
    """Ours: a word nobody knew, said in 20 jobs that hummed."""
    jobs = [
        Told(replace(DONE, confirmed="pack", signs=("hums",)), "it goes plopp")
    ] * 20

    before = sign_laws(BOX, (), TEXTS)
    after = sign_laws(BOX, jobs, TEXTS)

    assert not known_in(before, "plopp")
    p = p_labels(after, stems_of("plopp"))
    assert "hums" == next(iter(p))
    assert p["hums"] > 0.9
    assert ("plopp",) == leaned_on(after, "hums", {"plopp": "plopp"})


def test_own_jobs_outvote_the_open_counts() -> None:
    """Flat is a word of packs in the open counts; here it is what dead leads have."""
    jobs = [Told(replace(DONE, confirmed="lead"), "flat")]

    shares = [
        p_labels(sort_laws(BOX, jobs * n, TEXTS, open_cases=30.0), ["flat"])["Cord"]
        for n in (0, 5, 20, 60)
    ]

    assert shares == sorted(shares)
    assert shares[0] < 0.1
    assert shares[3] > 0.5


def test_every_open_sort_is_a_label_with_its_share() -> None:
    """By hand: 30 cases parted as 10, 30, 10 and 50 of 100."""
    laws = sort_laws(BOX, (), TEXTS, open_cases=30.0)

    assert {"Cord": 3.0, "Power": 9.0, "Cells": 3.0, "Other": 15.0} == pytest.approx(
        {sort: law.cases for sort, law in laws.items()}
    )
    assert "Other" == next(iter(p_labels(laws, ["slow"])))
    # Phrases go to the sorts of the faults behind their sign: dead is a lead in .4.
    assert OPEN_WORDS * 2 / 8 + 0.4 == pytest.approx(laws["Cord"].words["dead"])
    assert 0.6 * 3 / 4 == pytest.approx(laws["Power"].words["light"])


def test_without_open_counts_the_table_speaks_of_its_sorts() -> None:
    """By hand: ten cases, a pack of two sorts in three of four."""
    laws = sort_laws(BOX, (), None, open_cases=30.0)

    assert {"Cells": 3.75, "Cord": 2.5, "Power": 3.75} == pytest.approx(
        {sort: law.cases for sort, law in laws.items()}
    )
    assert {} == sort_laws(TABLE, (), None, open_cases=30.0)


def test_it_counts_a_confirmed_fault_to_its_sorts() -> None:
    jobs = [Told(replace(DONE, confirmed="pack"), "glows")] * 4

    laws = sort_laws(BOX, jobs, TEXTS, open_cases=30.0)

    # Four packs parted by the cases of their sorts, 9 to 3, which keeps that share.
    assert (12.0, 4.0) == pytest.approx((laws["Power"].cases, laws["Cells"].cases))
    assert (3.0, 1.0) == pytest.approx(
        (laws["Power"].words["glow"], laws["Cells"].words["glow"])
    )


def test_the_first_sign_has_a_phrase_of_two() -> None:
    table = replace(BOX, signs={**SIGNS, "gone": Sign({}, ("No Light",))})

    assert "dead" == phrases_of(table)["no light"]
    assert "gone" == phrases_of(table)["gone"]

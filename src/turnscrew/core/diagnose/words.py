"""
What do a customer's words point to: which sign, and which sort of fault?

Method: naive Bayes. Each label (a sign, or a sort of fault) has a law of words, the
mean of a Dirichlet distribution: e own words for each of the V words that any label
says, and above them the label's own, from phrases of the table, open counts and own
jobs::

    p(word | label) = (e + n(label, word)) / (e V + n(label))
    P(label | words) ~ cases(label) x product of p(word | label) over the known words

Words of open counts weigh as so many own words for each label, whatever their number.
Sources: Gelman and others, Bayesian Data Analysis, section 3.4 (Dirichlet), from
memory; weights and threshold are choices, weighed by ``benchmarks/words.py``.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import exp, log

from turnscrew.core.diagnose.evidence import told_of
from turnscrew.core.model.faults import FaultTable
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.model.wanted import refuse, unlike

EACH_WORD = 0.2
"""e: own words that any word weighs under any label; a choice. [1]"""

OPEN_WORDS = 40.0
"""Own words that the open law of one label weighs; a choice. [1]"""

LEAN = 1.5
"""A word is leaned on if it is so many times likelier under the best label. [1]"""

STOP_WORDS = frozenset(
    "a after all also am an and any are as at be been but by can cannot cant could"
    " did do does doesnt doing dont for from get gets getting got had has have he her"
    " here his how i if in into is isnt it its just me my no not now of on only or our"
    " please say says seem seems she since so some still than that the their them then"
    " there these they this to too very was wasnt we were when which while who will"
    " with wont would you your".split()
)
"""Words that tell no label from another; most of them stand in every text."""

_WORD = re.compile(r"[^\W\d_]+(?:['\u2019][^\W\d_]+)*")
_DOUBLED = re.compile(r"([bdgmnprt])\1$")
_LEAST_STEM = 3


@dataclass(frozen=True)
class WordLaw:
    """
    What one label says in words.

    Parameters
    ----------
    cases
        How often the label comes up, against the others. [1]
    words
        Its words by stem, each with its weight in own words. [1]
    """

    cases: float
    words: Mapping[str, float]


@dataclass(frozen=True)
class OpenTexts:
    """
    What open counts say of one category, by sort of fault.

    Parameters
    ----------
    category
        The category, as Laptop.
    n_jobs
        Jobs of each sort. [1]
    words
        For each sort how often each stem stands in its texts. [1]
    """

    category: str
    n_jobs: Mapping[str, int]
    words: Mapping[str, Mapping[str, float]]


@dataclass(frozen=True)
class Told:
    """
    A closed job with what the customer said.

    Parameters
    ----------
    job
        The job.
    words
        The customer's words; empty if nobody wrote them down.
    """

    job: PastJob
    words: str = ""


def stems_of(text: str) -> dict[str, str]:
    """
    Fold a text into the stems of its words, without stop-words.

    Case, apostrophes, digits, a last s or es, ing, ed, e and the doubled letter before
    them are taken off; nothing else is.

    Parameters
    ----------
    text
        The text.

    Returns
    -------
    dict
        By stem the word as it first stands in the text.
    """
    stems: dict[str, str] = {}
    for match in _WORD.finditer(text):
        said = match.group()
        word = re.sub("['\u2019]", "", said.lower())
        if word not in STOP_WORDS:
            stems.setdefault(_stem(word), said)
    return stems


def _stem(word: str) -> str:
    for ending in ("ing", "ed", "es", "s"):
        kept = word.removesuffix(ending)
        if kept == word or len(kept) < _LEAST_STEM:
            continue
        # Glass and speed do not end in a plural and a past.
        if (ending, kept[-1]) not in (("s", "s"), ("ed", "e"), ("es", "s")):
            word = _DOUBLED.sub(r"\1", kept)
            break
    return word[:-1] if word.endswith("e") and len(word) > _LEAST_STEM else word


def p_labels(laws: Mapping[str, WordLaw], stems: Iterable[str]) -> dict[str, float]:
    """
    Reckon how likely each label is after some words.

    Parameters
    ----------
    laws
        What each label says; those without cases are left out.
    stems
        Stems of the words; those that no label says are passed over.

    Returns
    -------
    dict
        Probability of each label, the likeliest first; they sum to 1. [1]

    Raises
    ------
    BadArgumentError
        If a weight is negative, or no label has cases.
    """
    least = {
        name: min(law.cases, *law.words.values(), 0.0) for name, law in laws.items()
    }
    refuse(
        *(unlike(f"weights of {name}", n, least=0) for name, n in least.items()),
        unlike("cases", sum(law.cases for law in laws.values()), above=0),
    )
    fit = {name: law for name, law in laws.items() if law.cases > 0}
    known = _chances(fit, stems).values()
    scores = {
        name: log(law.cases) + sum(log(chance[name]) for chance in known)
        for name, law in fit.items()
    }
    top = max(scores.values())
    mass = sum(exp(score - top) for score in scores.values())
    ranked = sorted(scores, key=lambda name: (-scores[name], name))
    return {name: exp(scores[name] - top) / mass for name in ranked}


def _chances(
    laws: Mapping[str, WordLaw], stems: Iterable[str]
) -> dict[str, dict[str, float]]:
    """Give the chance of each known word under each label."""
    said = {stem for law in laws.values() for stem, n in law.words.items() if n > 0}
    totals = {
        name: EACH_WORD * len(said) + sum(law.words.values())
        for name, law in laws.items()
    }
    return {
        stem: {
            name: (EACH_WORD + law.words.get(stem, 0.0)) / totals[name]
            for name, law in laws.items()
        }
        for stem in stems
        if stem in said
    }


def known_in(laws: Mapping[str, WordLaw], stem: str) -> bool:
    """
    Tell whether any label says a word.

    Parameters
    ----------
    laws
        What each label says.
    stem
        Stem of the word.

    Returns
    -------
    bool
        True if so.
    """
    return any(law.words.get(stem, 0.0) > 0 for law in laws.values())


def leaned_on(
    laws: Mapping[str, WordLaw], label: str, stems: Mapping[str, str]
) -> tuple[str, ...]:
    """
    Name the words that speak for a label.

    Parameters
    ----------
    laws
        What each label says.
    label
        The label.
    stems
        By stem the word as it was said.

    Returns
    -------
    tuple
        Words at least ``LEAN`` times as likely under the label as under the others
        together, the strongest first, as they were said.
    """
    others = {name: law.cases for name, law in laws.items() if name != label}
    total = sum(others.values())
    ratios: dict[str, float] = {}
    for stem, chances in _chances(laws, stems).items() if total > 0 else ():
        mean = sum(chances[name] * cases for name, cases in others.items()) / total
        ratios[stems[stem]] = chances[label] / mean
    strong = [said for said, ratio in ratios.items() if ratio >= LEAN]
    return tuple(sorted(strong, key=lambda said: -ratios[said]))


def sign_laws(
    table: FaultTable, told: Sequence[Told], texts: OpenTexts | None = None
) -> dict[str, WordLaw]:
    """
    Put together what each sign says.

    The open law of a sign is that of the faults behind it, each in its share, each by
    the sorts it is counted as.

    Parameters
    ----------
    table
        The fault table, best as closed jobs have taught it.
    told
        Closed jobs with the customers' words; those of other families, or without sign
        and confirmed fault, are left out.
    texts
        Open counts of the table's category, if there are any.

    Returns
    -------
    dict
        The laws by sign.
    """
    behind = _behind(table)
    laws: dict[str, dict[str, float]] = {sign: {} for sign in table.signs}
    for sign, faults in behind.items():
        for fault, share in _shares(faults).items():
            law = _open_law(table.faults[fault].counted_as, texts)
            _add(laws[sign], law, OPEN_WORDS * share)
        for phrase in (sign, *table.signs[sign].says):
            _add(laws[sign], dict.fromkeys(stems_of(phrase), 1.0), 1.0)
    for job, own in own_words(table, told):
        for sign, share in _signs_of(table, job).items():
            _add(laws[sign], own, share)
    return {
        sign: WordLaw(sum(behind[sign].values()), law) for sign, law in laws.items()
    }


def sort_laws(
    table: FaultTable,
    told: Sequence[Told],
    texts: OpenTexts | None = None,
    *,
    open_cases: float,
) -> dict[str, WordLaw]:
    """
    Put together what each sort of fault says.

    Parameters
    ----------
    table
        The fault table, whose faults say as what they are counted.
    told
        Closed jobs with the customers' words; only those of the family with a confirmed
        fault teach.
    texts
        Open counts of the table's category; with them every sort of theirs is a label,
        also one that no fault of the table belongs to.
    open_cases
        Own cases that the open counts weigh. [1]

    Returns
    -------
    dict
        The laws by sort; none if the table names no sort and there are no counts.
    """
    cases, laws = _first_sorts(table, texts, open_cases)
    for sign, faults in _behind(table).items():
        stems: dict[str, float] = {}
        for phrase in (sign, *table.signs[sign].says):
            _add(stems, dict.fromkeys(stems_of(phrase), 1.0), 1.0)
        for fault, share in _shares(faults).items():
            for sort, part in _sorts_of(table, fault, cases).items():
                _add(laws[sort], stems, part * share)
    for job, own in own_words(table, told):
        if job.confirmed in table.faults:
            parts = _sorts_of(table, job.confirmed, cases)
            for sort, part in parts.items():
                _add(laws[sort], own, part)
            cases = {sort: n + parts.get(sort, 0.0) for sort, n in cases.items()}
    return {sort: WordLaw(cases[sort], laws[sort]) for sort in laws}


def phrases_of(table: FaultTable) -> dict[str, str]:
    """
    Give the names of signs and the phrases for them.

    Parameters
    ----------
    table
        The fault table.

    Returns
    -------
    dict
        By name or phrase, in lower case, the first sign that bears it.
    """
    found: dict[str, str] = {}
    for name, sign in table.signs.items():
        for phrase in (name, *sign.says):
            found.setdefault(phrase.lower(), name)
    return found


def own_words(
    table: FaultTable, told: Iterable[Told]
) -> tuple[tuple[PastJob, dict[str, float]], ...]:
    """
    Give the jobs of a family that have the customer's words.

    Parameters
    ----------
    table
        The fault table.
    told
        Closed jobs.

    Returns
    -------
    tuple
        Jobs, each with its words by stem, each once; a sign that the table does not
        know counts as some of them. [1]
    """
    phrases = phrases_of(table)
    found: list[tuple[PastJob, dict[str, float]]] = []
    for one in told:
        strange = [s for s in one.job.signs if s.strip().lower() not in phrases]
        stems = dict.fromkeys(stems_of(" ".join((one.words, *strange))), 1.0)
        if one.job.family == table.family and stems:
            found.append((one.job, stems))
    return tuple(found)


def _first_sorts(
    table: FaultTable, texts: OpenTexts | None, open_cases: float
) -> tuple[dict[str, float], dict[str, dict[str, float]]]:
    """Give each sort its cases and words before phrases and own jobs."""
    if texts is not None:
        n = sum(texts.n_jobs.values())
        cases = {sort: open_cases * k / n for sort, k in texts.n_jobs.items() if k}
    else:
        named = {sort for fault in table.faults.values() for sort in fault.counted_as}
        cases = dict.fromkeys(sorted(named), 0.0)
        total = sum(table.weights.values())
        for fault, weight in table.weights.items():
            for sort in table.faults[fault].counted_as:
                n_sorts = len(table.faults[fault].counted_as)
                cases[sort] += (table.prior.cases or 1.0) * weight / total / n_sorts
    laws: dict[str, dict[str, float]] = {sort: {} for sort in cases}
    for sort, law in laws.items():
        _add(law, _open_law((sort,), texts), OPEN_WORDS)
    return cases, laws


def _behind(table: FaultTable) -> dict[str, dict[str, float]]:
    """Give for each sign the chance of each fault with it."""
    total = sum(table.weights.values())
    return {
        name: {
            fault: weight / total * told_of(sign.chances, fault)
            for fault, weight in table.weights.items()
        }
        for name, sign in table.signs.items()
    }


def _open_law(sorts: Iterable[str], texts: OpenTexts | None) -> dict[str, float]:
    """Give the words of some sorts together as shares."""
    words: dict[str, float] = {}
    for sort in sorts:
        _add(words, texts.words.get(sort, {}) if texts else {}, 1.0)
    return _shares(words)


def _add(law: dict[str, float], words: Mapping[str, float], weight: float) -> None:
    for stem, n in words.items():
        law[stem] = law.get(stem, 0.0) + weight * n


def _sorts_of(
    table: FaultTable, fault: str, cases: Mapping[str, float]
) -> dict[str, float]:
    """Split a fault among the sorts it is counted as, by their cases."""
    sorts = table.faults[fault].counted_as
    return _shares({sort: cases[sort] for sort in sorts if sort in cases})


def _shares(weights: Mapping[str, float]) -> dict[str, float]:
    total = sum(weights.values())
    return {name: n / total for name, n in weights.items()} if total else {}


def _signs_of(table: FaultTable, job: PastJob) -> dict[str, float]:
    """Say which signs a job teaches: those noted, else those of its fault."""
    phrases = phrases_of(table)
    named = (phrases.get(sign.strip().lower()) for sign in job.signs)
    noted = dict.fromkeys((sign for sign in named if sign), 1.0)
    if noted:
        return _shares(noted)
    if job.confirmed not in table.faults:
        return {}
    return _shares(
        {name: told_of(one.chances, job.confirmed) for name, one in table.signs.items()}
    )

"""
How often is the first reading of words right, and how often is it asked instead?

Open record: rows with words and a sort of fault, five folds by row number; four folds
are the open law, the words of the fifth are read. Beside it the same from counts of
signs alone, spread over plain words, and "always the commonest". Words and sort come
from one text, so all this flatters.

Phrases: each phrase of each example table is taken out and then read by what is left,
without and with the open counts. No figure here is of texts of own customers. Run::

    .venv/bin/python benchmarks/words.py
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import exp, log
from pathlib import Path
from typing import NamedTuple

from turnscrew.core.diagnose.words import (
    OpenTexts,
    p_labels,
    sign_laws,
    sort_laws,
    stems_of,
)
from turnscrew.core.model.faults import CheckOut, Fault, FaultTable, GiveUp
from turnscrew.core.model.repair_record import RepairRecord
from turnscrew.files.faults_file import read_faults
from turnscrew.files.open_repairs_file import read_open_repairs
from turnscrew.flows.open_repairs import NOT_SORTED, PSEUDO_CASES
from turnscrew.flows.words import (
    CLEAR,
    base_of_counts,
    base_of_records,
    read_words,
    sign_counts,
    texts_for,
)

ROOT = Path(__file__).parents[1]
FOLDS = 5
BARE = FaultTable("bare", 100, {"any": Fault(1.0)}, {}, CheckOut(1.0), GiveUp(1))


class Guess(NamedTuple):
    """One reading: the labels ranked, and the one that is right."""

    p: Mapping[str, float]
    right: str


def told(name: str, guesses: Sequence[Guess]) -> None:
    n = len(guesses)
    ranked = [(list(g.p), g) for g in guesses]
    first = sum(names[:1] == [g.right] for names, g in ranked) / n
    three = sum(g.right in names[:3] for names, g in ranked) / n
    loss = sum(-log(max(g.p.get(g.right, 0.0), 1e-6)) for _, g in ranked) / n
    taken = [(names, g) for names, g in ranked if names and g.p[names[0]] >= CLEAR]
    right = sum(names[0] == g.right for names, g in taken) / max(1, len(taken))
    print(
        f"{name:44} n {n:4}  first {first:.3f}  in three {three:.3f}"
        f"  log-loss {loss:.2f}  taken {len(taken) / n:.2f}, right {right:.3f}"
    )


def split(rows: Sequence[RepairRecord]) -> list[tuple[list[RepairRecord], ...]]:
    return [
        (
            [row for i, row in enumerate(rows) if i % FOLDS != fold],
            [row for i, row in enumerate(rows) if i % FOLDS == fold],
        )
        for fold in range(FOLDS)
    ]


def guessed(texts: OpenTexts, rows: Sequence[RepairRecord]) -> list[Guess]:
    laws = sort_laws(BARE, (), texts, open_cases=PSEUDO_CASES)
    return [Guess(p_labels(laws, stems_of(row.problem)), row.fault) for row in rows]


def open_record(records: Sequence[RepairRecord], category: str) -> None:
    rows = [
        row
        for row in records
        if row.category == category
        and row.fault not in NOT_SORTED
        and stems_of(row.problem)
    ]
    by_words: list[Guess] = []
    by_signs: list[Guess] = []
    commonest: list[Guess] = []
    for learn, look in split(rows):
        for base, guesses in (
            (base_of_records(learn), by_words),
            (base_of_counts(sign_counts(learn)), by_signs),
        ):
            texts = OpenTexts(category, base.n_jobs[category], base.words[category])
            guesses += guessed(texts, look)
        counts = Counter(row.fault for row in learn)
        shares = {sort: n / len(learn) for sort, n in counts.most_common()}
        commonest += [Guess(shares, row.fault) for row in look]
    told(f"{category}: words", by_words)
    told(f"{category}: signs spread over plain words", by_signs)
    told(f"{category}: always the commonest", commonest)


def signs_alone(records: Sequence[RepairRecord]) -> list[Guess]:
    """
    Read the signs of laptops as a check on the record and the folds.

    Naive Bayes of signs there and not there, one text added each way. Counted apart
    from this program on the whole record, 2,531 laptops: first .684, in three .878,
    log-loss 1.09, commonest .157.
    """
    rows = [r for r in records if r.category == "Laptop" and r.fault not in NOT_SORTED]
    tags = sorted({tag for row in rows for tag in row.signs})
    guesses = []
    for learn, look in split(rows):
        n = Counter(row.fault for row in learn)
        k = Counter((row.fault, tag) for row in learn for tag in row.signs)
        p = {(s, tag): (k[s, tag] + 1) / (n[s] + 2) for s in n for tag in tags}
        for row in look:
            scores = {
                s: log(n[s])
                + sum(log(p[s, t] if t in row.signs else 1 - p[s, t]) for t in tags)
                for s in n
            }
            top = max(scores.values())
            mass = sum(exp(score - top) for score in scores.values())
            ranked = sorted(scores, key=lambda sort: -scores[sort])
            shares = {s: exp(scores[s] - top) / mass for s in ranked}
            guesses.append(Guess(shares, row.fault))
    return guesses


def phrases(path: Path, records: Sequence[RepairRecord] | None) -> list[Guess]:
    """Read each phrase by the rest of its table."""
    table = read_faults(path.read_text("utf-8"))
    texts = texts_for(table, base_of_records(records)) if records else None
    guesses = []
    for name, sign in table.signs.items():
        for phrase in sign.says:
            if phrase == name:
                continue
            rest = tuple(other for other in sign.says if other != phrase)
            signs = {**table.signs, name: replace(sign, says=rest)}
            left = replace(table, signs=signs)
            read = read_words(left, phrase, (), texts, open_cases=PSEUDO_CASES)
            shares = p_labels(sign_laws(left, ()), ())
            guesses.append(Guess(read.signs or shares, name))
    return guesses


def commonest_sign(path: Path) -> list[Guess]:
    """Guess by the share of each sign alone."""
    table = read_faults(path.read_text("utf-8"))
    p = p_labels(sign_laws(table, ()), ())
    signs = table.signs.items()
    return [Guess(p, name) for name, one in signs for said in one.says if said != name]


def main() -> None:
    content = (ROOT / "data" / "open_repairs.csv").read_bytes()
    records = read_open_repairs(content).records
    told("Laptop: signs there and not there", signs_alone(records))
    for category in ("Laptop", "Mobile", "Tablet"):
        open_record(records, category)
    tables = sorted((ROOT / "examples").rglob("*.faults.yaml"))
    told("phrases left out", [g for path in tables for g in phrases(path, None)])
    told("commonest sign", [g for path in tables for g in commonest_sign(path)])
    told(
        "phrases left out, open words known",
        [g for path in tables for g in phrases(path, records)],
    )


if __name__ == "__main__":
    main()

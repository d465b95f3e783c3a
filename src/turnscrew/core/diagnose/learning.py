"""
What do closed jobs teach about weights, signs, tests and repairs?

Method: counts of confirmed faults over the base prior, as a Dirichlet prior whose
strength is the table's number of cases; then the revision and the site, each leaning on
the one before with a few cases of strength. The expected cost of a fixed strategy is
linear in each of these chances, so posterior means are all that a decision needs.
Base priors may be counted elsewhere, by sorts of fault; then those counts are the
Dirichlet prior, each sort split among its faults as the table splits it.
A job written off has no confirmed fault: it is counted by its final belief, else faults
cheap to mend would seem ever more common. No fault found has its own count.
Sources: Gelman and others, Bayesian Data Analysis, section 3.4 (Dirichlet), from
memory; the strengths are common practice, no source.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace

from turnscrew.core.diagnose.evidence import (
    STILL_AT_FAULT,
    Evidence,
    Finding,
    belief_after,
    told_of,
)
from turnscrew.core.diagnose.words import phrases_of
from turnscrew.core.model.faults import (
    NOTHING_WRONG,
    FaultRepair,
    FaultTable,
    FaultTest,
    Sign,
)
from turnscrew.core.model.past_job import PastJob

BACK_OFF_CASES = 10.0
"""Cases by which revision and site lean on the family; common practice. [1]"""

ROW_CASES = 20.0
"""Cases that a row of the table counts for; common practice. [1]"""

MENDED = "mended"


@dataclass(frozen=True)
class Learned:
    """
    A fault table with what closed jobs taught.

    Parameters
    ----------
    table
        The table with learned weights, signs, tests and repairs.
    n_jobs
        Jobs that taught it. [1]
    """

    table: FaultTable
    n_jobs: int


def learned(
    table: FaultTable,
    jobs: Iterable[PastJob],
    *,
    revision: str = "",
    site: str = "",
) -> Learned:
    """
    Learn a fault table from closed jobs.

    Parameters
    ----------
    table
        The table as written.
    jobs
        Closed jobs; those of other families are left out.
    revision
        Revision of the device on the bench; empty if not known.
    site
        Where it was used; empty if not known.

    Returns
    -------
    Learned
        The table with posterior means.
    """
    own = [job for job in jobs if job.family == table.family]
    shares = [(job, fault_shares(table, job)) for job in own]
    weights = _base(table)
    levels = (
        (table.prior.cases, shares),
        (BACK_OFF_CASES, [s for s in shares if revision and s[0].revision == revision]),
        (BACK_OFF_CASES, [s for s in shares if site and s[0].site == site]),
    )
    for cases, counted in levels:
        weights = _posterior(weights, cases, [share for _, share in counted])
    n_nothing = sum(share.get(NOTHING_WRONG, 0.0) for _, share in shares)
    n_cases = table.prior.cases + len(own)
    nothing = table.nothing_wrong
    if n_cases > 0:
        nothing = (table.prior.cases * nothing + n_nothing) / n_cases
    faults = {
        name: replace(fault, weight=1000 * weights[name])
        for name, fault in table.faults.items()
    }
    whole = replace(table, faults=faults, nothing_wrong=min(nothing, 0.99))
    return Learned(
        replace(
            whole,
            signs=_signs(table, shares),
            tests=_tests(table, shares),
            repairs=_repairs(table, own),
        ),
        len(own),
    )


@dataclass(frozen=True)
class Rebased:
    """
    A fault table on base priors that were counted elsewhere.

    Parameters
    ----------
    table
        The table with its new weights and where they come from.
    pseudo_cases
        Own cases that each sort of fault weighs. [1]
    kept
        Faults that keep the table's own share, because no count speaks of them.
    said
        Where the priors come from and what they weigh, in sentences.
    """

    table: FaultTable
    pseudo_cases: dict[str, float]
    kept: tuple[str, ...]
    said: tuple[str, ...]


def kept_share(table: FaultTable, counted: Collection[str]) -> float:
    """
    Say which share of a table's weight no count speaks of.

    Parameters
    ----------
    table
        The fault table.
    counted
        Sorts of fault that were counted.

    Returns
    -------
    float
        The share. [1]
    """
    base = _base(table)
    return sum(base[name] for name in _uncounted(table, counted))


def rebased(
    table: FaultTable, prior: Mapping[str, float], *, cases: float, source: str
) -> Rebased:
    """
    Put a fault table on base priors that were counted elsewhere.

    Parameters
    ----------
    table
        The fault table as written.
    prior
        Own cases that each sort of fault weighs. [1]
    cases
        Own cases that all weigh, the faults that no count speaks of included. [1]
    source
        Where they were counted, in words.

    Returns
    -------
    Rebased
        The table: within a sort its own weights part the cases, evenly if all are 0;
        a fault of several sorts has its part of each; what is counted nowhere keeps
        its share of the whole.
    """
    base = _base(table)
    kept = _uncounted(table, prior)
    weights = {name: cases * base[name] if name in kept else 0.0 for name in base}
    for sort, n in prior.items():
        inside = [f for f, fault in table.faults.items() if sort in fault.counted_as]
        total = sum(base[name] for name in inside)
        for name in inside:
            weights[name] += n * (base[name] / total if total else 1 / len(inside))
    whole = sum(weights.values())
    faults = {
        name: replace(fault, weight=1000 * weights[name] / whole)
        for name, fault in table.faults.items()
    }
    said = [f"Base priors: {source}; they weigh as {cases:g} own cases."]
    if kept:
        said.append(f"No counts, so the table's own share: {', '.join(kept)}.")
    return Rebased(
        replace(
            table,
            faults=faults,
            prior=replace(table.prior, source=source, cases=cases),
        ),
        dict(prior),
        kept,
        tuple(said),
    )


def _uncounted(table: FaultTable, counted: Collection[str]) -> tuple[str, ...]:
    return tuple(
        name
        for name, fault in table.faults.items()
        if not any(sort in counted for sort in fault.counted_as)
    )


def fault_shares(table: FaultTable, job: PastJob) -> dict[str, float]:
    """
    Say which fault a closed job counts for.

    Parameters
    ----------
    table
        The fault table.
    job
        The job.

    Returns
    -------
    dict
        Shares by fault that sum to 1: the confirmed one, nothing wrong, or the final
        belief of a job written off. [1]
    """
    if job.confirmed in table.faults:
        return {job.confirmed: 1.0}
    if job.end == "no fault found":
        return {NOTHING_WRONG: 1.0}
    return belief_after(table, table.weights, evidence_of(table, job)).after


def evidence_of(table: FaultTable, job: PastJob) -> Evidence:
    """
    Take the evidence of a closed job.

    Parameters
    ----------
    table
        The fault table.
    job
        The job.

    Returns
    -------
    Evidence
        Its signs and findings, as far as the table knows them; a repair counts only if
        it did not mend.
    """
    findings = [
        Finding(name, outcome)
        for name, outcome in _until_mended(table, job)
        if (name in table.tests and outcome in table.tests[name].all_outcomes)
        or (name in table.repairs and outcome == STILL_AT_FAULT)
    ]
    return Evidence(signs_of(table, job), tuple(findings))


def signs_of(table: FaultTable, job: PastJob) -> tuple[str, ...]:
    """
    Name the signs of a closed job as the table does.

    Parameters
    ----------
    table
        The fault table.
    job
        The job, whose signs stand by name or in a phrase of the table, in any case.

    Returns
    -------
    tuple
        Each sign once; what the table does not know is left out.
    """
    phrases = phrases_of(table)
    named = (phrases.get(sign.strip().lower()) for sign in job.signs)
    return tuple(dict.fromkeys(sign for sign in named if sign))


def _until_mended(table: FaultTable, job: PastJob) -> tuple[tuple[str, str], ...]:
    """Give what was found before the device worked again; the rest is its proof."""
    for n, (name, outcome) in enumerate(job.findings):
        if name in table.repairs and outcome == MENDED:
            return job.findings[:n]
    return job.findings


def _base(table: FaultTable) -> dict[str, float]:
    total = sum(fault.weight for fault in table.faults.values())
    return {name: fault.weight / total for name, fault in table.faults.items()}


def _posterior(
    weights: Mapping[str, float], cases: float, shares: list[dict[str, float]]
) -> dict[str, float]:
    counts = {name: sum(share.get(name, 0.0) for share in shares) for name in weights}
    total = cases + sum(counts.values())
    if total <= 0:
        return dict(weights)
    return {
        name: (cases * weight + counts[name]) / total
        for name, weight in weights.items()
    }


_Shares = list[tuple[PastJob, dict[str, float]]]


def _signs(table: FaultTable, shares: _Shares) -> dict[str, Sign]:
    told = [({*signs_of(table, job)}, share) for job, share in shares if job.signs]
    signs: dict[str, Sign] = {}
    for sign, written in table.signs.items():
        chances = {
            name: _mean(
                ROW_CASES,
                told_of(written.chances, name),
                [(share.get(name, 0.0), sign in shown) for shown, share in told],
            )
            for name in (*table.faults, NOTHING_WRONG)
        }
        signs[sign] = replace(written, chances=chances)
    return signs


def _tests(table: FaultTable, shares: _Shares) -> dict[str, FaultTest]:
    tests: dict[str, FaultTest] = {}
    for name, test in table.tests.items():
        made = [
            (share, outcome)
            for job, share in shares
            for made_name, outcome in _until_mended(table, job)
            if made_name == name and outcome in test.all_outcomes
        ]
        means = {
            fault: tuple(
                _mean(
                    ROW_CASES,
                    told_of(test.means, fault)[o],
                    [(share.get(fault, 0.0), seen == outcome) for share, seen in made],
                )
                for o, outcome in enumerate(test.all_outcomes)
            )
            for fault in (*table.faults, NOTHING_WRONG)
        }
        tests[name] = replace(test, means=means)
    return tests


def _repairs(table: FaultTable, jobs: list[PastJob]) -> dict[str, FaultRepair]:
    repairs: dict[str, FaultRepair] = {}
    for name, repair in table.repairs.items():
        mends = {
            fault: _mean(
                ROW_CASES,
                chance,
                [
                    (1.0, outcome == MENDED)
                    for job in jobs
                    if job.confirmed == fault
                    for tried, outcome in job.findings
                    if tried == name and outcome in (MENDED, STILL_AT_FAULT)
                ],
            )
            for fault, chance in repair.mends.items()
        }
        repairs[name] = replace(repair, mends=mends)
    return repairs


def _mean(cases: float, chance: float, seen: list[tuple[float, bool]]) -> float:
    """Posterior mean of a chance from weighted cases."""
    total = cases + sum(weight for weight, _ in seen)
    return (cases * chance + sum(w for w, is_so in seen if is_so)) / total

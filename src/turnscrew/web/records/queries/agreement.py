"""How often do a customer's words name what then turns out to be wrong?"""

from collections import Counter, defaultdict
from dataclasses import dataclass

from turnscrew.web.records.models import Customer, Finding

FEWEST = 5
"""Below so many jobs no share is told. [1]"""


@dataclass(frozen=True)
class Agreement:
    """What was confirmed at one place, beside what was said."""

    site: str
    n_yes: int
    n_no: int
    n_nothing_said: int
    n_not_judged: int

    @property
    def n_judged(self) -> int:
        """Count the jobs of which it was said that the words agree or do not."""
        return self.n_yes + self.n_no

    @property
    def share(self) -> float | None:
        """Give the share that agrees; nothing below five jobs. [1]."""
        return self.n_yes / self.n_judged if self.n_judged >= FEWEST else None


def agreement_by_site(customer: Customer) -> list[Agreement]:
    """Give for each place how many jobs agree; one fault that does not tells no."""
    rows = Finding.objects.filter(
        stage=Finding.CONFIRMED, withdrawn_at=None, job__batch__customer=customer
    )
    judged: dict[tuple[str, int], set[str]] = defaultdict(set)
    told = rows.exclude(part="", code="").values_list("job__site", "job", "agrees")
    for site, job, agrees in told:
        judged[site, job].add(agrees)
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    for (site, _), said in judged.items():
        counts[site or "place not said"][_of_job(said)] += 1
    return [
        Agreement(site, n["yes"], n["no"], n["nothing said"], n[""])
        for site, n in sorted(counts.items())
    ]


def _of_job(said: set[str]) -> str:
    """Judge a whole job: no goes before nothing said, that before yes."""
    return next((one for one in ("no", "nothing said", "yes") if one in said), "")

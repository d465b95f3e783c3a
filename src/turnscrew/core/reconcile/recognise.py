"""
Which model and revision is it, how sure is that, and which look tells most next?

Method: the rule of Bayes over all known revisions. A look gives what it shows on a
device of the revision, or by a slip one of the other answers; a revision whose
description is silent on a look gives each answer alike. Looks are taken as independent
once the revision is known. The next look is the one that leaves the least uncertainty
to be expected, in bits.
"""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from turnscrew.core.model.device import Device, Revision
from turnscrew.core.model.serials import plain

OTHER = "something else"
"""The answer that no known revision gives."""

YES, NO = "yes", "no"
"""The answers to a look that is so or is not."""

SERIAL = "serial number"
"""What the evidence of the number is called."""

SLIP = 0.02
"""Share of looks that give a wrong answer; common practice, no source. [1]"""

NUMBER_SLIP = 0.05
"""
Share of bodies that bear a number of another kind, for the part with the plate may have
been exchanged; common practice, no source. [1]
"""

SURE = 0.95
"""From here on it is taken as told from outside: an aim, no source. [1]"""

_LEAST_BITS = 1e-9
"""A look that is expected to save less tells nothing. [bit]"""

_NEAR = 1e-9
"""Probabilities that differ by less are the same. [1]"""


@dataclass(frozen=True)
class Known:
    """
    One revision of one model as it is known.

    Parameters
    ----------
    model
        Short name of the model.
    revision
        Name of the revision; empty if the model has none.
    marks
        What each look shows on it.
    serials
        What its serial numbers begin with, or ranges such as ``PL3-100 to PL3-499``.
    n_before
        Devices of it that the workshop has on record. [1]
    confirm
        How it is confirmed once open.
    order_after_confirm
        Nothing is ordered before it is confirmed.
    """

    model: str
    revision: str = ""
    marks: Mapping[str, str] = field(default_factory=dict)
    serials: tuple[str, ...] = ()
    n_before: int = 0
    confirm: str = ""
    order_after_confirm: bool = False

    @property
    def name(self) -> str:
        """
        Name it.

        Returns
        -------
        str
            Such as ``L240 B``.
        """
        return f"{self.model} {self.revision}".strip()


@dataclass(frozen=True)
class Candidate:
    """
    One revision that it may be.

    Parameters
    ----------
    known
        The revision.
    p
        How probable it is. [1]
    fits
        Looks that speak for it.
    against
        Looks that speak against it.
    """

    known: Known
    p: float
    fits: tuple[str, ...] = ()
    against: tuple[str, ...] = ()


@dataclass(frozen=True)
class NextLook:
    """
    A look that would tell more.

    Parameters
    ----------
    look
        What to look at.
    answers
        What it can show: what the descriptions say, and something else.
    bits_left
        Uncertainty to be expected after it. [bit]
    """

    look: str
    answers: tuple[str, ...]
    bits_left: float


@dataclass(frozen=True)
class Recognition:
    """
    What is told of one device from outside.

    Parameters
    ----------
    candidates
        All known revisions, the most probable first.
    bits
        Uncertainty that is left. [bit]
    looks
        Looks that would tell more, the best first.
    n_seen
        Looks that gave an answer, the serial number counted. [1]
    is_number_set_aside
        The number speaks against what the body shows, so the body alone is reckoned.
    """

    candidates: tuple[Candidate, ...]
    bits: float
    looks: tuple[NextLook, ...] = ()
    n_seen: int = 0
    is_number_set_aside: bool = False

    @property
    def best(self) -> Candidate:
        """
        Give the most probable revision.

        Returns
        -------
        Candidate
            The first one.
        """
        return self.candidates[0]

    @property
    def tied(self) -> tuple[Candidate, ...]:
        """
        Give those that are as probable as the first.

        Returns
        -------
        tuple
            The first one among them.
        """
        best = self.best.p
        return tuple(one for one in self.candidates if one.p > best - _NEAR)

    @property
    def is_sure(self) -> bool:
        """
        Say whether it is told from outside.

        Returns
        -------
        bool
            True if something was seen, one revision is probable enough, and nothing
            that was seen speaks against it.
        """
        seen = self.n_seen > 0 and not self.best.against
        return seen and self.best.p >= SURE

    @property
    def fits_none(self) -> bool:
        """
        Say whether something that was seen speaks against every known revision.

        Returns
        -------
        bool
            True if so.
        """
        return all(one.against for one in self.candidates)


def known_revisions(
    devices: Mapping[str, Device], counts: Mapping[tuple[str, str], int]
) -> tuple[Known, ...]:
    """
    Give the revisions of some descriptions as they are told from outside.

    Where nothing is said in marks, the sentence by which a family or revision is told
    is a look of its own, answered by yes or no.

    Parameters
    ----------
    devices
        Descriptions by short name of the model, each read in any revision.
    counts
        Devices on record by model and revision. [1]

    Returns
    -------
    tuple
        One for each revision; one without a name for a model that has none.
    """
    families = [one.tell for one in devices.values() if not one.marks]
    found = []
    for model, device in devices.items():
        of_family = _marks(device.marks, device.tell, families)
        revisions = device.revisions or {"": Revision()}
        told = [one.tell for one in revisions.values() if not one.marks]
        found += [
            Known(
                model=model,
                revision=name,
                marks={**of_family, **_marks(one.marks, one.tell, told)},
                serials=one.serials or device.serials,
                n_before=counts.get((model, name), 0),
                confirm=one.confirm,
                order_after_confirm=one.order_after_confirm,
            )
            for name, one in revisions.items()
        ]
    return tuple(found)


def _marks(
    marks: Mapping[str, str], tell: str, others: Sequence[str]
) -> dict[str, str]:
    """Give marks as they are said, else yes to one's own sentence and no to others'."""
    if marks or not tell:
        return dict(marks)
    return {**{other: NO for other in others if other}, tell: YES}


def is_number_in(serial: str, spans: Sequence[str]) -> bool:
    """
    Say whether a serial number begins as said, or lies in a range.

    Parameters
    ----------
    serial
        The number as read.
    spans
        Beginnings, or ranges of numbers of one length with the word ``to`` between.

    Returns
    -------
    bool
        True if one of them holds.
    """
    for span in spans:
        # A hyphen ends a beginning only where the number was read with its own.
        spelled = str.upper if "-" in span and "-" in serial else plain
        read = spelled(serial.strip())
        first, _, last = (spelled(piece) for piece in span.partition(" to "))
        if last and len(read) == len(first) and first <= read <= last:
            return True
        if first and not last and read.startswith(first):
            return True
    return False


def recognised(
    known: Sequence[Known], seen: Mapping[str, str], serial: str = ""
) -> Recognition:
    """
    Rank the known revisions by what was seen, and find the look that tells most.

    Parameters
    ----------
    known
        The known revisions, one or more.
    seen
        What looks gave: an answer, or nothing where a look could not be taken. A look
        that is not in it was not taken.
    serial
        Serial number on the body; empty if it is not known.

    Returns
    -------
    Recognition
        Candidates with their probabilities, and the looks left with what each leaves.

    References
    ----------
    T. Bayes' rule with a prior of one device for each revision (the rule of succession
    of Laplace); C. E. Shannon, A Mathematical Theory of Communication (1948), section
    6, for the uncertainty; D. V. Lindley, On a Measure of the Information Provided by
    an Experiment, Annals of Mathematical Statistics 27 (1956), for choosing by what is
    expected of it (from memory).
    """
    answers = answers_by_look(known)
    taken = {look: said for look, said in seen.items() if said and look in answers}
    weights = [one.n_before + 1.0 for one in known]
    for look, said in taken.items():
        n = len(answers[look])
        weights = [
            weight * _chance(one.marks.get(look), said, n)
            for weight, one in zip(weights, known, strict=True)
        ]
    number = serial if any(one.serials for one in known) else ""
    by_body = _ranked(known, _shares(weights), taken, number)
    is_set_aside = _speaks_against(by_body[0])
    ranked = by_body
    if number and not is_set_aside:
        weights = _by_number(known, weights, number)
        ranked = _ranked(known, _shares(weights), taken, number)
    ps = _shares(weights)
    bits, masses = uncertainty_bits(ps), _shown(known, ps)
    left = [
        NextLook(look, said, _bits_left(bits, masses[look], said))
        for look, said in answers.items()
        if look not in seen
    ]
    useful = [one for one in left if one.bits_left < bits - _LEAST_BITS]
    return Recognition(
        candidates=ranked,
        bits=bits,
        looks=tuple(
            sorted(useful, key=lambda one: (round(one.bits_left, 9), one.look))
        ),
        n_seen=len(taken) + bool(number),
        is_number_set_aside=is_set_aside,
    )


def _speaks_against(best: Candidate) -> bool:
    """Say whether the number contradicts a revision whose marks were seen."""
    return best.against == (SERIAL,) and bool(best.fits)


def answers_by_look(known: Sequence[Known]) -> dict[str, tuple[str, ...]]:
    """
    Give all that each look can show; what is so or not shows nothing else.

    Parameters
    ----------
    known
        The known revisions.

    Returns
    -------
    dict
        What the descriptions say, and something else, by what is looked at.
    """
    shown: dict[str, set[str]] = defaultdict(set)
    for one in known:
        for look, shows in one.marks.items():
            shown[look].add(shows)
    return {
        look: (YES, NO) if said <= {YES, NO} else (*sorted(said), OTHER)
        for look, said in sorted(shown.items())
    }


def uncertainty_bits(ps: Sequence[float]) -> float:
    """
    Say how uncertain some probabilities leave one.

    Parameters
    ----------
    ps
        Probabilities that sum to 1. [1]

    Returns
    -------
    float
        Their entropy. [bit]
    """
    return -sum(p * math.log2(p) for p in ps if p > 0)


def _chance(shown: str | None, said: str, n: int) -> float:
    """Give the chance of an answer, one of ``n``, where the look shows something."""
    if shown is None:
        return 1 / n
    return 1 - SLIP if said == shown else SLIP / (n - 1)


def _by_number(
    known: Sequence[Known], weights: Sequence[float], number: str
) -> list[float]:
    """Weigh by whether the number is one of the revision, of another, or of none."""
    n = len({one.serials for one in known if one.serials}) + 1
    return [
        weight * _number_chance(one, number, n)
        for weight, one in zip(weights, known, strict=True)
    ]


def _number_chance(one: Known, number: str, n: int) -> float:
    if not one.serials:
        return 1 / n
    fits = is_number_in(number, one.serials)
    return 1 - NUMBER_SLIP if fits else NUMBER_SLIP / (n - 1)


def _shares(weights: Sequence[float]) -> list[float]:
    total = math.fsum(weights)
    return [weight / total for weight in weights]


def _shown(known: Sequence[Known], ps: Sequence[float]) -> dict[str, dict[str, float]]:
    """Sum by look and by what it shows how probable the revisions are that show it."""
    masses: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
    for one, p in zip(known, ps, strict=True):
        for look, shows in one.marks.items():
            masses[look][shows] += p
    return masses


def _bits_left(
    bits: float, masses: Mapping[str, float], answers: tuple[str, ...]
) -> float:
    """
    Give the uncertainty expected after a look, over all that it can show.

    H(revision | answer) = H(revision) + H(answer | revision) - H(answer), the chain
    rule of Shannon (1948), section 6; so no revision is gone through anew.
    """
    n, said = len(answers), math.fsum(masses.values())
    silent, slip = max(0.0, 1 - said), SLIP / (n - 1)
    row = [1 - SLIP, *[slip] * (n - 1)]
    given = silent * math.log2(n) + said * uncertainty_bits(row)
    chances = [
        silent / n
        + masses.get(shows, 0.0) * (1 - SLIP)
        + (said - masses.get(shows, 0.0)) * slip
        for shows in answers
    ]
    return bits + given - uncertainty_bits(chances)


def _ranked(
    known: Sequence[Known], ps: Sequence[float], taken: Mapping[str, str], number: str
) -> tuple[Candidate, ...]:
    found = [
        _candidate(one, p, taken, number) for one, p in zip(known, ps, strict=True)
    ]
    return tuple(sorted(found, key=lambda one: (-one.p, one.known.name)))


def _candidate(
    one: Known, p: float, taken: Mapping[str, str], number: str
) -> Candidate:
    fits = [look for look, said in taken.items() if one.marks.get(look) == said]
    against = [
        look
        for look, said in taken.items()
        if look in one.marks and one.marks[look] != said
    ]
    if number and one.serials:
        (fits if is_number_in(number, one.serials) else against).append(SERIAL)
    return Candidate(one, p, tuple(fits), tuple(against))

"""
Which class is an adapter by its inlet, and how does a reading stand to a chosen limit?

Inlets read in a table of IEC 60320 couplers. Limits differ by country and edition:
whoever measures chooses one by name, and the answer repeats that name.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.electrics.cautions import LIMIT_WORDS, MAINS_WORDS
from turnscrew.core.model.quantities import BadFieldError, Bounds, refuse_outside


@dataclass(frozen=True, slots=True)
class Coupler:
    """
    What the inlet of an adapter tells.

    Parameters
    ----------
    protection
        Protection class: ``I`` with earth, ``II`` without.
    rated_a
        Rated current. [A]
    why
        What that means for measuring, as a sentence.
    caution
        What is said with every answer about a mains part.
    """

    protection: Literal["I", "II"]
    rated_a: float
    why: str
    caution: str = MAINS_WORDS


_EARTHED = "class I: earth continuity is measured"
_UNEARTHED = "class II: there is no earth to measure"
COUPLERS = {
    "C5/C6": Coupler("I", 2.5, _EARTHED),
    "C7/C8": Coupler("II", 2.5, _UNEARTHED),
    "C13/C14": Coupler("I", 10.0, _EARTHED),
}
"""Couplers of IEC 60320: connector and inlet."""


@dataclass(frozen=True, slots=True)
class Limit:
    """
    A limit that somebody may choose by its name.

    Parameters
    ----------
    low
        Smallest reading; 0 if there is none.
    high
        Largest reading; infinite if there is none.
    unit
        Unit of reading and limit.
    source
        Where it was read.
    """

    low: float
    high: float
    unit: str
    source: str


_ENDLESS = float("inf")
_TOUCH = "pages on touch current"
LIMITS = {
    "touch current, EN 50678, EN 50699, EN 62368-1": Limit(0, 0.5, "mA", _TOUCH),
    "touch current, UK code of practice": Limit(0, 5.0, "mA", _TOUCH),
    "touch current, class II, older table": Limit(0, 0.25, "mA", "one web page"),
    "touch current, class I, older table": Limit(0, 3.5, "mA", "one web page"),
    "insulation, class I": Limit(1.0, _ENDLESS, "MΩ", "test pages"),
    "insulation, class II": Limit(2.0, _ENDLESS, "MΩ", "from memory"),
    "earth continuity, AU and NZ": Limit(0, 1.0, "Ω", "a test page"),
    "earth continuity, UK, without the lead": Limit(0, 0.1, "Ω", "from memory"),
    "earth continuity, DE, lead to 5 m": Limit(0, 0.3, "Ω", "a bad scan and memory"),
}
"""Limits by name."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """
    A reading beside the limit that was chosen.

    Parameters
    ----------
    is_within
        The reading keeps to the limit.
    words
        Reading, limit, its name and its source, as one sentence.
    cautions
        What is said with every such answer.
    """

    is_within: bool
    words: str
    cautions: tuple[str, ...] = (LIMIT_WORDS, MAINS_WORDS)


def coupler(name: str) -> Coupler:
    """
    Say which protection class an adapter has by its inlet.

    Rule: C6 class I 2.5 A, C8 class II 2.5 A, C14 class I 10 A.

    Parameters
    ----------
    name
        The pair, as in ``C5/C6``, or either half of it.

    Returns
    -------
    Coupler
        Class, rated current and meaning.

    Raises
    ------
    BadFieldError
        If the table has no such coupler.

    References
    ----------
    Coupler table of IEC 60320, read on a data page.
    """
    for pair, found in COUPLERS.items():
        if name == pair or name in pair.split("/"):
            return found
    raise BadFieldError("name", name, "one of " + ", ".join(COUPLERS))


def compared(reading: float, limit_name: str) -> Comparison:
    """
    Say how a reading stands to the limit that was chosen.

    Rule: low <= reading <= high.

    Parameters
    ----------
    reading
        The reading, in the unit of the limit.
    limit_name
        A name of ``LIMITS``.

    Returns
    -------
    Comparison
        Whether it is within, in words and with the cautions.

    Raises
    ------
    BadFieldError
        If the limit is unknown, or the reading below zero.

    References
    ----------
    As each limit says.
    """
    limit = LIMITS.get(limit_name)
    if limit is None:
        raise BadFieldError("limit_name", limit_name, "one of " + "; ".join(LIMITS))
    refuse_outside("reading", reading, Bounds(0, 1e6, limit.unit))
    is_within = limit.low <= reading <= limit.high
    bound = f"at least {limit.low:g}" if limit.low else f"at most {limit.high:g}"
    words = (
        f"{reading:g} {limit.unit} is {'within' if is_within else 'outside'} the limit "
        f"of {bound} {limit.unit} ({limit_name}; {limit.source})"
    )
    return Comparison(is_within, words)

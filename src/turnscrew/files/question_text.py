"""How is a question about a batch read from short words?"""

import re

from turnscrew.core.batch.question import Absence
from turnscrew.errors import BadArgumentError


def absence_from(words: str) -> Absence:
    """
    Read who is away when.

    Parameters
    ----------
    words
        Such as ``lead=2-4``.

    Returns
    -------
    Absence
        The absence.

    Raises
    ------
    BadArgumentError
        If the words cannot be read.
    """
    match = re.fullmatch(r"(.+)=(\d{1,4})(?:-(\d{1,4}))?", words)
    if match is None:
        raise BadArgumentError(f"away: found {words}, wanted PERSON=FROM-TO, lead=2-4")
    return Absence(match[1].strip(), int(match[2]), int(match[3] or match[2]))


def answer_from(words: str) -> tuple[int, bool]:
    """
    Read the answer for one device.

    Parameters
    ----------
    words
        Such as ``40=yes``.

    Returns
    -------
    tuple[int, bool]
        Number of the device, and True for yes.

    Raises
    ------
    BadArgumentError
        If the words cannot be read.
    """
    match = re.fullmatch(r"(\d{1,7})=(yes|no)", words.strip().lower())
    if match is None:
        raise BadArgumentError(f"answer: found {words}, wanted LINE=yes or LINE=no")
    return int(match[1]), match[2] == "yes"


def late_part_from(words: str) -> tuple[str, int]:
    """
    Read by how much a parcel is late.

    Parameters
    ----------
    words
        Such as ``C-FN=3``.

    Returns
    -------
    tuple[str, int]
        The part, and workshop days. [days]

    Raises
    ------
    BadArgumentError
        If the words cannot be read.
    """
    match = re.fullmatch(r"(.+)=(\d{1,4})", words)
    if match is None:
        raise BadArgumentError(f"late part: found {words}, wanted PART=DAYS")
    return match[1].strip(), int(match[2])


def sign_off_from(words: str) -> tuple[str, str]:
    """
    Read who is taken to be signed off for what.

    Parameters
    ----------
    words
        Such as ``helper=battery``.

    Returns
    -------
    tuple[str, str]
        Who, and the skill.

    Raises
    ------
    BadArgumentError
        If the words cannot be read.
    """
    who, _, skill = words.partition("=")
    if not who.strip() or not skill.strip():
        raise BadArgumentError(f"sign-off: found {words}, wanted PERSON=SKILL")
    return who.strip(), skill.strip()

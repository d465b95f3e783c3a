"""
Which grade of sanitising does a medium want?

Grades of NIST SP 800-88, read on pages that sum it up. Overwriting does not purge
flash, and degaussing does nothing to it.
"""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class Medium:
    """
    What becomes of a storage medium.

    Parameters
    ----------
    stays
        It stays under the control of its owner.
    works
        It can still be written to and checked.
    is_reused
        Somebody will use it again.
    """

    stays: bool
    works: bool
    is_reused: bool


@dataclass(frozen=True, slots=True)
class Grade:
    """
    The grade of sanitising.

    Parameters
    ----------
    name
        Clear, purge or destroy.
    why
        The reason, as a sentence.
    then
        What follows.
    """

    name: Literal["clear", "purge", "destroy"]
    why: str
    then: str = "Verify it, then record method, medium and name."


def grade_for(medium: Medium) -> Grade:
    """
    Say which grade of sanitising a medium wants.

    Rule: worn out or given up, destroy; stays under control, clear; leaves, purge.

    Parameters
    ----------
    medium
        What becomes of it.

    Returns
    -------
    Grade
        Grade and reason.

    References
    ----------
    NIST SP 800-88, read on pages that sum it up; boards with soldered storage go the
    same way (common practice).
    """
    if not medium.works:
        return Grade("destroy", "it does not work, so nothing else can be verified")
    if not medium.is_reused:
        return Grade("destroy", "nobody will use it again")
    if medium.stays:
        return Grade("clear", "it stays under control: all user-addressable areas")
    return Grade("purge", "it leaves: beyond recovery even in a laboratory")

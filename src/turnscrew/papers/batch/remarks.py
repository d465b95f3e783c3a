"""How do words read that a person or the records themselves put down?"""

from turnscrew.core.model import waiting
from turnscrew.core.reconcile.danger_words import BY_TESTS, ISOLATED
from turnscrew.papers.set_aside import written


def reason_written(reason: str) -> str:
    """
    Write why a device waits.

    Parameters
    ----------
    reason
        The words.

    Returns
    -------
    str
        What is ours to say, or what a person wrote, marked as it was written.
    """
    return reason if reason in waiting.OURS else written(reason)


def remark_written(remark: str) -> str:
    """
    Write what was put down of a device.

    Parameters
    ----------
    remark
        The words.

    Returns
    -------
    str
        What the records put down by themselves, ours to say, or what a person wrote,
        marked as it was written.
    """
    if remark in BY_TESTS.values():
        return remark
    if not remark.startswith(ISOLATED):
        return written(remark)
    return f"{ISOLATED}{reason_written(remark.removeprefix(ISOLATED))}"

"""How is it written what was decided for a device, and what its price is for?"""

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.quote import Code, DecidedDevice
from turnscrew.papers.set_aside import written

DECISION_WORDS: dict[Code, str] = {
    "go": "mend",
    "ask": "ask first",
    "strip": "strip",
    "comeback": "comeback",
    "no_fault_found": "no fault found",
}

REFUSED_WORDS = "refused: return unrepaired"
"""What is next of a device whose owner said no."""


def decided_words(answer: BatchAnswer, device: DecidedDevice) -> str:
    """
    Write what was decided for a device, or what is next after a no.

    Parameters
    ----------
    answer
        The batch.
    device
        The device.

    Returns
    -------
    str
        A few words.
    """
    if device.name in answer.refused:
        return REFUSED_WORDS
    return DECISION_WORDS[device.decision.code]


def besides_written(answer: BatchAnswer, device: DecidedDevice) -> str:
    """
    Write what a price is for, where a promise covers the rest.

    Parameters
    ----------
    answer
        The batch.
    device
        The device.

    Returns
    -------
    str
        Half a sentence; empty where the price is for all that was found.
    """
    if not device.besides:
        return ""
    faults = answer.batch.terms.faults
    covered = [code for code in device.line.found if code not in device.besides]
    charged, free = (
        written(" + ".join(faults[code].says for code in codes))
        for codes in (device.besides, covered)
    )
    return (
        f"the cost is of {charged} alone; {free} is mended at no charge, also after a "
        "no"
    )

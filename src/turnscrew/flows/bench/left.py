"""What do earlier paths of an opening leave to be done once it is closed?"""

from turnscrew.core.model.device import Device
from turnscrew.core.opening.answer import OpeningAnswer
from turnscrew.core.opening.around import final_tests_due, settings_due
from turnscrew.flows.bench.goal import Lying


def settings_left(device: Device, lying: Lying, answer: OpeningAnswer) -> list[str]:
    """
    Give the settings of this path, then those that earlier ones left.

    Parameters
    ----------
    device
        The device.
    lying
        How it lies, with what came off on the way here.
    answer
        The path.

    Returns
    -------
    list[str]
        What to do, each once.
    """
    earlier = settings_due(device, lying.was_off)
    left = (words for words in earlier if words not in lying.was_set)
    return list(dict.fromkeys((*answer.settings, *left)))


def tests_left(device: Device, lying: Lying, answer: OpeningAnswer) -> list[str]:
    """
    Give the final tests of this path, then those that earlier ones left.

    Parameters
    ----------
    device
        The device.
    lying
        How it lies, with what came off on the way here.
    answer
        The path.

    Returns
    -------
    list[str]
        Name, what is right and limit of each.
    """
    due = list(answer.final_tests)
    if lying.was_off:
        due += [
            words
            for words in final_tests_due(device, lying.was_off)
            if words not in due and words.partition(": ")[0] not in lying.tested
        ]
    return due

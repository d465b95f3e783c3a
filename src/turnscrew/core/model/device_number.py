"""Which number does the workshop give a device of a batch?"""

from datetime import date

from turnscrew.core.model.check_character import check_character

FIRST_YEAR, LAST_YEAR = 2000, 2099
"""A number bears two digits of its year: beyond these it would be another's. [a]"""


def device_number(received: date, line: int) -> str:
    """
    Give the number on the workshop's label.

    Parameters
    ----------
    received
        The day the batch was received.
    line
        Number of the device in the batch.

    Returns
    -------
    str
        Day, number in the batch, check character.
    """
    number = f"{received:%y%m%d}{line:03d}"
    return number + check_character(number)

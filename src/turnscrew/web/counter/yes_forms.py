"""Which form writes that a customer agreed in writing?"""

from turnscrew.web.counter.fields import Chosen, DayField, LinesField, choice, words


class AgreedInWriting(Chosen):
    """One letter or message may agree for several devices."""

    chooses = "cover"

    lines = LinesField(label="Agreed for devices")
    cover = choice("To cross what", [])
    name = words("Who agreed in writing", needed=True, most=120)
    day = DayField(label="Day of the letter or message")

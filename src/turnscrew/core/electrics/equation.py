"""Which equation stands behind a figure, and where does it come from?"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Equation:
    """
    One equation or rule, to be shown beside its figure.

    Parameters
    ----------
    name
        Name of the function that reckons with it.
    text
        The equation or rule.
    source
        Where it was read; ``from memory`` and ``common practice`` are said.
    """

    name: str
    text: str
    source: str

"""Which equation stands behind a figure, and where does it come from?"""

from collections.abc import Mapping
from dataclasses import dataclass

from turnscrew.core.model.quantities import BadFieldError


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


def equation_in(table: Mapping[str, Equation], name: str) -> Equation:
    """
    Look an equation up.

    Parameters
    ----------
    table
        Equations by name of the function.
    name
        Name of the function.

    Returns
    -------
    Equation
        The equation and its source.

    Raises
    ------
    BadFieldError
        If no reckoning has this name.
    """
    if name not in table:
        raise BadFieldError("name", name, "one of " + ", ".join(table))
    return table[name]

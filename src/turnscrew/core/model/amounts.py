"""How does an amount of money read?"""


def money(minor: int | None) -> str:
    """
    Write an amount without its currency.

    Parameters
    ----------
    minor
        The amount. [minor units]

    Returns
    -------
    str
        With two decimals; a dash if it is not known.
    """
    if minor is None:
        return "–"
    sign = "−" if minor < 0 else ""
    units, rest = divmod(abs(minor), 100)
    return f"{sign}{units:,}.{rest:02d}"

"""How do an amount of money and a number of things read?"""


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


def counted(n: int, one: str) -> str:
    """
    Write a number of things.

    Parameters
    ----------
    n
        How many. [1]
    one
        The word for one of them.

    Returns
    -------
    str
        Such as ``1 device`` or ``3 devices``.
    """
    return f"{n} {one}" if n == 1 else f"{n} {one}s"

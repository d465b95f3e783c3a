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
        Such as ``1 device`` or ``3,000 devices``.
    """
    return f"{n} {one}" if n == 1 else f"{n:,} {one}s"


def sureness(chance: float) -> str:
    """
    Write a chance that is reckoned and so never certain.

    Parameters
    ----------
    chance
        The chance. [1]

    Returns
    -------
    str
        Such as ``95 %``; ``over 99 %`` or ``under 1 %`` where rounding would make it
        certain.
    """
    if chance >= 0.995:
        return "over 99 %"
    return "under 1 %" if chance < 0.005 else percent(chance)


def percent(share: float, n_decimals: int = 0) -> str:
    """
    Write a share in hundredths.

    Parameters
    ----------
    share
        The share. [1]
    n_decimals
        Figures behind the point. [1]

    Returns
    -------
    str
        Such as ``80 %``, with a blank before the sign as the International System of
        Units writes it (BIPM, The International System of Units, 9th edition, 5.4.7;
        from memory).
    """
    return f"{share:.{n_decimals}%}".replace("%", " %")


def small_chance(chance: float) -> str:
    """
    Write a chance with as many places as tell something.

    Parameters
    ----------
    chance
        The chance. [1]

    Returns
    -------
    str
        Three or four places; below them, that it is below.
    """
    if chance < 0.0001:
        return "below 0.0001"
    return f"{chance:.4f}" if chance < 0.01 else f"{chance:.3f}"

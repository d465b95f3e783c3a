"""How are two numbers on a body compared?"""

import re
from functools import lru_cache


@lru_cache(maxsize=200_000)
def plain(text: str) -> str:
    """
    Give a number without what does not count: case, blanks and hyphens.

    Parameters
    ----------
    text
        The number as written.

    Returns
    -------
    str
        The number for comparing.
    """
    return re.sub(r"[\s\-‐–]+", "", text).upper()

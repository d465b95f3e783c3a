"""Which known name did somebody mean who wrote a wrong one?"""

import json
from collections.abc import Iterable
from difflib import get_close_matches


def nearest(name: str, known: Iterable[str]) -> str:
    """
    Suggest the known name nearest to a wrong one.

    Parameters
    ----------
    name
        The wrong name.
    known
        The right ones.

    Returns
    -------
    str
        The name in quotes, or an empty text if none is near.
    """
    close = get_close_matches(name, tuple(known), n=1)
    return f"perhaps {json.dumps(close[0], ensure_ascii=False)}" if close else ""


def wanted_name(name: str, known: Iterable[str]) -> str:
    """
    Say which name is wanted in place of a wrong one.

    Parameters
    ----------
    name
        The wrong name.
    known
        The right ones.

    Returns
    -------
    str
        The nearest one, or all of them if none is near.
    """
    names = tuple(known)
    return nearest(name, names) or "one of " + ", ".join(names)

"""
Which check character makes a typed number refuse a slip?

System MOD 37-36 of ISO/IEC 7064: digits and letters, one check character. It finds
every single wrong character and nearly every swap of neighbours. The method is written
from memory of the standard; the test compares it with a published identifier.
"""

from turnscrew.errors import BadArgumentError

_ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_M = len(_ALPHABET)


def check_character(text: str) -> str:
    """
    Give the check character of a number.

    Parameters
    ----------
    text
        Digits and capital letters.

    Returns
    -------
    str
        One digit or capital letter.

    Raises
    ------
    BadArgumentError
        If the text is empty or holds anything else.
    """
    return _ALPHABET[(_M + 1 - _carried(text)) % _M]


def is_sound(text: str) -> bool:
    """
    Say whether a number ends in its right check character.

    Parameters
    ----------
    text
        Digits and capital letters, the check character last.

    Returns
    -------
    bool
        True if so.

    Raises
    ------
    BadArgumentError
        If the text is shorter than two characters or holds anything else.
    """
    if len(text) < 2:
        raise BadArgumentError(f"number: found {text!r}, wanted two characters or more")
    return check_character(text[:-1]) == text[-1]


def _carried(text: str) -> int:
    if not text or any(character not in _ALPHABET for character in text):
        raise BadArgumentError(f"number: found {text!r}, wanted digits and capitals")
    carried = _M
    for character in text:
        carried = (carried + _ALPHABET.index(character)) % _M or _M
        carried = carried * 2 % (_M + 1)
    return carried

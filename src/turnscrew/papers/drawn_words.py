"""How do the words inside a drawing of ours read?"""

import re
from collections.abc import Callable
from xml.sax.saxutils import escape, unescape

_TEXT = re.compile(r'(<text\b[^>]*?font-size=")([\d.]+)("[^>]*>)([^<]+)(?=</text>)')


def is_drawn(value: str) -> bool:
    """
    Tell whether a text is a drawing.

    Parameters
    ----------
    value
        A value of a sheet.

    Returns
    -------
    bool
        True if it is an SVG.
    """
    return value.startswith("<svg")


def with_words_said(svg: str, says: Callable[[str], str]) -> str:
    """
    Say the words inside a drawing; its lines stay true to scale.

    Parameters
    ----------
    svg
        The drawing.
    says
        Says one text.

    Returns
    -------
    str
        The drawing; words that became longer are written smaller, so that they keep
        the room they had.
    """

    def said(found: re.Match[str]) -> str:
        before, size, between, words = found.groups()
        told = says(unescape(words))
        longer = max(1.0, len(told) / len(unescape(words)))
        if longer > 1:
            size = f"{float(size) / longer:.3f}"
        return f"{before}{size}{between}{escape(told)}"

    return _TEXT.sub(said, svg)

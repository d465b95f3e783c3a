"""What of a page stays as it was when it is read in another language?"""

import re
from collections.abc import Iterable
from html.parser import HTMLParser

SPOKEN = ("title", "placeholder", "aria-label", "alt", "data-caption")
"""Attributes that are read by a person or read out."""

ENGLISH = re.compile(
    r"\b(the|of|and|with|from|is|are|by|to|for|or|not|has|this|that|which|found|wanted"
    r"|it|nothing|one|each|no|yes|on|at)\b"
)
"""Small words of English that are no words of German, written small."""

UNSPOKEN = ("script", "style", "code", "pre", "textarea")


class _Texts(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []
        self._unspoken = 0

    def handle_starttag(self, tag, attrs) -> None:
        self._unspoken += tag in UNSPOKEN
        told = dict(attrs)
        self.texts += [told[name] for name in SPOKEN if told.get(name)]
        if tag == "input" and told.get("type") in ("submit", "button"):
            self.texts.append(told.get("value") or "")

    def handle_endtag(self, tag) -> None:
        self._unspoken -= tag in UNSPOKEN

    def handle_data(self, data) -> None:
        if not self._unspoken:
            self.texts.append(data)


def texts_of(page: str) -> list[str]:
    """Give every text of a page that a person reads, in order."""
    reader = _Texts()
    reader.feed(page)
    told = (" ".join(text.split()) for text in reader.texts)
    return [text for text in told if any(char.isalpha() for char in text)]


def left_alone(english: str, other: str, *, own: Iterable[str]) -> list[str]:
    """
    Give the texts of a page that read alike in both languages, or are half English.

    Half English is what holds a small word that German has not. What people wrote is
    taken away from a text first, the longest before the others: names, numbers of
    parts, remarks.
    """
    before = set(texts_of(english))
    written = "|".join(map(re.escape, sorted(filter(None, own), key=len, reverse=True)))
    own_words = re.compile(rf"(?<!\w)(?:{written})(?!\w)")
    left = []
    for text in dict.fromkeys(texts_of(other)):
        ours = own_words.sub(" ", text)
        is_alike = text in before and any(
            len(word) > 2 and word.isalpha() for word in ours.split()
        )
        if is_alike or ENGLISH.search(ours):
            left.append(text)
    return left

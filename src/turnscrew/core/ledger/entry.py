"""What does a journal hold, and which digest seals it?"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Literal

JournalName = Literal["custody", "stock", "money", "bench"]
JOURNALS: tuple[JournalName, ...] = ("custody", "stock", "money", "bench")

Fact = str | int | bool | None

START = "0" * 64
"""Stands for the digest before the first entry of a journal."""


@dataclass(frozen=True)
class Entry:
    """
    One entry of a journal.

    Personal data have no place in it: people, customers and devices are named by random
    references, words by a salted digest.

    Parameters
    ----------
    journal
        The journal.
    sequence
        Its number in the journal, from 1 without a gap.
    at
        Time of the workshop's clock, ISO 8601 in UTC; the order is the sequence.
    author
        Reference of the person.
    verb
        What happened.
    subject
        Reference of what it happened to.
    facts
        Numbers, states and references.
    words_digest
        Salted digest of the reason in words; empty if none was given.
    corrects
        Number of the entry it corrects; 0 if none.
    previous
        Digest of the entry before.
    """

    journal: JournalName
    sequence: int
    at: str
    author: str
    verb: str
    subject: str
    facts: Mapping[str, Fact]
    words_digest: str
    corrects: int
    previous: str

    @property
    def digest(self) -> str:
        """
        Give the digest that seals it.

        Returns
        -------
        str
            SHA-256 of all its fields in one fixed spelling, in hexadecimal.
        """
        fields = [
            self.journal, self.sequence, self.at, self.author, self.verb, self.subject,
            facts_text(self.facts), self.words_digest, self.corrects, self.previous,
        ]  # fmt: skip
        spelled = json.dumps(fields, ensure_ascii=False, separators=(",", ":"))
        return sha256(spelled.encode()).hexdigest()

    def n(self, key: str) -> int:
        """
        Give a number among the facts.

        Parameters
        ----------
        key
            Its name.

        Returns
        -------
        int
            The number; 0 if there is none.
        """
        value = self.facts.get(key)
        if isinstance(value, bool) or not isinstance(value, int):
            return 0
        return value

    def text(self, key: str) -> str:
        """
        Give a text among the facts.

        Parameters
        ----------
        key
            Its name.

        Returns
        -------
        str
            The text; empty if there is none.
        """
        value = self.facts.get(key)
        return value if isinstance(value, str) else ""


def facts_text(facts: Mapping[str, Fact]) -> str:
    """
    Spell facts in the one way that is sealed.

    Parameters
    ----------
    facts
        The facts.

    Returns
    -------
    str
        JSON with sorted keys and no spaces.
    """
    return json.dumps(
        dict(facts), ensure_ascii=False, separators=(",", ":"), sort_keys=True
    )


def words_digest(salt: str, words: str) -> str:
    """
    Give the digest that stands for words in a journal.

    Without the salt nobody can try which words they were; once words and salt are
    erased the digest tells nothing, and the chain stays whole.

    Parameters
    ----------
    salt
        Random text kept beside the words.
    words
        The words.

    Returns
    -------
    str
        SHA-256 in hexadecimal.
    """
    return sha256(f"{salt}\n{words}".encode()).hexdigest()

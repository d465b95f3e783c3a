"""What may be asked of a batch beside how it stands?"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from turnscrew.core.model.quote import Agreed


@dataclass(frozen=True)
class Absence:
    """
    Days somebody is away.

    Parameters
    ----------
    person
        Role or name.
    first
        First workshop day away.
    last
        Last workshop day away.
    """

    person: str
    first: int
    last: int


@dataclass(frozen=True)
class WhatIf:
    """
    One question.

    Parameters
    ----------
    away
        Who is away when.
    answers_on
        Workshop day on which the pending answers are in hand; if not said, the first
        day where no answer has come yet, and else not at all.
    answers
        Answers in hand, by device; devices not named stay pending.
    use_donors
        False if donors give nothing.
    late_parts
        Days by which a parcel is late, by part. [days]
    sign_offs
        Sign-offs given, by role or name.
    is_word_given
        False if helpers open by released descriptions alone, and get no lead's word.
    copies
        How often the batch comes at once.
    start_day
        Workshop day on which work and orders begin.
    done
        Devices whose work at the bench is done: nothing of it is planned again.
    as_it_came
        Devices given back with nothing done: nothing is wanted for them, none billed.
    as_agreed
        What was agreed for devices given back mended, or begun: they are priced at
        that, and go before others against a cap.
    let_go_before
        Devices let go without asking on an earlier day, against the cap of that day.
    said_no
        Devices whose very faults were refused last: none of them goes without asking.
    said_yes
        What the owner of a device agreed to last, by device: it is not stripped without
        asking, whatever was found since. [minor units]
    waiting
        Devices asked about, with no answer yet: none of them goes without asking.
    is_received
        True if receiving is done, and takes no time any more.
    """

    away: tuple[Absence, ...] = ()
    answers_on: int | None = None
    answers: Mapping[int, bool] = field(default_factory=dict)
    use_donors: bool = True
    late_parts: Mapping[str, int] = field(default_factory=dict)
    sign_offs: tuple[tuple[str, str], ...] = ()
    is_word_given: bool = True
    copies: int = 1
    start_day: int = 1
    done: frozenset[int] = frozenset()
    as_it_came: frozenset[int] = frozenset()
    as_agreed: Mapping[int, Agreed] = field(default_factory=dict)
    let_go_before: frozenset[int] = frozenset()
    said_no: frozenset[int] = frozenset()
    said_yes: Mapping[int, int] = field(default_factory=dict)
    waiting: frozenset[int] = frozenset()
    is_received: bool = False

    @property
    def pending_day(self) -> int | None:
        """
        Give the day on which the pending answers are taken to be in hand.

        Returns
        -------
        int or None
            Workshop day; ``None`` if they are not waited for.
        """
        if self.answers_on is not None:
            return max(self.answers_on, self.start_day)
        return None if self.answers else self.start_day

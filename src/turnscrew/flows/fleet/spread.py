"""Where is the work on the parts of a large fleet done?"""

from collections.abc import Callable, Iterator, Sequence
from typing import Protocol, TypeVar

_Given = TypeVar("_Given")
_Made = TypeVar("_Made")


class Spread(Protocol):
    """Does one thing to each of many, somewhere; the answers keep their order."""

    def each(
        self, do: Callable[..., _Made], items: Sequence[_Given], *shared: object
    ) -> Sequence[_Made]:
        """
        Start the work; what comes back may still be under way.

        Parameters
        ----------
        do
            What to do to each, a function of a module.
        items
            The items, or what an earlier call gave back.
        *shared
            What every call gets besides its item.

        Returns
        -------
        Sequence
            One answer for each item, or a sign that stands for it.
        """

    def gathered(self, made: Sequence[_Made]) -> list[_Made]:
        """
        Wait for the answers.

        Parameters
        ----------
        made
            What a call of ``each`` gave back.

        Returns
        -------
        list
            The answers, in order.
        """

    def in_turn(
        self, do: Callable[[_Given], _Made], items: Sequence[_Given]
    ) -> Iterator[_Made]:
        """
        Do the work and give each answer as soon as those before it are there.

        Parameters
        ----------
        do
            What to do to each, a function of a module.
        items
            The items.

        Returns
        -------
        Iterator
            The answers, in order.
        """


class Here:
    """The work is done at once, in this process."""

    def each(
        self, do: Callable[..., _Made], items: Sequence[_Given], *shared: object
    ) -> Sequence[_Made]:
        """
        Do the work.

        Parameters
        ----------
        do
            What to do to each.
        items
            The items.
        *shared
            What every call gets besides its item.

        Returns
        -------
        Sequence
            One answer for each item.
        """
        return [do(item, *shared) for item in items]

    def gathered(self, made: Sequence[_Made]) -> list[_Made]:
        """
        Give the answers.

        Parameters
        ----------
        made
            What a call of ``each`` gave back.

        Returns
        -------
        list
            The answers, in order.
        """
        return list(made)

    def in_turn(
        self, do: Callable[[_Given], _Made], items: Sequence[_Given]
    ) -> Iterator[_Made]:
        """
        Do one after the other, each when it is asked for.

        Parameters
        ----------
        do
            What to do to each.
        items
            The items.

        Yields
        ------
        _Made
            The answers, in order.
        """
        yield from map(do, items)

"""How is the work on the parts of a large fleet spread over processes?"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from importlib import import_module
from typing import Any, TypeVar

from turnscrew.errors import BadArgumentError
from turnscrew.flows.fleet.spread import Here, Spread

_Given = TypeVar("_Given")
_Made = TypeVar("_Made")


class Workers:
    """
    Work done by the processes of a cluster; what they make stays with them.

    Parameters
    ----------
    client
        The client of the cluster.
    """

    def __init__(self, client: Any) -> None:
        self.client = client

    def each(
        self, do: Callable[..., _Made], items: Sequence[_Given], *shared: object
    ) -> Sequence[_Made]:
        """
        Start the work.

        Parameters
        ----------
        do
            What to do to each.
        items
            The items, or what an earlier call gave back.
        *shared
            What every call gets besides its item.

        Returns
        -------
        Sequence
            Signs that stand for the answers.
        """
        sent = [self.client.scatter(one, broadcast=True) for one in shared]
        return [self.client.submit(do, one, *sent, pure=False) for one in items]

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
        answers: list[_Made] = self.client.gather(list(made))
        return answers

    def in_turn(
        self, do: Callable[[_Given], _Made], items: Sequence[_Given]
    ) -> Iterator[_Made]:
        """
        Start all of the work, and give each answer when those before it are there.

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
        for one in self.each(do, items):
            answer: _Made = self.client.gather(one)
            yield answer


@contextmanager
def spread_over(engine: str, n_workers: int) -> Iterator[Spread]:
    """
    Give the place where parts are worked on, and close it afterwards.

    Parameters
    ----------
    engine
        ``here`` for this process, ``dask`` for several.
    n_workers
        Number of processes. [1]

    Yields
    ------
    Spread
        The place.

    Raises
    ------
    BadArgumentError
        If the engine is not known, or not installed.
    """
    if engine == "here":
        yield Here()
        return
    if engine != "dask":
        raise BadArgumentError(f"engine: found {engine}, wanted here or dask")
    try:
        distributed: Any = import_module("distributed")  # an extra, and slow
    except ImportError as error:
        raise BadArgumentError(
            "engine: dask is not installed; install turnscrew with the extra fleet"
        ) from error
    # Workers read whatever they are sent: only this machine may reach them.
    with (
        distributed.LocalCluster(
            n_workers=n_workers, threads_per_worker=1, processes=True,
            host="127.0.0.1", dashboard_address=None,
        ) as cluster,
        distributed.Client(cluster) as client,
    ):  # fmt: skip
        yield Workers(client)

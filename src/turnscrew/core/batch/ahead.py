"""What is foretold of a batch before its devices are here?"""

from dataclasses import dataclass

from turnscrew.core.reliability.batch_mix import Pieces, Total


@dataclass(frozen=True)
class PastDevice:
    """
    A device of a model as it was met before.

    Parameters
    ----------
    revision
        Its revision; empty if not known.
    found
        Codes of its faults.
    is_stripped
        It was not mended but stripped; ``None`` if that is still to be decided.
    """

    revision: str
    found: tuple[str, ...]
    is_stripped: bool | None = None


@dataclass(frozen=True)
class ModelAhead:
    """
    What is foretold of the devices of one model.

    Parameters
    ----------
    model
        Short name of the model.
    n
        Devices to come. [1]
    total
        Their minutes; ``None`` if there is nothing to reckon from. [min]
    why
        Why nothing is told, or how it was reckoned, in words.
    n_met
        Devices of it met before. [1]
    parts
        Pieces by part.
    """

    model: str
    n: int
    total: Total | None
    why: str
    n_met: int = 0
    parts: tuple[tuple[str, Pieces], ...] = ()


@dataclass(frozen=True)
class BatchAhead:
    """
    What is foretold of a batch.

    Parameters
    ----------
    models
        One for each model.
    total
        Minutes of those models of which something is told. [min]
    """

    models: tuple[ModelAhead, ...]
    total: Total

    @property
    def n_unknown(self) -> int:
        """
        Count the devices of which nothing is told.

        Returns
        -------
        int
            Devices. [1]
        """
        return sum(one.n for one in self.models if one.total is None)

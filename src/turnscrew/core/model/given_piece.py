"""Which piece was given to which device already?"""

from dataclasses import dataclass

from turnscrew.core.model.quantities import Checked


@dataclass(frozen=True)
class GivenPiece(Checked):
    """
    A piece that was promised to a device or fitted.

    Parameters
    ----------
    device
        Number of the device.
    part
        Part number.
    donor
        Number of the donor of the same batch it comes from; 0 if it comes from none.
    donor_words
        What the donor is called, also one of another batch; empty if there is none.
    place
        Where it lies apart from its donor; empty if it does not or nobody said.
    is_fitted
        It was fitted.
    """

    device: int
    part: str
    donor: int = 0
    donor_words: str = ""
    place: str = ""
    is_fitted: bool = False

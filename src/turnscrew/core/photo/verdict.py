"""Is a photo blurred, too dark or without anything to see?"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

Grey = npt.NDArray[np.float64]

LONGEST_PX = 1024
"""The longer side of a photo when it is measured, so that figures compare. [px]"""

# Found by trial, no published source: drawn boards and noise with the spectrum of
# natural scenes give 0.1 and more when sharp, 0.01 and less after a blur of 2 px.
_LEAST_SHARPNESS = 0.015
_LEAST_CONTRAST = 0.02
_LEAST_BRIGHTNESS = 0.25

Says = Literal[
    "sharp and bright enough",
    "too dark: take it again with more light",
    "hardly anything to see: take it again, nearer or with light",
    "blurred: hold still, tap to focus, take it again",
]


@dataclass(frozen=True)
class Verdict:
    """
    What was measured of a photo.

    Parameters
    ----------
    brightness
        What a twentieth of its points is brighter than; white is 1. [1]
    contrast
        Standard deviation of its points; white is 1. [1]
    sharpness
        Variance of the Laplacian over the variance of the points. [1]
    """

    brightness: float
    contrast: float
    sharpness: float

    @property
    def says(self) -> Says:
        """
        Give it in words, the worst first.

        Returns
        -------
        str
            What is wrong and what to do, or that nothing is.
        """
        if self.brightness < _LEAST_BRIGHTNESS:
            return "too dark: take it again with more light"
        if self.contrast < _LEAST_CONTRAST:
            return "hardly anything to see: take it again, nearer or with light"
        if self.sharpness < _LEAST_SHARPNESS:
            return "blurred: hold still, tap to focus, take it again"
        return "sharp and bright enough"

    @property
    def is_good(self) -> bool:
        """
        Say whether nothing is wrong.

        Returns
        -------
        bool
            True if so.
        """
        return self.says == "sharp and bright enough"


def verdict_of(grey: Grey) -> Verdict:
    """
    Measure a photo.

    The Laplacian answers to edges; blurring takes edges away first. Its variance as a
    measure of focus: J. L. Pech-Pacheco et al., Diatom autofocusing in brightfield
    microscopy, ICPR 2000 (from memory). Divided by the variance of the points, it no
    longer depends on light and contrast.

    Parameters
    ----------
    grey
        Its points, black 0 and white 1, longer side near ``LONGEST_PX``; at least 3 by
        3. [1], shape (height, width)

    Returns
    -------
    Verdict
        The figures and their meaning.
    """
    inner = grey[1:-1, 1:-1]
    around = grey[:-2, 1:-1] + grey[2:, 1:-1] + grey[1:-1, :-2] + grey[1:-1, 2:]
    edges = around - 4 * inner
    variance = float(grey.var())
    return Verdict(
        brightness=float(np.quantile(grey, 0.95)),
        contrast=variance**0.5,
        sharpness=float(edges.var()) / variance if variance else 0.0,
    )

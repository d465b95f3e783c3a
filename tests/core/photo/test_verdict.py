"""Photos, sharp and blurred, bright and dark."""

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFilter

from turnscrew.core.photo.verdict import Grey, Verdict, verdict_of


def board() -> Image.Image:
    """Draw parts and labels as on a board."""
    chance = np.random.default_rng(1)  # noqa: TID251 - a fixed seed
    image = Image.new("L", (1024, 768), 90)
    draw = ImageDraw.Draw(image)
    for _ in range(200):
        x, y = (int(n) for n in chance.integers(0, 740, 2))
        wide, high = (int(n) for n in chance.integers(4, 60, 2))
        draw.rectangle((x, y, x + wide, y + high), fill=int(chance.integers(20, 230)))
    return image


def scene(steepness: float) -> Image.Image:
    """Make noise whose strength falls with the frequency, as in natural scenes."""
    chance = np.random.default_rng(2)  # noqa: TID251 - a fixed seed
    squares = np.fft.fftfreq(768)[:, None] ** 2 + np.fft.rfftfreq(1024)[None] ** 2
    squares[0, 0] = 1
    waves = squares ** (-steepness / 2) * np.exp(
        2j * np.pi * chance.random(squares.shape)
    )
    plane = np.fft.irfft2(waves, s=(768, 1024))
    plane = (plane - plane.min()) / (plane.max() - plane.min())
    return Image.fromarray((plane * 255).astype("uint8"))


def grey(image: Image.Image, light: float = 1.0) -> Grey:
    return np.asarray(image, dtype=float) / 255 * light


SCENES = {"board": board(), "1.0": scene(1.0), "1.2": scene(1.2), "1.4": scene(1.4)}


@pytest.mark.parametrize("name", SCENES)
def test_it_knows_a_sharp_photo_from_a_blurred_one(name) -> None:
    sharp = SCENES[name]
    blurred = sharp.filter(ImageFilter.GaussianBlur(2))

    assert verdict_of(grey(sharp)).is_good
    assert "blurred" in verdict_of(grey(blurred)).says


@pytest.mark.parametrize("name", SCENES)
def test_it_finds_more_blur_less_sharp(name) -> None:
    figures = [
        verdict_of(grey(SCENES[name].filter(ImageFilter.GaussianBlur(px)))).sharpness
        for px in (0, 0.5, 1, 1.5, 2)
    ]

    assert sorted(figures, reverse=True) == figures


def test_it_does_not_take_dim_light_for_blur() -> None:
    full, half = verdict_of(grey(board())), verdict_of(grey(board(), 0.5))

    assert full.sharpness == pytest.approx(half.sharpness)
    assert half.is_good


def test_it_says_that_a_photo_is_too_dark() -> None:
    assert "too dark" in verdict_of(grey(board(), 0.1)).says


def test_it_says_that_there_is_nothing_to_see() -> None:
    flat = verdict_of(np.full((50, 80), 0.5))

    assert Verdict(brightness=0.5, contrast=0.0, sharpness=0.0) == flat
    assert "hardly anything" in flat.says


def test_it_measures_a_known_pattern() -> None:
    # Black and white by turns: the Laplacian is 4 or -4 everywhere, the mean a half.
    chequers = np.indices((8, 8)).sum(axis=0) % 2.0

    assert 16 / 0.25 == verdict_of(chequers).sharpness

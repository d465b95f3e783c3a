"""Does a device speak the reader's language?"""

import pytest

from turnscrew.core.model.device import Device

DEVICE = Device(name="X", words={"de": {"lift square": "gerade anheben"}})


@pytest.mark.parametrize(
    ("sentence", "language", "words"),
    [
        ("lift square", "de", "gerade anheben"),
        ("lift square", "en", "lift square"),
        ("press home", "de", "press home"),
    ],
)
def test_it_falls_back_to_the_sentence_as_it_stands(sentence, language, words) -> None:
    assert words == DEVICE.in_words(sentence, language)

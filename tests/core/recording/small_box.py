"""A box with a cover under screws and a fan under a plug, opened now and then."""

from dataclasses import replace
from datetime import date

from turnscrew.core.recording.recorded import Recorded, RecordedOpening

SCREWS = Recorded("screws 1", "joint", "screw", n=3, length_mm=3.5, view="base")
COVER = Recorded("cover 1", "part", "cover", fits_other_way=False)
PLUG = Recorded("plug 1", "joint", "plug", tool="plastic pick")
FAN = Recorded("fan 1", "part", "fan")
TAPE = Recorded("tape 1", "joint", "bond")
LEAD_ASIDE = Recorded("lead 1", "aside", "cable")


def opening(number: int, *removals: Recorded, **more: dict[str, int]):
    return RecordedOpening(
        f"S{number}", f"P{number}", date(2025, 3, number), removals, **more
    )


FIRST = opening(1, SCREWS, COVER, PLUG, FAN)
SECOND = opening(2, SCREWS, COVER, PLUG, FAN)
FOUR_SCREWS = opening(3, replace(SCREWS, n=4), COVER, PLUG, FAN)

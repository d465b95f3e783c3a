"""Which agent may touch which surface? Common practice, no source."""

import pytest

from turnscrew.core.handbook.cleaning import AGENTS, ALLOWED, DRY, refusal


def test_a_dry_cloth_may_touch_everything() -> None:
    assert [] == [surface for surface in ALLOWED if refusal(surface, DRY)]


@pytest.mark.parametrize("surface", ["coated picture", "soft coating", "keys"])
def test_alcohol_touches_no_coating_and_no_printed_key(surface) -> None:
    assert "wanted one allowed on" in refusal(surface, AGENTS[-1])


def test_a_surface_or_agent_nobody_knows_is_refused() -> None:
    assert "surface: found wood" in refusal("wood", DRY)
    assert "agent: found none" in refusal("keys", "")

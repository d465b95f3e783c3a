"""
Which agent may touch which surface of a portable computer?

Common practice of the trade, without a source; what the maker of a device or the
customer's hygiene rules say goes before it. Power off, pack kept dry, agent on the
cloth and never sprayed.
"""

from collections.abc import Mapping

DRY, WATER, SOAP, ALCOHOL = (
    "dry cloth", "cloth damp with water", "cloth damp with mild soap",
    "cloth damp with 70 % alcohol",
)  # fmt: skip
"""Agents from the mildest on."""

ALLOWED: Mapping[str, tuple[str, ...]] = {
    "bare glass": (DRY, WATER, SOAP, ALCOHOL),
    "coated picture": (DRY, WATER),
    "painted plastic": (DRY, WATER, SOAP),
    "bare plastic": (DRY, WATER, SOAP, ALCOHOL),
    "soft coating": (DRY, WATER),
    "bare metal": (DRY, WATER, SOAP, ALCOHOL),
    "keys": (DRY, WATER, SOAP),
}
"""Agents allowed for each surface."""

AGENTS = (DRY, WATER, SOAP, ALCOHOL)
"""Every agent that is known here."""


def refusal(surface: str, agent: str) -> str:
    """
    Say why an agent may not touch a surface.

    Parameters
    ----------
    surface
        The surface.
    agent
        The agent.

    Returns
    -------
    str
        Where, found, wanted; empty if it may.
    """
    if surface not in ALLOWED:
        return f"surface: found {surface or 'none'}, wanted one of {', '.join(ALLOWED)}"
    allowed = ALLOWED[surface]
    if agent in allowed:
        return ""
    return (
        f"agent: found {agent or 'none'}, wanted one allowed on {surface}: "
        f"{', '.join(allowed)}"
    )

"""Which cautions go with an answer about mains parts or lithium packs?"""

MAINS_WORDS = "Follow local codes; leave mains parts to licensed people."
"""Said with every answer that concerns mains parts."""

LIMIT_WORDS = (
    "Limits differ by country and edition: the reading stands beside the limit that "
    "was chosen, and a licensed or competent person decides."
)
"""Said with every reading that is held against a limit."""

PACK_WORDS = (
    "Lithium pack: do not press, bend, puncture or cut it, and keep it from heat.",
    "Never charge or build in a pack that is swollen, wet, hot or dented.",
)
"""The usual cautions with any answer about a pack; common practice."""

SWOLLEN_WORDS = (
    "Swollen pack: power off, stop charging, stop using it.",
    "Do not press, puncture or cut it; set it apart from what burns.",
    "Hand it to a licensed carrier; it may not travel as a good one does.",
)
"""What to do with a swollen pack; read on battery pages, common practice."""

CARRIER_WORDS = "Check the edition in force and ask the carrier."
"""Said with every answer about transport."""

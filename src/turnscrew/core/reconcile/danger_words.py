"""
Which words, English or German, tell of a danger or of something to be settled?

Words of workshops: common practice, no source. A word too many asks for a look; one too
few powers a bad pack, so both languages are read wherever somebody typed.
"""

import re


def _any(*patterns: str) -> re.Pattern[str]:
    return re.compile("|".join(patterns), re.IGNORECASE)


_SWELLS = (
    r"swell|swollen|bulg|smok|hiss|punctur|\bbloat",
    r"\b(?:auf)?(?:ge)?bl(?:ä|ae)h|\b(?:an)?geschwollen|\bschwillt|\b(?:aus)?gebeult",
    r"\bgew(?:ö|oe)lbt|\bqualm|\brauch(?:t|end|te)?\b|\bzisch|\b(?:an|durch)gestochen",
    r"\bdurchstochen",
)

SORTED = {
    "pack": _any(
        *_SWELLS,
        r"\bgap\b|\bwarm\b|\bhot\b|lifting|\bburn(?:t|ed|ing)\b",
        r"\bspalt\b|\bhei(?:ß|ss)|\b(?:ver|an)brannt|\bverschmort|\bhebt sich",
    ),
    "contaminated": _any(
        r"smell|disinfect|contamin|\bglove|\bblood|\bmou?ld|body fluid|infect",
        r"\briecht|\bgeruch|\bstinkt|desinf|kontamin|\bhandschuh|\bblut|schimmel|infekt",
        r"k(?:ö|oe)rperfl(?:ü|ue)ssig",
    ),
    "locked": _any(
        r"\block(?:ed|s)?\b|\bmanaged\b|\bmanagement\b|enrol|activation|\bpin code",
        r"password|\bgesperrt|\bverwaltet|\bverwaltung|aktivierung|passwort|kennwort",
    ),
    "damaged": _any(
        r"\bbent\b|\bcrack|\bdent|\bbroken\b|\bdamag|\bchip|\bscratch|missing|\bcorro",
        r"\bverbogen|\briss|\b(?:ein)?gerissen|\bgesprungen|\bdellen?\b|\b(?:zer)?brochen",
        r"\bkaputt|besch(?:ä|ae)digt|\bkratzer|\bzerkratzt|\bfehlt|\bfehlen|\bkorro",
        r"\bzerbrochen|\babgebrochen",
    ),
    "private": _any(
        r"private|personal|memory card|sim card|\bphoto of|somebody's",
        r"\bprivat|pers(?:ö|oe)nlich|speicherkarte|sim-karte|\bfoto von",
    ),
    "returned": _any(
        r"wants? .*\b(back|returned?)\b|\breturn .*\b(part|module|storage|disk|drive)",
        r"\b(?:will|wollen|m(?:ö|oe)chten?) .*\bzur(?:ü|ue)ck|zur(?:ü|ue)ckgeben",
    ),
    "glass": _any(
        r"\bsharp|splinter|shatter|glass out|\b(?:broken|cracked|loose)\s+glass",
        r"\bglass\s+(?:is\s+)?(?:broken|cracked|loose)",
        r"\bscharfkantig|splitter|\bglas\s+(?:ist\s+)?(?:zerbrochen|gesprungen|lose)",
        r"\b(?:zerbrochenes|gesprungenes|loses)\s+glas\b",
    ),
    "wet": _any(
        r"\bwet\b|\bliquid|\bspill|\brinse|\bwater\b|dripping",
        r"\bna(?:ss|ß)(?:e[mnrs]?)?\b|\bfeucht|\bfl(?:ü|ue)ssigkeit|versch(?:ü|ue)ttet",
        r"\bwasser\b|\btropft|abgesp(?:ü|ue)lt",
    ),
}
"""What somebody remarked on arrival, by the kind of hold it asks for."""

TOLD_PACK = _any(*_SWELLS)
"""Words of a customer that tell of a pack; what else is said is looked for first."""

ISOLATED = "isolated: "
"""How the words begin that tell why a device was isolated; whatever they say, its pack
counts as bad, as one of unknown state does."""

_DENIED = "".join(
    rf"(?<!\b{word} )" for word in ("not", "no", "nicht", "kein", "keine", "keinen")
)
"""What stands right before a word and denies it."""

WRITTEN_PACK = _any(
    rf"{_DENIED}(?:{TOLD_PACK.pattern})",
    r"^pack log: (?:swollen|warm|damaged)",
    rf"^{ISOLATED}",
)
WRITTEN_WET = _any(
    rf"{_DENIED}(?:\bliquid (?:inside|in|on|got)\b|\bwet inside|\bsoaked|\bdripping"
    r"|\bwater (?:in|inside|running|came)\b"
    r"|\bfl(?:ü|ue)ssigkeit (?:innen|im|in|drin|darin|auf)\b|\binnen na(?:ss|ß)"
    r"|\bdurchn(?:ä|ae)sst|\btropft"
    r"|\bwasser (?:innen|im|in|drin|darin|l(?:ä|ae)uft)\b)",
)
"""Words of the workshop's own that tell of a danger."""

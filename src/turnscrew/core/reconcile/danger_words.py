"""
Which words, English or German, tell of a danger or of something to be settled?

Words of workshops: common practice, no source. A word too many asks for a look; one too
few powers a bad pack, so both languages are read wherever somebody typed.
"""

import re
import unicodedata


class Words:
    """Words looked for in what somebody typed, large or small, however it is coded."""

    def __init__(self, *patterns: str) -> None:
        self.pattern = "|".join(patterns)
        self._sought = re.compile(self.pattern, re.IGNORECASE)

    def are_in(self, told: str) -> bool:
        """
        Say whether one of them is there.

        Parameters
        ----------
        told
            What was typed; an umlaut may come as two characters.

        Returns
        -------
        bool
            True if so.
        """
        return self._sought.search(unicodedata.normalize("NFC", told)) is not None


_PACK = "(?:pack|battery|batteries|cell|akku|akkus|batterie|zelle)"

_CHANGED = (
    r"\b(?:expan|deform|burst|hot\b|burn|scorch|overheat|dick\b|dicker\b|verform"
    r"|(?:ge)?platz|l(?:ä|ae)uft aus|tritt aus|hei(?:ß|ss)|(?:ü|ue)berhitz"
    r"|(?:ver|an)brannt|verschmort|stinkt|dampft)"
)
"""What tells of a bad pack beside its name alone: another part may be hot as well."""

_NEAR = r"(?:(?!\b(?:not|no|nicht|kein\w*)\b).){0,30}"
"""A few words that deny nothing."""

_SWELLS = (
    r"swell|swollen|bulg|smok|hiss|punctur|\bbloat|\bleak|\bvent(?:ed|ing)\b",
    r"\b\w*bl(?:ä|ae)h|\baufgeblasen|\b\w*(?:quoll|quill)|\b\w*geschwollen",
    r"\bschwillt|\b\w*schwellung|\b(?:aus)?gebeult|\b\w*w(?:ö|oe)lb(?:t|en|ung)\b",
    r"\bqualm|\brauch(?:t|end|te|entw\w*|geruch)?\b|\bzisch|\b(?:an|durch)gestochen",
    r"\bdurchstochen|\bakku brennt|\bundicht|\bakku (?:ist )?ausgelaufen",
    r"\bpuff(?:y|ed|s|ing)\b|\bballoon|\bpillow(?:ed|ing)|\bdistend|\belektrolyt",
    r"\b(?:caught|on) fire|\belectrolyte",
    r"\bsparks?\b|\bsparking|\bfunken\b|\baufgedunsen|\b(?:hat|f(?:ä|ae)ngt) feuer",
    rf"\b{_PACK}\b{_NEAR}{_CHANGED}|{_CHANGED}{_NEAR}\b{_PACK}\b",
)

SORTED = {
    "pack": Words(
        *_SWELLS,
        r"\bgap\b|\bwarm\b|\bhot\b|lifting|\bburn(?:t|ed|ing)\b",
        r"\bspalt\b|\bhei(?:ß|ss)|\b(?:ver|an)brannt|\bverschmort|\bhebt sich",
        r"\bbrennt|\bbrandgeruch|\b(?:ü|ue)berhitz",
    ),
    "contaminated": Words(
        r"smell|disinfect|contamin|\bglove|\bblood|\bmou?ld|body fluid|infect",
        r"\briecht|\bgeruch|\bstinkt|desinf|kontamin|\bhandschuh|\bblut|schimmel|infekt",
        r"k(?:ö|oe)rperfl(?:ü|ue)ssig",
    ),
    "locked": Words(
        r"\block(?:ed|s)?\b|\bmanaged\b|\bmanagement\b|enrol|activation|\bpin code",
        r"password|\bgesperrt|\bverwaltet|\bverwaltung|aktivierung|passwort|kennwort",
    ),
    "damaged": Words(
        r"\bbent\b|\bcrack|\bdent|\bbroken\b|\bdamag|\bchip|\bscratch|missing|\bcorro",
        r"\bverbogen|\briss|\b(?:ein)?gerissen|\bgesprungen|\bdellen?\b|\b(?:zer)?brochen",
        r"\bkaputt|besch(?:ä|ae)digt|\bkratzer|\bzerkratzt|\bfehlt|\bfehlen|\bkorro",
        r"\babgebrochen",
    ),
    "private": Words(
        r"private|personal|memory card|sim card|\bphoto of|somebody's",
        r"\bprivat|pers(?:ö|oe)nlich|speicherkarte|sim-karte|\bfoto von",
    ),
    "returned": Words(
        r"wants? .*\b(back|returned?)\b|\breturn .*\b(part|module|storage|disk|drive)",
        r"\b(?:will|wollen|m(?:ö|oe)chten?) .*\bzur(?:ü|ue)ck|zur(?:ü|ue)ckgeben",
    ),
    "glass": Words(
        r"\bsharp|splinter|shatter|glass out|\b(?:broken|cracked|loose)\s+glass",
        r"\bglass\s+(?:is\s+)?(?:broken|cracked|loose)",
        r"\bscharfkantig|splitter|\bglas\s+(?:ist\s+)?(?:zerbrochen|gesprungen|lose)",
        r"\b(?:zerbrochenes|gesprungenes|loses)\s+glas\b",
    ),
    "wet": Words(
        r"\bwet\b|\bliquid|\bspill|\brinse|\bwater\b|dripping|\bleak",
        r"\bna(?:ss|ß)(?:e[mnrs]?)?\b|\bfeucht|\bfl(?:ü|ue)ssigkeit|versch(?:ü|ue)ttet",
        r"\bwasser(?:sch(?:a|ä|ae)den|fleck\w*)?\b|\btropft|abgesp(?:ü|ue)lt",
        r"\bausgelaufen",
    ),
}
"""What somebody remarked on arrival, by the kind of hold it asks for."""

TOLD_PACK = Words(*_SWELLS)
"""Words of a customer that tell of a pack; what else is said is looked for first."""

ISOLATED = "isolated: "
"""How the words begin that tell why a device was isolated; whatever they say, its pack
counts as bad, as one of unknown state does."""

_DENIED = "".join(
    rf"(?<!\b{word} )" for word in ("not", "no", "nicht", "kein", "keine", "keinen")
)
"""What stands right before a word and denies it."""

WRITTEN_PACK = Words(
    rf"{_DENIED}(?:{TOLD_PACK.pattern})",
    r"^pack log: (?:swollen|warm|damaged)",
    rf"^{ISOLATED}",
)
WRITTEN_WET = Words(
    rf"{_DENIED}(?:\bliquid (?:inside|in|on|got|damage)\b|\bwet inside|\bsoaked"
    r"|\bdripping|\bwater damage|\bwasser(?:sch(?:a|ä|ae)den|fleck\w*)\b"
    r"|\bwater (?:in|inside|running|came)\b"
    r"|\bfl(?:ü|ue)ssigkeit (?:innen|im|in|drin|darin|auf)\b|\binnen na(?:ss|ß)"
    r"|\bdurchn(?:ä|ae)sst|\btropft"
    r"|\bwasser (?:innen|im|in|drin|darin|l(?:ä|ae)uft)\b)",
)
"""Words of the workshop's own that tell of a danger."""

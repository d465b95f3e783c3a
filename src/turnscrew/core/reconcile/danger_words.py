"""
Which words, English or German, tell of a danger or of something to be settled?

Words of workshops: common practice, no source. A word too many asks for a look; one too
few powers a bad pack, so both languages are read wherever somebody typed.
"""

import re
import unicodedata


class Words:
    """Words looked for in what somebody typed, large or small, however it is coded."""

    def __init__(self, *patterns: str, apart_from: str = r"(?!)") -> None:
        self.pattern = "|".join(patterns)
        self._sought = re.compile(self.pattern, re.IGNORECASE)
        self._harmless = re.compile(apart_from, re.IGNORECASE)

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
        left = self._harmless.sub(" ", unicodedata.normalize("NFC", told))
        return self._sought.search(left) is not None


_PACK = "(?:pack|battery|batteries|cell|akku|akkus|batterie|zelle)"

_CHANGED = (
    r"\b(?:expan|deform|burst|hot\b|burn|scorch|overheat|dick\b|dicker\b|verform"
    r"|(?:ge)?platz|l(?:ä|ae)uft aus|tritt aus|hei(?:ß|ss)|(?:ü|ue)berhitz"
    r"|(?:ver|an)brannt|verschmort|stinkt|(?:ge)?dampft|stank|fuming"
    r"|sweet(?:ish)? smell|smell(?:s|ed)? sweet|s(?:ü|ue)(?:ß|ss)lich|solvent"
    r"|l(?:ö|oe)sungsmittel)"
)
"""What tells of a bad pack beside its name alone: another part may be hot as well."""

_NEAR = r"(?:(?!\b(?:not|no|nicht|kein\w*)\b).){0,30}"
"""A few words that deny nothing."""

_DENIED = "".join(
    rf"(?<!\b{word} )" for word in ("not", "no", "nicht", "kein", "keine", "keinen")
)
"""What stands right before a word and denies it."""

_UNHARMED = _DENIED + "".join(
    rf"(?<!\b{word} )"
    for word in (
        "no visible", "no obvious", "no signs of", "no sign of", "without", "ohne",
        "never", "nie", "wird", "wurde",
    )
)  # fmt: skip
"""The same, and what tells that people smoked, for words that need more care."""

_HURT = (
    r"(?:dent(?:s|ed)?|bump(?:s|y|ed)?|hump|crush(?:ed)?|squashed|damag(?:ed?|ing)"
    r"|pierced?|bent|kinked|thick(?:er)?|(?<!finger )nail (?:in|went|through)"
    r"|ein(?:e|er) (?:delle|beule)|(?:besch(?:ä|ae)digt|(?:ein|zer)gedr(?:ü|ue)ckt"
    r"|zerdr(?:ü|ue)ckt|ver(?:beult|bogen)|geknickt|gequetscht)(?:e[mnrs]?)?)\b"
)
"""What tells of a bad pack only where it is said of the pack itself."""

_ELSEWHERE = (
    r"\b(?:not|no|never|nicht|nie|kein\w*|without|ohne|and|but|or|und|aber|oder"
    r"|ok|okay|fine|good|gut|empty|dead|weak|leer|tot|schwach|works?|lasts?|holds?"
    r"|h(?:ä|ae)lt|l(?:ä|ae)dt|life|icon|indicator|lights?|led|screen|display|lid"
    r"|cover|door|case|hinges?|corner|frame|keyboard|charger|cable|connector|plug"
    r"|port|socket|latch|bay|compartment|clips?|contacts?|screws?|label|sticker|dust"
    r"|deckel|geh(?:ä|ae)use|rahmen|ecke|scharniere?|tastatur|netzteil|kabel|stecker"
    r"|buchse|fach|klappe|kontakte?|schrauben?|aufkleber|garantie|vertrag|leasing)\b"
)
"""What turns the words behind the name of a pack to something else, or denies them."""

_BETWEEN = (
    r"(?:(?:in|to|on|of|at|through|into|went|the|its|my|a|main|internal|im|am|an|durch"
    r"|des|der|den|dem|die) )*"
)
"""Small words between what was done and the pack it was done to."""

_CASE = (
    r"\b(?:case|casing|base|bottom|underside|housing|chassis|seams?|(?:back|rear)"
    r"(?: (?:cover|panel|plate|shell))?|cover|geh(?:ä|ae)use|geh(?:ä|ae)useboden|boden"
    r"|r(?:ü|ue)ckseite|unterseite|bodenplatte)"
)

_GAPES = (
    r"(?:gap(?:es|ed|ing)|(?:com(?:es|ing)|came|going|splitting) apart|bow(?:s|ed|ing)"
    r"|arch(?:es|ed|ing)|warp(?:s|ed|ing)|separat(?:es|ed|ing)"
    r"|pop(?:s|ped|ping) (?:open|off|up)|klafft|geht (?:auf|auseinander)|steht auf)\b"
)

_HARMED = (
    rf"{_UNHARMED}\b(?:ge(?:qualmt|zischt|funkt)|geraucht(?! w[eiu]rd))\b"
    r"|\bes funkte\b|\bfunken(?:flug|schlag)",
    rf"{_UNHARMED}\bfumes\b",
    r"(?<!customer )(?<!customer is )(?<!customer was )\bfuming\b",
    r"\bbeulte?\b|\bbeulen sich",
    rf"\b{_PACK}(?: (?:and|und)(?: the)? \w+)?(?: (?!{_ELSEWHERE})\w+){{0,4}} {_HURT}",
    rf"{_UNHARMED}\b{_HURT} {_BETWEEN}{_PACK}\b(?! {_ELSEWHERE})",
    rf"\b{_PACK}(?: (?!{_ELSEWHERE})\w+){{0,2}} ausgelaufen",
    rf"\bausgelaufene[mnrs]? {_PACK}\b",
    rf"\b{_PACK} (?:is |has )?(?:push(?:es|ed|ing)|dr(?:ü|ue)ckt)\b",
    r"\b(?:(?:touch|track)pad|display|tastatur) (?:is |was |has )?(?:lift(?:s|ed|ing)"
    r"|(?:push|stick|stand)\w* (?:up|out)|raised|rais(?:es|ing)|hebt sich"
    r"|steht (?:hoch|heraus|raus|vor)|dr(?:ü|ue)ckt sich)",
    rf"{_CASE}(?: (?:is|was|has|ist|sich|slightly|leicht)){{0,2}} {_GAPES}",
    rf"{_UNHARMED}\b(?:gaping|warped|bowed) {_CASE}\b",
)
"""How a pack is told of that was hurt, that gave off gas, or that opens its case."""

_SHOWN = (
    r"(?:animation|wallpaper|background|picture|icon|emoji|sticker|logo|pattern|game|app"
    r"|bild|hintergrund|symbol|aufkleber|muster|spiel)"
)
"""What shows flames and burns nothing."""

_BURNS = (
    rf"{_UNHARMED}\b(?:flames?|flammen?|stichflamme)\b(?! {_SHOWN})",
    r"\bes hat gebrannt\b|\bbrandgeruch|\bbrandig\b|\bangekokelt|\bverkohlt",
    rf"{_UNHARMED}\b(?:burn(?:t|ed|ing)|scorched|charred|singed)"
    r" (?:smell|odou?r|plastic|plug|port|socket|spot|mark)",
    rf"{_UNHARMED}\bsmel(?:t|ls|led|ling) (?:\w+ ){{0,2}}(?:burn|smok|scorch|fire)",
    rf"{_UNHARMED}\b(?:riecht|roch|stinkt|stank) (?:\w+ ){{0,2}}"
    r"(?:verbrannt|verschmort|nach (?:rauch|brand|feuer|plastik))",
    rf"{_UNHARMED}\bmelt(?:ed|ing|s)?\b|{_UNHARMED}\b(?:ge|ver)schmolzen",
    r"\b(?:bang|knall)\b.{0,20}\b(?:flash|smoke|blitz|rauch)",
    r"\b(?:so|too|very|zu|sehr) (?:hot|hei(?:ß|ss))\b.{0,25}"
    r"\b(?:burn|touch|hold|anfassen|halten|verbrannt|verbrenn)",
    r"\bburn(?:t|ed)? (?:my|his|her|their|the) (?:hand|finger|leg|lap|thigh)",
    r"\b(?:warm|hot|hei(?:ß|ss)) (?:to (?:the )?touch )?(?:when|while|though|even"
    r" when|although|obwohl|auch wenn) (?:it is |it's |switched |turned |it )*"
    r"(?:off|unplugged|not (?:in use|charging)|aus)",
)
"""How it is told that something has burnt, or is hot without a reason."""

_THROUGH = (
    r"\b(?:screwdriver|knife|nail|needle|spike|drill|scissors|bullet"
    r"|schraub(?:en)?dreher|messer|nagel|nadel|bohrer|schere)s?\b.{0,20}"
    r"\b(?:through|into|in den|in die|in das|ins|durch)\b",
    rf"\bthrough (?:the |its |a )?{_PACK}\b",
    rf"\b(?:durch|in) (?:den |die |das )?{_PACK} (?:ge(?:stochen|bohrt|raten))",
)
"""How it is told that something went into a device and maybe into its pack."""

_OUT_OF_SHAPE = (
    rf"\b(?:pregnant|fat|schwangere[rn]?|fette[rn]?|dicke[rn]?) {_PACK}\b",
    rf"\b{_PACK} (?:is |looks |has got(?:ten)? |has become |ist |wird )"
    r"(?:pregnant|fat|schwanger|fett|dick)\b",
    r"\b(?:touch|track)pad (?:(?:won'?t|will not|does not|doesn'?t|cannot|can'?t|no"
    r" longer) (?:\w+ )?(?:clicks?|press(?:es|ed)?)\b|klickt (?:nicht|kaum)"
    r"|l(?:ä|ae)sst sich (?:nicht|kaum) (?:mehr )?(?:klicken|dr(?:ü|ue)cken))",
    r"\b(?:screen|bildschirm) (?:is |was |has been |wird |ist )?(?:being )?"
    r"(?:push\w* (?:up|out)|lift(?:s|ed|ing)|raised|herausgedr(?:ü|ue)ckt"
    r"|hochgedr(?:ü|ue)ckt|dr(?:ü|ue)ckt sich|hebt sich)",
    r"\b(?:gap|spalt) (?:on|at|along|in|of|an|am|im|von|around) .{0,25}\d+ ?mm",
    rf"{_CASE} (?:no longer closes|(?:does not|doesn'?t|won'?t|will not) close"
    r"|schlie(?:ß|ss)t nicht mehr|geht nicht mehr zu)",
)
"""How it is told that a pack presses on what is around it."""

_SWELLS = (
    *_HARMED,
    *_BURNS,
    *_THROUGH,
    *_OUT_OF_SHAPE,
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

_SOUNDING = (
    r"(?:(?:loud|ear)?speakers?|headphones?|headset|audio|sound|microphone|mic"
    r"|music|(?:cooling )?fans?|l(?:ü|ue)fter|lautsprecher|kopfh(?:ö|oe)rer"
    r"|ton|mikro(?:f|ph)on)"
)

_SOUNDS = (
    rf"\b{_SOUNDING}\b"
    r"(?: (?:is|are|has|have|makes?|with|a|an|only|just|loud|constant|slight|bad"
    r"|ist|sind|hat|macht|nur|laut|leise|gives?|and|und|crackl\w*)){0,4}"
    r" (?:hiss\w*|zisch\w*)"
    r"|\b(?:hiss\w*|zisch\w*)"
    r"(?: (?:noise|sounds?|coming|comes|kommt|from|in|of|out|the|left|right|both|its"
    r"|through|over|aus|dem|den|der|im|vom)){0,5}"
    rf" {_SOUNDING}\b"
)
"""A hiss that is heard of a speaker or of a fan: a noise, no gas."""

_ACCESSORY = (
    r"(?:(?:(?:power|mains|charging) )?(?:charger|adapter|adaptor|power supply|psu)"
    r"|(?:power|mains|charging|charger|adapter) (?:cable|cord|lead)"
    r"|(?:carry|carrying|protective) case|sleeve|bag|pen|stylus|mouse"
    r"|netzteil|netzger(?:ä|ae)t|ladeger(?:ä|ae)t|(?:lade|netz)kabel|adapter"
    r"|(?:schutz)?h(?:ü|ue)lle|tasche|(?:eingabe)?stift|maus)"
)

_ACCESSORIES = (
    rf"{_ACCESSORY}(?:(?:, | and | und |/)(?:the |its |das |die |der )?{_ACCESSORY})*"
)

_LEFT_BEHIND = (
    rf"(?:^|[,;.:(]|\b(?:and|und)\b)\s*(?:(?:the|its|das|die|der|sein|ihr) )?"
    rf"{_ACCESSORIES} (?:(?:is|are|was|were|also|auch) )*(?:missing|fehlt|fehlen)"
    r"(?=\s*(?:$|[,.;:)!]|(?:and|und)\b))"
    rf"|\b(?:missing|fehlt|fehlen|fehlende[mnrs]?)"
    r":? (?:(?:the|its|a|das|die|der|sein|ihr|ein|eine) )?"
    rf"{_ACCESSORIES}(?=\s*(?:$|[.;:)!]))"
)
"""
What did not come with a device: nothing of the device itself lacks.

Told by itself: the sleeve of a hinge is of the device, and so is a pin in a socket.
"""

SORTED = {
    "pack": Words(
        *_SWELLS,
        r"\bgap\b|\bwarm\b|\bhot\b|lifting|\bburn(?:t|ed|ing)\b",
        r"\bspalt\b|\bhei(?:ß|ss)|\b(?:ver|an)brannt|\bverschmort|\bhebt sich",
        r"\bbrennt|\bbrandgeruch|\b(?:ü|ue)berhitz|\bgap(?:es|ing)\b|\bklafft",
        r"\b(?:deckel|klappe|geh(?:ä|ae)use|boden) (?:schlie(?:ß|ss)t|geht) nicht mehr",
        r"\b(?:lid|cover|case) (?:no longer closes|(?:does not|doesn't|won't) close)",
        r"\bpop(?:s|ped) open",
        apart_from=_SOUNDS,
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
        apart_from=_LEFT_BEHIND,
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

TOLD_PACK = Words(rf"{_DENIED}(?:{'|'.join(_SWELLS)})", apart_from=_SOUNDS)
"""Words of a customer that tell of a pack; what else is said is looked for first."""

_LIQUIDS = (
    r"(?:water|coffee|tea|juice|milk|soup|beer|wine|cola|coke|soda|lemonade|drink"
    r"|smoothie|urine|vomit|rain|sea ?water|liquid|fluid|detergent|kaffee|tee|saft"
    r"|milch|suppe|bier|wein|limo(?:nade)?|getr(?:ä|ae)nk|urin|regen|wasser"
    r"|fl(?:ü|ue)ssigkeit|sp(?:ü|ue)lmittel)"
    r"(?! (?:room|shop|bar|house|kitchen|app|round|break|trolley)s?\b)"
)

_GOT_IN = (
    r"(?:spil\w+|pour\w*|tip\w* over|knock\w* over|ran|run|runs|went|got|came|fell"
    r"|dropped|damage|inside|entered|seeped|leaked|eingedrungen|all over|over it"
    r"|on (?:it|the (?:key|board|lap|tab))"
    r"|versch(?:ü|ue)ttet|gesch(?:ü|ue)ttet|(?:aus|um|dr(?:ü|ue)ber)?gekippt"
    r"|\w*gelaufen|\w*gefallen|\w*geraten|innen|drin|darin|dr(?:ü|ue)ber|schaden)\b"
)

_SANK = (
    r"(?:toilet|loo|sink|bath|bathtub|pool|puddle|bucket|basin|river|lake|sea|pond"
    r"|shower|washing machine|dishwasher|toilette|klo|waschbecken|badewanne"
    r"|pf(?:ü|ue)tze|eimer|fluss|see|meer|teich|dusche|waschmaschine|sp(?:ü|ue)lmaschine)"
)

_SANK_IN = (
    r"\b(?:fell|fall\w*|drop\w*|went|got|been|put|left|landed)\b.{0,20}"
    rf"\b(?:in|into|through) (?:the |a |its )?{_SANK}\b"
    rf"|\b(?:in|ins|durch) (?:die |den |der |das |eine |einen )?{_SANK}\b.{{0,20}}"
    r"\b(?:gefallen|geraten|gelandet|gelegen|gewaschen)"
)

TOLD_WET = Words(
    rf"{_DENIED}(?:"
    # A gel stays on the keys it is rubbed on; common practice, no source.
    r"(?<!gel )\bspil(?:l|t)|\bsoak|\bdrench|\bdrown|\bsubmerg|\bimmers|\bdripping"
    r"|\bwet\b|\bliquid|\brinse|\bwater ?damage|\bwaterlogged"
    r"|\bna(?:ss|ß)(?:e[mnrs]?)?\b|\bfeucht|\b(?:durch|ein)gen(?:ä|ae)sst"
    r"|\bdurchn(?:ä|ae)sst|\btropft|\babgesp(?:ü|ue)lt|\bertrunken"
    r"|\bversch(?:ü|ue)ttet|\bfl(?:ü|ue)ssigkeit|\bwasser(?:sch(?:a|ä|ae)den|fleck\w*)"
    rf"|\b{_LIQUIDS}\b{_NEAR}\b{_GOT_IN}|\b{_GOT_IN}{_NEAR}\b{_LIQUIDS}\b"
    rf"|{_SANK_IN}"
    r")",
    apart_from=(
        r"\bspill? ?proof|\bwater ?(?:proof|resistant|tight|mark)\w*"
        r"|\bwasser(?:dicht|fest|zeichen)\w*|\bliquid (?:crystal|screen protector)"
    ),
)
"""Words of a customer that tell of liquid in a device."""

WRITTEN_DRY = Words(rf"{_DENIED}\b(?:dry inside|inside (?:is )?dry|innen trocken)\b")
"""Words of the workshop's own that somebody looked inside and found it dry."""

ISOLATED = "isolated: "
"""How the words begin that tell why a device was isolated; whatever they say, its pack
counts as bad, as one of unknown state does."""

BY_TESTS = {
    "pack": "by its tests the pack may be swollen",
    "liquid": "by its tests liquid inside",
}
"""What is written of a device whose tests speak for what keeps power off."""

WRITTEN_PACK = Words(
    TOLD_PACK.pattern,
    r"^pack log: (?:swollen|warm|damaged)",
    rf"^{ISOLATED}",
    apart_from=_SOUNDS,
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

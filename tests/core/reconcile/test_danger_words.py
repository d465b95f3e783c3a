"""Are dangers read from what people type, in either language, and nothing else?"""

import unicodedata

import pytest

from small_batch import TERMS, line
from turnscrew.core.reconcile.danger_words import (
    SORTED,
    TOLD_PACK,
    TOLD_WET,
    WRITTEN_DRY,
    WRITTEN_PACK,
    WRITTEN_WET,
)
from turnscrew.core.reconcile.remarks import hazard_holds, remark_holds

REMARKS = {
    "pack": (
        "pack swollen", "case bulges", "warm at the back", "gap of 5 mm", "burnt smell",
        "Akku aufgebläht", "Akku ist geblaeht", "Gehäuse gewölbt", "Spalt von 5 mm",
        "wird heiß", "sehr heiss", "Akku raucht", "Rauch beim Laden", "ausgebeult",
        "Akku angestochen", "Akku durchstochen", "angeschwollen", "es zischt",
        "Akku aufgeblasen", "aufgequollen", "Akkublähung", "wölbt sich", "hochgewölbt",
        "Rauchentwicklung", "Rauchgeruch", "Akku brennt", "überhitzt", "Akku undicht",
        "Akku ausgelaufen", "Schwellung", "pack leaking", "pack vented",
    ),
    "contaminated": (
        "smells", "blood on the keys", "riecht nach Desinfektionsmittel",
        "Blut am Rand", "mit Handschuhen anfassen", "Schimmel innen", "Geruch",
    ),
    "locked": (
        "locked by its owner", "needs a password", "gesperrt", "Passwort fehlt",
        "Kennwort unbekannt", "vom Amt verwaltet",
    ),
    "damaged": (
        "frame bent", "corner chipped", "Rahmen verbogen", "Riss im Glas", "eine Delle",
        "zwei Dellen", "Ecke abgebrochen", "Buchse kaputt", "Schraube fehlt",
        "charger missing, corner bent", "charger and two screws missing",
        "missing charger and screws", "missing charger port cover", "case missing",
        "Netzteil fehlt, Taste fehlt", "es fehlt die Hülle der Buchse",
        "pen slot missing", "hinge sleeve missing", "screw of adapter missing",
        "Stift fehlt am Ladeanschluss", "Scharnier-Hülle fehlt",
        "cover of the bag missing",
    ),
    "private": (
        "somebody's photo", "private card", "Speicherkarte steckt", "Foto von Kindern",
    ),
    "returned": (
        "owner wants the module back", "Eigner will den Speicher zurück",
        "möchte das alte Teil zurück",
    ),
    "glass": (
        "sharp edge", "glass is cracked", "Splitter im Rahmen", "Glas ist gesprungen",
        "loses Glas",
    ),
    "wet": (
        "wet inside", "rinsed", "innen nass", "Kaffee verschüttet", "Wasser im Gerät",
        "feucht", "es tropft", "Wasserschaden", "Wasserflecken", "Kaffee ausgelaufen",
        "leaks coffee",
    ),
}  # fmt: skip

ALIKE = {
    "pack": (
        "gebraucht gekauft", "braucht ein Netzteil", "Glasgewölbe", "screen burn-in",
        "Spaltmass", "heizt nicht", "prevented", "vents blocked", "Ladeschwelle",
        "verbraucht",
    ),
    "contaminated": ("Bluetooth geht nicht",),
    "locked": ("from locker 12", "call the manager", "Antwort offen"),
    "damaged": (
        "Modelle gemischt", "Modell 4", "charger missing",
        "charger and sleeve missing", "its power cable is missing", "missing: pen",
        "missing charger", "Netzteil fehlt",
        "Ladegerät und Tasche fehlen", "es fehlt das Netzteil", "fehlender Stift",
        "carrying case missing, mouse missing",
    ),
    "wet": ("Nassau", "wetware"),
    "glass": ("Glasfaser", "loser Deckel"),
}  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "words"), [(kind, one) for kind, many in REMARKS.items() for one in many]
)
def test_a_remark_is_read_in_either_language(kind, words) -> None:
    assert kind in {hold.kind for hold in remark_holds(words)}
    assert kind in {hold.kind for hold in remark_holds(words.upper())}
    in_two = unicodedata.normalize("NFD", words)
    assert kind in {hold.kind for hold in remark_holds(in_two)}


@pytest.mark.parametrize(
    ("kind", "words"), [(kind, one) for kind, many in ALIKE.items() for one in many]
)
def test_words_that_look_alike_tell_of_nothing(kind, words) -> None:
    assert not SORTED[kind].are_in(words)


@pytest.mark.parametrize(
    ("words", "is_bad"),
    [
        ("the new pack is swollen", True),
        ("not swollen", False),
        ("no bulge seen", False),
        ("der neue Akku ist aufgebläht", True),
        ("Akku nicht aufgebläht", False),
        ("kein Rauch gesehen", False),
        ("Akkublähung nach der Ladung", True),
        ("keine Akkublähung", False),
        ("pack log: warm", True),
        ("isolated: ticks oddly", True),
        ("was isolated: nothing", False),
        ("warm", False),
        ("puffy battery", True),
        ("it caught fire", True),
        ("pack gets hot and smells burnt on charge", True),
        ("a burnt smell from the battery", True),
        ("battery has expanded", True),
        ("Akku ist dick geworden", True),
        ("Akkus sind heiß", True),
        ("Akku läuft aus", True),
        ("Funken beim Einstecken", True),
        ("battery not hot", False),
        ("Akku nicht heiß", False),
        ("fan overheats", False),
        ("gets hot", False),
        ("storage expanded", False),
        ("Funkmodul", False),
        ("Naht geplatzt", False),
        ("battery lasts one hour", False),
    ],
)
def test_what_the_workshop_wrote_tells_of_a_pack(words, is_bad) -> None:
    assert is_bad == bool(WRITTEN_PACK.are_in(words))
    holds = hazard_holds(line(told=(words,)), TERMS)
    assert is_bad == ("pack" in {hold.kind for hold in holds})


@pytest.mark.parametrize(
    ("words", "is_wet"),
    [
        ("liquid inside", True),
        ("no liquid inside", False),
        ("liquid crystal", False),
        ("Flüssigkeit im Gerät", True),
        ("keine Flüssigkeit im Gerät", False),
        ("innen nass", True),
        ("Wasser läuft heraus", True),
        ("wasserdicht", False),
        ("Wasserschaden am Anschluss", True),
        ("kein Wasserschaden", False),
        ("water damage", True),
    ],
)
def test_what_the_workshop_wrote_tells_of_liquid(words, is_wet) -> None:
    assert is_wet == bool(WRITTEN_WET.are_in(words))


def test_a_customer_who_says_warm_tells_of_no_pack() -> None:
    assert not TOLD_PACK.are_in("gets warm and slow, a gap in the list")
    assert TOLD_PACK.are_in("Rückseite ist gewölbt")


BAD_PACKS = (
    "es hat geraucht",
    "hat kurz geraucht",
    "hat gezischt",
    "es hat gequalmt",
    "hat beim Laden gefunkt",
    "es funkte beim Einstecken",
    "Batterie ausgelaufen",
    "Zelle ausgelaufen",
    "Akku ist wohl ausgelaufen",
    "ausgelaufene Batterie",
    "battery dented",
    "battery is slightly dented",
    "dent in the battery",
    "battery crushed",
    "nail went through the battery",
    "battery with a nail in it",
    "battery pierced",
    "damaged battery",
    "damage to the pack",
    "battery is bent",
    "Akku beschädigt",
    "Akku wurde beschädigt",
    "beschädigter Akku",
    "Akku eingedrückt",
    "eingedrückter Akku",
    "Akku verbeult",
    "Akku ist leicht verbogen",
    "Akku geknickt",
    "Akku gequetscht",
    "Akku hat eine Beule",
    "thick battery",
    "battery thick",
    "the battery looks thicker",
    "battery has a bump",
    "battery pushes the touchpad up",
    "touchpad pushed up",
    "touchpad sticks out",
    "Touchpad steht hoch",
    "Touchpad hebt sich",
    "Akku drückt gegen das Touchpad",
    "Rückseite beult sich aus",
    "Gehäuse klafft",
    "Gehäuse geht auseinander",
    "case gapes",
    "case is coming apart",
    "bottom case separated",
    "back cover popped open",
    "warped base",
    "base warped",
    "cover arches up",
    "fumes came out",
    "it was fuming",
    "sweet smell from the battery",
    "battery smells sweet",
    "Akku riecht süßlich",
    "battery smelled of solvent",
    "battery and screen damaged",
    "Beschaedigter Akku",
    "Gehäuse der Rückseite klafft",
)

HARMLESS = (
    "not dented",
    "battery not dented",
    "no dent in the battery",
    "no damage to the battery",
    "no visible damage to the battery",
    "battery is not damaged",
    "battery undamaged",
    "Akku unbeschädigt",
    "Akku nicht beschädigt",
    "Akku nicht verbeult",
    "keine Delle am Akku",
    "nicht geraucht",
    "es hat nicht geraucht",
    "hat nicht gezischt",
    "nie geraucht",
    "in der Wohnung wird geraucht",
    "im Büro wurde geraucht",
    "no fumes",
    "perfumes counter",
    "customer fuming",
    "Garantie ausgelaufen",
    "Leasing ausgelaufen",
    "Akku ok, Garantie ausgelaufen",
    "Tinte ausgelaufen",
    "lid dented",
    "corner dented",
    "case dented, battery weak",
    "battery ok and lid dented",
    "battery lasts one hour, hinge damaged",
    "battery empty screen damaged",
    "Akku hält eine Stunde, Gehäuse beschädigt",
    "Akku gut aber Deckel verbeult",
    "Akkudeckel verbeult",
    "battery cover dented",
    "battery door damaged",
    "battery connector bent",
    "damaged battery cover",
    "battery removed with finger nail",
    "thick dust on the battery",
    "thick laptop",
    "Beulen im Deckel",
    "Deckel hat eine Beule",
    "Rahmen verbogen",
    "frame bent",
    "bump on the lid",
    "push button stuck",
    "touchpad dead",
    "Touchpad reagiert nicht",
    "Gehäuse geht nicht auf",
    "hinge coming apart",
    "archive damaged",
    "dentist's practice",
    "WLAN hat nicht gefunkt",
    "quiet fan",
    "fan noisy",
    "sweet drink spilled",
    "smells of cleaning solvent",
    "screen damaged",
    "Display beschädigt",
    "Nagel in der Tastatur",
    "new battery wanted",
    "Akku leer",
    "battery dead",
    "no battery, screen damaged",
    "touchpad sticks",
    "touchpad pushed in",
    "touchpad sticky",
    "speakers hiss",
    "left speaker has a constant hissing",
    "hissing noise from the headphones",
    "loud hiss out of both speakers",
    "Lautsprecher zischt",
    "Zischen aus dem Lautsprecher",
    "fan hisses",
    "Lüfter zischt",
)

DENIED = ("no smoke", "not swollen", "kein Rauch", "nicht geschwollen", "no leak")

BESIDE = (
    "speaker hisses and the battery smokes",
    "fan hisses, battery swollen",
    "it hisses near the fan",
    "battery hisses, speakers dead",
    "hissing from the battery",
    "no longer starts, smoke came out",
    "no sound, then smoke",
)


@pytest.mark.parametrize("words", BAD_PACKS)
def test_a_pack_that_was_hurt_or_gave_off_gas_is_read(words) -> None:
    assert TOLD_PACK.are_in(words)
    assert WRITTEN_PACK.are_in(words)
    assert SORTED["pack"].are_in(words.upper())


@pytest.mark.parametrize("words", HARMLESS)
def test_what_is_denied_or_said_of_something_else_is_not_read(words) -> None:
    assert not TOLD_PACK.are_in(words)
    assert not WRITTEN_PACK.are_in(words)
    assert not SORTED["pack"].are_in(words)


@pytest.mark.parametrize("words", DENIED)
def test_what_a_customer_denies_isolates_nothing(words) -> None:
    assert not TOLD_PACK.are_in(words)
    assert SORTED["pack"].are_in(words), "on arrival it is looked at all the same"


@pytest.mark.parametrize("words", BESIDE)
def test_a_noise_beside_a_bad_pack_hides_nothing(words) -> None:
    assert TOLD_PACK.are_in(words)
    assert SORTED["pack"].are_in(words)


@pytest.mark.parametrize("words", ["Deckel schließt nicht mehr", "lid pops open"])
def test_a_case_seen_open_is_read_on_arrival_alone(words) -> None:
    assert SORTED["pack"].are_in(words)
    assert not TOLD_PACK.are_in(words)


TOLD_BAD = (
    "went through the battery with a screwdriver",
    "screwdriver went through the back",
    "there was a flame",
    "Stichflamme",
    "es hat gebrannt",
    "bang and a flash",
    "burnt smell",
    "smelt of burning",
    "melted plug",
    "got so hot it burned my hand",
    "gap on the side 5 mm",
    "warm to touch when switched off",
    "screen is being pushed out",
    "Bildschirm drückt sich heraus",
    "pregnant battery",
    "the battery is fat",
    "touchpad won't click any more",
    "touchpad does not really click",
    "trackpad can't be pressed",
    "Touchpad klickt nicht mehr",
    "Touchpad lässt sich nicht mehr drücken",
    "flames out of the port",
    "charger sparks and buzzes, plastic melted",
    "wurde heiss und roch verbrannt",
    "pack punctured by a screwdriver",
    "will not charge, pack is swollen",
    "burnt smell when charging",
    "will not charge and case gapes",
    "plug melted",
)

TOLD_LIQUID = (
    "coffee ran into it, still dripping",
    "dropped in a bucket of water",
    "soaking wet, does not start",
    "fell in the toilet, dead",
    "spilled tea over the keyboard",
    "in die Badewanne gefallen",
    "Kaffee über die Tastatur geschüttet",
    "got rained on, water inside",
    "dead after rinse",
    "Wasser eingedrungen",
    "went through the washing machine",
    "two keys stick since the spill",
)

TOLD_NOTHING = (
    "some keys dead after gel spill",
    "front cracked",
    "cannot hear calls",
    "loses network",
    "lid loose on one side",
    "photos black",
    "freezes now and then",
    "picture cracked",
    "lid will not shut flat",
    "reads badly",
    "number keys worn",
    "stops at start-up",
    "back is lifting",
    "loud and gets hot",
    "fog under window",
    "battery door falls off",
    "no red line",
    "dead and smells",
    "volume key stuck",
    "dark screen",
    "gets hot while charging",
    "battery drains fast",
    "screen burn-in",
    "burnt pixels",
    "runs warm in use",
    "runs out of memory",
    "see photo",
    "I see lines on the screen",
    "no sound in the video",
    "screen cracked in the corner",
    "lake wallpaper stuck",
    "at sea level it works",
    "sea green tint",
    "screen flickers",
    "teams call drops",
    "the tea room tablet",
    "in the sink room: no network",
    "touchpad sluggish",
    "touchpad doesn't work",
    "touchpad does not react to a finger",
    "touchpad won't scroll, left button fine",
    "trackpad no longer moves the arrow",
    "flames animation of the game stutters",
    "battery works fine",
    "wine app crashes",
    "dropped and water mark on sticker",
    "waterproof seal gone",
    "firewall blocks",
    "no smoke",
    "not wet",
    "water-resistant seal missing",
    "pop-ups flash on screen",
    "dropped from the bath chair",
    "screwdriver marks on the back",
    "nail polish on the keys",
    "knife scratches",
    "needs a new pack",
    "battery is round type",
    "teaches slowly",
    "meltdown app fails",
    "dropped in the tea room",
    "spill proof keyboard worn",
)


@pytest.mark.parametrize("words", TOLD_BAD)
def test_a_customer_tells_of_what_burnt_pierced_or_pressed(words) -> None:
    assert TOLD_PACK.are_in(words)


@pytest.mark.parametrize("words", TOLD_LIQUID)
def test_a_customer_tells_of_liquid(words) -> None:
    assert TOLD_WET.are_in(words)


@pytest.mark.parametrize("words", TOLD_NOTHING)
def test_what_a_customer_says_of_other_things_forbids_no_power(words) -> None:
    assert not TOLD_PACK.are_in(words)
    assert not TOLD_WET.are_in(words)


@pytest.mark.parametrize(
    ("words", "is_dry"),
    [
        ("opened, dry inside", True), ("innen trocken", True),
        ("not dry inside", False), ("dry joint", False), ("nicht innen trocken", False),
    ],
)  # fmt: skip
def test_what_is_written_dry_is_read_so(words, is_dry) -> None:
    assert is_dry == WRITTEN_DRY.are_in(words)

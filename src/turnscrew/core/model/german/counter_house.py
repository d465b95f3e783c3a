"""What do the pages of the house say in German: stock, money, people, safety?"""

from turnscrew.core.model.german.own_words import CHARGED_NOTHING

_STOCK = {
    "True": "ja",
    "False": "nein",
    "None": "keine Angabe",
    "piece": "Stück",
    "{x!}, piece {n#} of {m#}": "{x}, Stück {n} von {m}",
    "version {n#}, {state}, {name!}": "Version {n}, {state}, {name}",
    "stroke {n#}, {x!}, {y!}, {z!}: {s#} s, usual {u#} s":
        "Eintrag {n}, {x}, {y}, {z}: {s} s, üblich {u} s",
    "{x!} of device {y!}, {g#} g": "{x} von Gerät {y}, {g} g",
    "{x!} of device {y!}, {g#} g, not weighed": "{x} von Gerät {y}, {g} g, nicht gewogen",
    "{x!}, {g#} g": "{x}, {g} g",
    "{x!}, {g#} g, not weighed": "{x}, {g} g, nicht gewogen",
    "released": "freigegeben",
    # Waste.
    "battery": "Akku",
    "board": "Platine",
    "{x!}, cable cut": "{x}, Kabel abgeschnitten",
    "{x!}: not on record": "{x}: nicht eingetragen",
    "{x!}: the check character is wrong, look again":
        "{x}: das Prüfzeichen stimmt nicht, noch einmal hinsehen",
    "nothing was scanned or typed": "nichts gescannt oder getippt",
}  # fmt: skip

_AT_THE_DOOR = {
    "{n#} new part of {m#}": "{n} neues Teil von {m}",
    "{n#} new parts of {m#}": "{n} neue Teile von {m}",
    "minutes: found {n#}, wanted 1 to {m#}, as it began then": "Minuten: gefunden {n}, gesucht 1 bis {m}, da er dann begann",
    "minutes: found {n#}, wanted {m#} as planned to say that it did not show; ended before, it is broken off": "Minuten: gefunden {n}, gesucht {m} wie geplant, um zu sagen, dass er sich nicht zeigte; vorher beendet ist er abgebrochen",
    "began: found {n#}, wanted 0 to {m#} min ago": "begann: gefunden {n}, gesucht vor 0 bis {m} min",
    "code: found {x!}, wanted one for {y!}, as its parts are for {z!}": "Code: gefunden {x}, gesucht einer für {y}, da seine Teile für {z} sind",
    "found: found {x!}, wanted one for {y!}, as its parts are for {z!}": "Befund: gefunden {x}, gesucht einer für {y}, da seine Teile für {z} sind",
    "model: found work begun at the bench, wanted none yet": "Modell: an der Werkbank begonnene Arbeit gefunden, gesucht noch keine",
    "model: found pieces promised or used, wanted none yet": "Modell: zugesagte oder verwendete Stücke gefunden, gesucht noch keine",
    "device: found one {x}, wanted one still here": "Gerät: gefunden {x}, gesucht eines, das noch da ist",
    "parts: found none for it yet of {x!}; wanted them, or a reason": "Ersatzteile: gefunden noch keine dafür: {x}; gesucht diese, oder ein Grund",
    "path: found off at the bench: {x!}; wanted them told back, or a reason": "Weg: an der Werkbank ab: {x}; gesucht zurückgemeldet, oder ein Grund",
    "reading: found {x!}, wanted a resistance such as 1.2 MΩ to pass": "Ablesung: gefunden {x}, gesucht zum Bestehen ein Widerstand wie 1.2 MΩ",
    "accessory: found it of device {n!}, which does not go back now, wanted it explained when it does": "Zubehör: von Gerät {n} gefunden, das jetzt nicht zurückgeht, gesucht erklärt, wenn es geht",
    "accessory: found it of no device that goes back now, wanted the rest given back too": "Zubehör: von keinem Gerät gefunden, das jetzt zurückgeht, gesucht der Rest auch zurückgegeben",
    "limits: found {a#} to {b#} V, wanted them within {c#} to {d#} V": "Grenzen: gefunden {a} bis {b} V, gesucht innerhalb von {c} bis {d} V",
    "its output was read at {a#} A, wanted {b#} A or more": "seine Ausgangsspannung wurde bei {a} A gelesen, gesucht {b} A oder mehr",
    "finding: found {n#}, wanted the number of one listed here": "Befund: gefunden {n}, gesucht die Nummer eines hier aufgeführten",
    "payment: found {n#}, wanted the number of one listed here": "Zahlung: gefunden {n}, gesucht die Nummer einer hier aufgeführten",
    "finding: found neither code nor words, wanted one of them": "Befund: weder Code noch Worte gefunden, gesucht eines davon",
    "days: found none away from {x!} to {y!}, wanted some": "Tage: keiner abwesend von {x} bis {y} gefunden, gesucht einer oder mehr",
    "{n#} day here after all": "{n} Tag doch da",
    "{n#} days here after all": "{n} Tage doch da",
    "batch: found one closed on {x!}, wanted an open one": "Los: am {x} geschlossen gefunden, gesucht ein offenes",
    "answer: found none to what was asked, wanted a yes or no, or the device returned unrepaired": "Antwort: keine auf die Frage gefunden, gesucht ein Ja oder Nein, oder das Gerät unrepariert zurück",
    "device {n!}: found it to be mended, wanted one not worth mending or refused by the customer": "Gerät {n}: zu reparieren gefunden, gesucht eines, das es nicht wert ist oder vom Kunden abgelehnt wurde",
    "device {n!}: quoted as a repair, but {x}, wanted its quote kept anew on the page of the batch": "Gerät {n}: als Reparatur angeboten, aber {x}, gesucht sein Angebot auf der Seite des Loses neu behalten",
    "it was stripped": "es wurde zerlegt",
    "what was found was withdrawn": "das Gefundene wurde zurückgezogen",
    "no fault was found": "es wurde kein Fehler gefunden",
    **CHARGED_NOTHING,
    "stripped: nothing was mended, no charge": "zerlegt: nichts wurde repariert, ohne Berechnung",
    "what was found was withdrawn: no charge": "das Gefundene wurde zurückgezogen: ohne Berechnung",
    "power: found {x}, wanted it seen to before it is charged": "Strom: gefunden {x}, gesucht vor dem Laden behoben",
    "power: found {x}, wanted it seen to before a trial": "Strom: gefunden {x}, gesucht vor einem Versuch behoben",
    "line: found {x!}, wanted none: nothing waits": "Zeile: gefunden {x}, gesucht keine: nichts wartet",
    "device {n!}: found it answered {x} already, wanted one that waits": "Gerät {n}: schon mit {x} beantwortet gefunden, gesucht eines, das noch wartet",
    "signature: found no name, wanted who takes it": "Unterschrift: kein Name gefunden, gesucht, wer es mitnimmt",
    "tray: found {n#} of kind {x!}, wanted {m#} or more for this": "Schale: gefunden {n} der Art {x}, gesucht dafür {m} oder mehr",
    "found at a look while it lay open": "beim Hinsehen gefunden, als es offen lag",
    "device {n!}: pack swollen or not known, wanted it taken out and written in the log of packs by somebody signed off": "Gerät {n}: Akku geschwollen oder unbekannt, gesucht ausgebaut und von jemand Freigegebenem ins Buch der Akkus geschrieben",
    "code: found none or a wrong one, wanted one shown now": "Code: keiner oder ein falscher gefunden, gesucht ein jetzt gezeigter",
    "lead: found no other with an account, wanted one first": "Leitung: keine andere mit einem Konto gefunden, gesucht zuerst eine",
    "person: found one who has left, wanted them taken back": "Person: ausgeschieden gefunden, gesucht wieder aufgenommen",
    "person: found one who works here, wanted one who left": "Person: hier arbeitend gefunden, gesucht eine ausgeschiedene",
}

_MONEY = {
    "credit: pay back or set against the next invoice":
        "Gutschrift: zurückzahlen oder mit der nächsten Rechnung verrechnen",
    "wait until {on!}": "warten bis {on}",
    "remind": "mahnen",
    "reminder: found one of today, wanted none so soon after it": "Mahnung: eine von heute gefunden, gesucht keine so bald danach",
    "reminded {n#} day ago: wait until {m#}": "vor {n} Tag gemahnt: warten bis {m}",
    "reminded {n#} days ago: wait until {m#}": "vor {n} Tagen gemahnt: warten bis {m}",
    "remind again, or call": "wieder mahnen, oder anrufen",
    "revenue": "Erlös",
    "an agreed quote": "angenommenes Angebot",
    "minutes": "Minuten",
    "cost of parts": "Kosten der Teile",
    "cost of a comeback": "Kosten eines Rückläufers",
    "fault": "Fehler",
    "model": "Modell",
    "comebacks": "Rückläufern",
    "first repairs": "Erstreparaturen",
    "nothing": "nichts",
    "Unknown: no promise has run for a day yet, so nothing tells how often devices come back.":
        "Unbekannt: Noch keine Zusage lief einen Tag, so sagt nichts, wie oft Geräte zurückkommen.",
    "Few data: {n#} comebacks in {m#} promises so far, so the range is wide.":
        "Wenige Daten: bisher {n} Rückläufer in {m} Zusagen, daher ist der Bereich weit.",
    "Few data: {n#} comeback in {m#} promises so far, so the range is wide.":
        "Wenige Daten: bisher {n} Rückläufer in {m} Zusagen, daher ist der Bereich weit.",
    "Few data: {n#} comebacks in {m#} promise so far, so the range is wide.":
        "Wenige Daten: bisher {n} Rückläufer in {m} Zusage, daher ist der Bereich weit.",
    "Few data: {n#} comeback in {m#} promise so far, so the range is wide.":
        "Wenige Daten: bisher {n} Rückläufer in {m} Zusage, daher ist der Bereich weit.",
    "Not counted, as nobody had watched until then: {n#} comebacks.":
        "Nicht gezählt, da bis dahin niemand beobachtete: {n} Rückläufer.",
    "Not counted, as nobody had watched until then: {n#} comeback.":
        "Nicht gezählt, da bis dahin niemand beobachtete: {n} Rückläufer.",
    "What a comeback costs is unknown: its minutes or parts are not on record.":
        "Was ein Rückläufer kostet, ist unbekannt: Seine Minuten oder Teile sind nicht eingetragen.",
    "No comeback of known cost is on record: one is taken to cost as much as a first repair.":
        "Kein Rückläufer mit bekannten Kosten ist eingetragen: Einer gilt so teuer wie eine Erstreparatur.",
    "The upper limit is every open promise: the data do not set a lower one.":
        "Die obere Grenze ist jede offene Zusage: Die Daten geben keine tiefere.",
    "the mean pay of an hour of those who worked at a bench, by their minutes; rent and work away from a bench are not in it":
        "der mittlere Stundenlohn derer, die an einem Platz arbeiteten, nach ihren Minuten; Miete und Arbeit abseits des Platzes sind nicht darin",
    "the price of an hour in the newest terms, as no pay of who worked is on record: labour looks dearer than it is":
        "der Preis einer Stunde in den neusten Bedingungen, da kein Lohn derer eingetragen ist, die arbeiteten: Die Arbeit sieht teurer aus, als sie ist",
    "no fault on record": "kein Fehler eingetragen",
}  # fmt: skip

_CUSTOMER = {
    "there is a contract in writing (28(3), 28(9))":
        "ein schriftlicher Vertrag besteht (28(3), 28(9))",
    "we act on documented instructions alone (28(3)(a))":
        "wir handeln nur auf dokumentierte Weisung (28(3)(a))",
    "everybody with access is bound to silence (28(3)(b))":
        "alle mit Zugang sind zum Schweigen verpflichtet (28(3)(b))",
    "measures that keep the data secure are agreed (28(3)(c), 32)":
        "Massnahmen zum Schutz der Daten sind vereinbart (28(3)(c), 32)",
    "others take part only as the customer allowed (28(2), 28(3)(d), 28(4))":
        "andere wirken nur mit, wie es der Kunde erlaubte (28(2), 28(3)(d), 28(4))",
    "we help to answer persons who ask for their data (28(3)(e))":
        "wir helfen, Personen zu antworten, die nach ihren Daten fragen (28(3)(e))",
    "an incident is told without delay, with a note (28(3)(f), 33(2))":
        "ein Vorfall wird unverzüglich gemeldet, mit einem Vermerk (28(3)(f), 33(2))",
    "data are given back or erased at the end (28(3)(g))":
        "Daten werden am Ende zurückgegeben oder gelöscht (28(3)(g))",
    "we show what proves all this and allow audits (28(3)(h))":
        "wir zeigen, was all dies belegt, und lassen Prüfungen zu (28(3)(h))",
    "not answered": "nicht beantwortet",
    "yes, {on!}": "ja, {on}",
    "no, {on!}": "nein, {on}",
    "device": "Gerät",
    "photo": "Foto",
    "answer": "Antwort",
}  # fmt: skip

_DESCRIPTIONS = {
    "draft": "Entwurf",
    "tried by another": "von jemand anderem geprobt",
    "what it holds": "was es hält",
    "what kind of joint it is": "welche Art von Verbindung es ist",
    "{n#} of {m#} places": "{n} von {m} Stellen",
    "places": "die Stellen",
    "what a mated one looks like": "wie eine geschlossene aussieht",
    "whether it can be made again": "ob sie sich wieder schliessen lässt",
    "what takes its place at refit": "was beim Zusammenbau an ihre Stelle kommt",
    "length under the head": "Länge unter dem Kopf",
    "drive": "Antrieb",
    "thread": "Gewinde",
    "a second measurement: {x}": "eine zweite Messung: {x}",
    "what a wrong one looks like": "wie eine falsche aussieht",
    "whether it fits in more than one way": "ob es auf mehr als eine Art passt",
    "what to do when it has swollen": "was zu tun ist, wenn er aufgebläht ist",
    "a photo of the layer it covers": "ein Foto der Schicht, die es verdeckt",
    "faces with their true size": "Seiten mit ihrer wahren Grösse",
    "what to test after refit": "was nach dem Zusammenbau zu prüfen ist",
    "What does {x!} hold?": "Was hält {x}?",
    "How many pieces has {x!}?": "Wie viele Stücke hat {x}?",
    "{x!}: {n#} here again?": "{x}: auch hier {n}?",
    "How long is {x!} under the head?": "Wie lang ist {x} unter dem Kopf?",
    "Lay one on the length scale.": "Eine auf den Längenmassstab legen.",
    "{x!}: {n#} mm long here again?": "{x}: auch hier {n} mm lang?",
    "Which driver fits {x!}?": "Welcher Schraubendreher passt zu {x}?",
    "{x!}: drive {y!} here again?": "{x}: auch hier Antrieb {y}?",
    "Was {x!} used up when it was undone?": "Wurde {x} beim Lösen verbraucht?",
    "Was {x!} used up here too?": "Wurde {x} auch hier verbraucht?",
    "Is {x!} fit to be made again here too?":
        "Lässt sich {x} auch hier wieder schliessen?",
    "Could {x!} go in another way?": "Könnte {x} auf andere Art hineingehen?",
    "Does {x!} come off altogether?": "Geht {x} ganz ab?",
    "Was {need!} really in the way of {x!}?": "War {need} für {x} wirklich im Weg?",
    "Recorded so far: {x!}.": "Bisher aufgezeichnet: {x}.",
    "{x!}: {a!} in the description, {b!} on {q!}":
        "{x}: {a} in der Beschreibung, {b} an {q}",
    "{x!}: undone before {part!} on {p!}, never undone on {q!} though {r!} was":
        "{x}: an {p} vor {part} gelöst, an {q} nie gelöst, obwohl {r} es war",
}  # fmt: skip

_CHECKS = {
    "feet": "Füsse",
    "screws": "Schrauben",
    "trims": "Leisten",
    "covers": "Abdeckungen",
    "shown": "gezeigt",
    "not shown": "nicht gezeigt",
    "broken off": "abgebrochen",
    "not shown before it was broken off": "nicht gezeigt, bevor er abgebrochen wurde",
    "start as far as the lock's own picture; never try a password":
        "starten bis zum Bild der Sperre selbst; nie ein Passwort versuchen",
    "picture: lines, stains and light on what it shows by itself":
        "Bild: Linien, Flecken und Licht bei dem, was es von selbst zeigt",
    "touch or keys: each answers where something is to be entered":
        "Berührung oder Tasten: jede antwortet, wo etwas einzugeben ist",
    "charging: level and current rise; adapter checked by itself":
        "Laden: Stand und Strom steigen; Netzteil für sich geprüft",
    "fan, heat and smell while it idles": "Lüfter, Wärme und Geruch im Leerlauf",
    "lid, buttons, sockets, trims: moved by hand":
        "Deckel, Knöpfe, Buchsen, Leisten: von Hand bewegt",
    "a look and one reading, no test to a standard: EN 50678 excludes equipment of information technology and its power supplies by its own scope":
        "ein Blick und ein Messwert, keine Prüfung nach einer Norm: EN 50678 schliesst Geräte der Informationstechnik und ihre Netzteile durch ihren eigenen Geltungsbereich aus",
}  # fmt: skip

_SAFETY = {
    "wrist strap": "Handgelenkband",
    "path to earth below 35 megohm, as a supplier quotes S20.20":
        "Weg zur Erde unter 35 Megaohm, wie ein Lieferant S20.20 wiedergibt",
    "fire box and sand at each bench": "Feuerkiste und Sand an jedem Platz",
    "there, open, reachable": "da, offen, erreichbar",
    "bench mat": "Matte am Platz",
    "path to earth below 1 gigohm, as a summary quotes S20.20":
        "Weg zur Erde unter 1 Gigaohm, wie eine Zusammenfassung S20.20 wiedergibt",
    "floor and footwear": "Boden und Schuhe",
    "path to earth below 1 gigohm, as a summary quotes it":
        "Weg zur Erde unter 1 Gigaohm, wie eine Zusammenfassung es wiedergibt",
    "extraction": "Absaugung",
    "draws smoke at the nozzle": "zieht Rauch an der Düse ab",
    "first-aid box": "Verbandkasten",
    "complete, nothing out of date": "vollständig, nichts abgelaufen",
    "bench supply and leads": "Labornetzgerät und Leitungen",
    "cables whole, plugs whole": "Kabel ganz, Stecker ganz",
    "fire extinguisher": "Feuerlöscher",
    "seal whole, in date": "Plombe ganz, nicht abgelaufen",
    "fire drill": "Brandschutzübung",
    "everybody out, count right": "alle draussen, Zahl stimmt",
    "8 hours": "8 Stunden",
    "15 minutes": "15 Minuten",
    "data": "Daten",
}  # fmt: skip

_TIMES = {
    "opening": "Öffnen",
    "refit": "Zusammenbau",
    "turning and tools": "Wenden und Werkzeuge",
    "looks and counts": "Blicke und Zählungen",
    "tests": "Prüfungen",
    "mending": "Reparieren",
    "take back": "zurücknehmen",
    "pass over": "übergehen",
    "recording": "Aufzeichnen",
    "far longer": "viel länger",
    "far shorter": "viel kürzer",
    "cut as a break": "als Pause herausgenommen",
    "own: median of {n#} whole jobs": "eigene: Median aus {n} ganzen Arbeiten",
    "own: median of {n#} whole jobs; {m#} are wanted":
        "eigene: Median aus {n} ganzen Arbeiten; {m} sind nötig",
    "computed": "gerechnet",
    "{n#} min": "{n} min",
}  # fmt: skip

COUNTER_HOUSE = {
    **_STOCK, **_AT_THE_DOOR, **_MONEY, **_CUSTOMER, **_DESCRIPTIONS, **_CHECKS,
    **_SAFETY, **_TIMES,
}  # fmt: skip
"""Sentences and words of stock, money, customers, descriptions, checks and safety."""

ANSWERS = {"read": "abgelesen"}
"""Answers of a test whose English means something else elsewhere."""

ACTIONS = {
    "undo": "lösen",
    "make": "einbauen",
    "lift": "abheben",
    "aside": "beiseitelegen",
    "refit": "einsetzen",
    "lay in": "einlegen",
    "bring back": "zurückbringen",
    "turn": "wenden",
    "tool": "Werkzeug wechseln",
    "take up": "aufnehmen",
    "test": "prüfen",
    "measure": "messen",
    "look": "ansehen",
    "count": "zählen",
    "close": "abschliessen",
    "fit": "einpassen",
    "mend": "reparieren",
}  # fmt: skip
"""What a stroke at the bench stood for, by the verb that is kept."""

"""What do the cards that hang in the workshop say in German?"""

_FASTENERS = {
    "measure this bar: 100 mm; if it differs, this map is not true size":
        "diesen Balken messen: 100 mm; weicht er ab, ist diese Karte nicht massstäblich",
    "Fastener card": "Schraubenkarte",
    "No loose fastener comes off in this opening.":
        "Bei diesem Öffnen geht keine lose Schraube ab.",
    "Compartments": "Fächer",
    "The letter is that of the item on sheet, map and bench; its pieces lie in the"
    " compartment of that letter, if no other is named.":
        "Der Buchstabe ist jener der Position auf Blatt, Karte und Bildschirm; ihre"
        " Teile liegen im Fach dieses Buchstabens, wenn kein anderes genannt ist.",
    "item": "Pos.",
    "recess": "Antrieb",
    "from the side, true size": "von der Seite, wahre Grösse",
    "what": "was",
    "count|of pieces": "Zahl",
    "Holes in which nothing belongs: a circle with a bar on the map":
        "Löcher, in die nichts gehört: ein Kreis mit Balken auf der Karte",
    "Face: {x!}, true size": "Seite: {x}, wahre Grösse",
    "Face: {x!}, true size, tile {n#} of {m#}, overlap {k#} mm":
        "Seite: {x}, wahre Grösse, Blatt {n} von {m}, Überlappung {k} mm",
    "length not measured": "Länge nicht gemessen",
    "{n#} mm under the head": "{n} mm unter dem Kopf",
    "{kind} head": "{kind}",
    "{kind} head {n#} mm": "{kind} {n} mm",
    "stays in its part: not for the tray": "bleibt in seinem Teil: nicht in die Schale",
    "{n#} mm across flats": "Schlüsselweite {n} mm",
    "shape {x!}": "Form {x}",
    "{n#} mm high": "{n} mm hoch",
    "{n#} mm high {x}": "{n} mm hoch {x}",
    "shoulder {x!} mm": "Ansatz {x} mm",
    "stand-off {x!} mm": "Abstandsbolzen {x} mm",
    "flat": "flach",
    "pointed": "spitz",
    "black": "schwarz",
    "silver": "silbern",
}  # fmt: skip

_WORDS = {
    "Words on the sheets": "Wörter auf den Blättern",
    "What comes off, in order.": "Was abgeht, der Reihe nach.",
    "What goes back, in its own order; not the path turned round.":
        "Was zurückkommt, in eigener Reihenfolge; nicht der umgekehrte Weg.",
    "Action": "Handgriff",
    "One line of either: one thing done with the hands.":
        "Eine Zeile von beidem: eine Sache, mit den Händen getan.",
    "Joint": "Verbindung",
    "What holds parts together: screw, clip, latch, bond, plug.":
        "Was Teile zusammenhält: Schraube, Clip, Riegel, Klebung, Stecker.",
    "Item letter": "Buchstabe der Position",
    "The same letter on sheet, map, bench and compartment, if no other is named.":
        "Derselbe Buchstabe auf Blatt, Karte, Bildschirm und Fach, wenn kein anderes"
        " genannt ist.",
    "Layer": "Schicht",
    "What became reachable when something came off.":
        "Was erreichbar wurde, als etwas abging.",
    "No-lever zone": "Hebelverbot",
    "Hatched: nothing is levered there.": "Schraffiert: Dort wird nichts gehebelt.",
    "Safe stop": "Sicherer Halt",
    "Here you may walk away; elsewhere finish or cover it.":
        "Hier darf man weggehen; anderswo fertig machen oder abdecken.",
    "This joint works once; a new one goes in.":
        "Diese Verbindung hält einmal; eine neue kommt hinein.",
    "Tray count": "Schalenzählung",
    "Taken = back + replaced + left out + in tray.":
        "Entnommen = zurück + ersetzt + weggelassen + in der Schale.",
    "Close gate": "Schliesssperre",
    "Counts, looks and tests answered before the last cover.":
        "Zählungen, Blicke und Prüfungen, beantwortet vor der letzten Abdeckung.",
    "Look": "Blick",
    "See it with your eyes before something covers it.":
        "Mit den Augen sehen, bevor etwas es verdeckt.",
    "Draft": "Entwurf",
    "Not for helpers alone until somebody else has rebuilt from it.":
        "Nicht für Hilfen allein, bis jemand anders danach zusammengebaut hat.",
    "type H": "Form H",
    "hexalobular": "Innensechsrund",
    "hexagon": "Sechskant",
    "slotted": "Schlitz",
    "three-wing": "Dreiflügel",
    "A pack that is swollen, hot or smells: stop, isolate it, call the lead.":
        "Ein Akku, der aufgebläht oder heiss ist oder riecht: aufhören, absondern, die Leitung rufen.",
}  # fmt: skip

_PERSON = {
    "Helper card": "Karte der Person",
    "lead": "Leitung",
    "helper": "Hilfe",
    "desk": "Annahme",
    "Keep a copy with the training records; follow local codes.":
        "Eine Kopie bei den Schulungsunterlagen aufbewahren; die örtlichen Vorschriften befolgen.",
    "Nothing yet: hazardous work is not given to them alone.":
        "Noch nichts: Gefährliche Arbeit bekommt diese Person nicht allein.",
    "May do alone": "Darf allein",
    "Since": "Seit",
    "Until": "Bis",
    "Passes under eyes": "Durchgänge mit Aufsicht",
    "Pieces left over": "Übrige Stücke",
    "Signed": "Unterschrieben",
    "further notice": "auf weiteres",
    "not counted": "nicht gezählt",
    "A skill that is not on this card is done with the lead beside.":
        "Was nicht auf dieser Karte steht, geschieht mit der Leitung daneben.",
    "A sign-off ends on its day, and at once when the lead takes it back.":
        "Eine Freigabe endet an ihrem Tag, und sofort, wenn die Leitung sie zurücknimmt.",
    "day, signature of": "Tag, Unterschrift von",
    "day, signature of the lead": "Tag, Unterschrift der Leitung",
}  # fmt: skip

_EMERGENCY = {
    "Emergency card": "Notfallkarte",
    "Follow local codes; mains parts are for licensed people.":
        "Vorschriften befolgen; Teile am Netz nur für Fachleute.",
    "Follow local codes; leave mains parts to licensed people.":
        "Vorschriften befolgen; Teile am Netz nur für Fachleute.",
    "In an emergency": "Im Notfall",
    "People first. Leave the work as it lies. Call early.":
        "Menschen zuerst. Die Arbeit liegen lassen. Früh anrufen.",
    "A pack smokes, hisses or burns": "Ein Akku raucht, zischt oder brennt",
    "Everybody out of the smoke; warn the others; close the door behind you.":
        "Alle aus dem Rauch; die anderen warnen; die Tür hinter sich schliessen.",
    "Call the fire service and say: lithium pack.":
        "Die Feuerwehr rufen und sagen: Lithium-Akku.",
    "Only if it is small, you were shown how and the way out is behind you: pull the mains plug, slide the pack into the fire box with the tongs, shut it, carry it nowhere.":
        "Nur wenn es klein ist, man es geübt hat und der Ausgang im Rücken liegt: den Netzstecker ziehen, den Akku mit der Zange in die Feuerkiste schieben, schliessen, nirgendwohin tragen.",
    "Nobody goes back in. A pack can catch fire again hours later.":
        "Niemand geht zurück. Ein Akku kann noch Stunden später wieder Feuer fangen.",
    "Whoever breathed the smoke sees a doctor.":
        "Wer den Rauch eingeatmet hat, geht zum Arzt.",
    "A cut": "Ein Schnitt",
    "Press a clean pad on it and raise it. Glass that sits deep stays in.":
        "Eine saubere Auflage daraufdrücken und hochhalten. Tief sitzendes Glas bleibt drin.",
    "Rinse a small one, cover it, change the gloves.":
        "Einen kleinen Schnitt spülen, abdecken, die Handschuhe wechseln.",
    "It does not stop, gapes, or is numb: call for help.":
        "Er blutet weiter, klafft oder ist taub: Hilfe rufen.",
    "A burn": "Eine Verbrennung",
    "Off with rings and watch. Cool under running water for 20 minutes.":
        "Ringe und Uhr ablegen. 20 Minuten unter fliessendem Wasser kühlen.",
    "No ice, no ointment. Cover it loosely with film or a clean pad.":
        "Kein Eis, keine Salbe. Lose mit Folie oder sauberer Auflage abdecken.",
    "Larger than the palm, blistered, or from a pack: see a doctor.":
        "Grösser als die Handfläche, mit Blasen oder von einem Akku: zum Arzt gehen.",
    "A shock": "Ein Stromschlag",
    "Cut the current first: pull the plug or the switch. Touch nobody who still hangs on it.":
        "Zuerst den Strom trennen: den Stecker ziehen oder ausschalten. Niemanden berühren, der noch daran hängt.",
    "No breath: call for help, begin what you were taught, fetch the defibrillator.":
        "Keine Atmung: Hilfe rufen, beginnen, was gelernt wurde, den Defibrillator holen.",
    "Everybody who had a shock from the mains sees a doctor, however well they feel.":
        "Wer einen Schlag vom Netz bekam, geht zum Arzt, wie gut es auch geht.",
    "A spill, or something in the eye": "Verschüttetes, oder etwas im Auge",
    "Eye or skin: rinse with water for 15 minutes, lids held open; lenses out. Then a doctor, with the label of what it was.":
        "Auge oder Haut: 15 Minuten mit Wasser spülen, Lider offen halten; Kontaktlinsen heraus. Dann zum Arzt, mit dem Etikett des Stoffs.",
    "Solvent: no flame, no switch; windows open; out until it is gone.":
        "Lösemittel: keine Flamme, keinen Schalter; Fenster auf; hinaus, bis es weg ist.",
    "From a pack: gloves and goggles, soak it up, into a closed bag, to the hazardous waste.":
        "Aus einem Akku: Handschuhe und Schutzbrille, aufsaugen, in einen geschlossenen Beutel, zum Sondermüll.",
    "Here, at this bench": "Hier, an diesem Platz",
    "Emergency number": "Notrufnummer",
    "We are at (address, floor, door)": "Wir sind in (Adresse, Stock, Tür)",
    "First aider": "Ersthilfe leistet",
    "Mains switch of this bench": "Netzschalter dieses Platzes",
    "Fire box and tongs": "Feuerkiste und Zange",
    "Extinguisher": "Feuerlöscher",
    "Rinsing place for eyes": "Augendusche",
    "First-aid box": "Verbandkasten",
    "Where we meet outside": "Sammelplatz draussen",
    "Filled in by": "Ausgefüllt von",
    "on": "am",
    "Hang both pages where the bench can see them, and look through them at each fire drill.":
        "Beide Seiten so aufhängen, dass sie vom Platz aus zu sehen sind, und bei jeder Brandschutzübung durchsehen.",
    "Keep to your local fire plan and codes, and to what your first aiders were taught, where they say otherwise.":
        "Sich an den örtlichen Brandschutzplan, die Vorschriften und das halten, was die Ersthelfer gelernt haben, wo sie anderes sagen.",
}  # fmt: skip

STOPS = {
    "at a safe stop": "an einem sicheren Halt",
    "NOT at a safe stop; none before it is closed":
        "NICHT an einem sicheren Halt; keiner, bevor es geschlossen ist",
    "NOT at a safe stop; {n#} actions to the next one":
        "NICHT an einem sicheren Halt; {n} Handgriffe bis zum nächsten",
    "NOT at a safe stop; {n#} action to the next one":
        "NICHT an einem sicheren Halt; {n} Handgriff bis zum nächsten",
    "find out how it stands: no path on record":
        "herausfinden, wie es steht: kein Weg aufgezeichnet",
    "not known: do not power it": "nicht bekannt: nicht einschalten",
    "go on recording, or turn round": "weiter aufzeichnen, oder umkehren",
    "recorded: {x!}": "aufgezeichnet: {x}",
    "the way back is not worked out yet": "der Rückweg ist noch nicht erarbeitet",
    "nothing is left": "nichts bleibt zu tun",
    "the last line was told within five minutes of passing it on: look again":
        "die letzte Zeile wurde innerhalb von fünf Minuten vor der Weitergabe gemeldet: noch einmal ansehen",
    "line {n#}: {x.}": "Zeile {n}: {x}",
    "not put right: line {n#}, {x.}": "nicht behoben: Zeile {n}, {x}",
    "passed over: line {n#}, {x!}": "übergangen: Zeile {n}, {x}",
    "a lead for {n#} lines": "jemand von der Leitung für {n} Zeilen",
    "a lead for {n#} line": "jemand von der Leitung für {n} Zeile",
    "{x!}, a lead for {n#} lines": "{x}, jemand von der Leitung für {n} Zeilen",
    "{x!}, a lead for {n#} line": "{x}, jemand von der Leitung für {n} Zeile",
    "only {x!}": "nur {x}",
    "only who works at a bench": "nur wer an einem Platz arbeitet",
    "{x.} ({who!}, {at!} {h#}:{m#})": "{x} ({who}, {at} {h}:{m})",
}  # fmt: skip
"""How an open device stands, on the sheet of handover and on its page."""

_HANDOVER = {
    "Handover": "Übergabe",
    "Count the tray before the first action; where it differs, stop and ask.":
        "Die Schale vor dem ersten Handgriff zählen; wo es abweicht, anhalten und fragen.",
    "No device lies open.": "Kein Gerät liegt offen.",
    "{n#} open devices; every one at a safe stop":
        "{n} offene Geräte; jedes an einem sicheren Halt",
    "{n#} open device; every one at a safe stop":
        "{n} offenes Gerät; an einem sicheren Halt",
    "{n#} open devices; NOT at a safe stop: {list!}":
        "{n} offene Geräte; NICHT an einem sicheren Halt: {list}",
    "{n#} open device; NOT at a safe stop: {list!}":
        "{n} offenes Gerät; NICHT an einem sicheren Halt: {list}",
    "photo no.": "Foto Nr.",
    "power": "Strom",
    "HAZARD": "GEFAHR",
    "in the tray": "in der Schale",
    "In the tray": "In der Schale",
    "place": "Platz",
    "pieces": "Stück",
    "counted by": "gezählt von",
    "all": "alle",
    "nothing": "nichts",
    "I have seen every device above, counted its tray and read what is in doubt.":
        "Ich habe jedes Gerät oben gesehen, seine Schale gezählt und gelesen, was im Zweifel ist.",
    "goes": "geht",
    "comes": "kommt",
    "signature": "Unterschrift",
    "time": "Zeit",
    "state": "Zustand",
    "off": "ab",
    "disconnected": "getrennt",
    "moved aside": "beiseite",
    "last done": "zuletzt getan",
    "IN DOUBT": "IM ZWEIFEL",
    "nothing told": "nichts gesagt",
    "first action": "erste Arbeit",
    "who may": "wer darf",
    "anybody": "alle",
}  # fmt: skip

_POLICY = {
    "policy sheet": "Plan der Fehlersuche",
    "proven best": "bewiesen am besten",
    "best found, not proven": "am besten gefunden, nicht bewiesen",
    "Next|step": "Als Nächstes",
    "(a guess: only base priors speak)": "(geraten: nur die Ausgangswerte sprechen)",
    "close first": "zuerst schliessen",
    "open first": "zuerst öffnen",
    "uses": "verwendet",
    "Known|so far": "Bekannt",
    "nothing yet": "noch nichts",
    "owner's number": "Nummer des Eigentümers",
    "day": "Tag",
    "by": "von",
    "likely": "wahrscheinlich",
    "before": "vorher",
    "now": "jetzt",
    "what is done, by what came before": "was getan wird, nach dem, was vorher kam",
    "of 100": "von 100",
    "open|before it": "öffnen",
    "within limits": "in den Grenzen",
    "low": "zu tief",
    "high": "zu hoch",
    "ask again here": "hier wieder fragen",
    "function check-out": "Funktionsprüfung",
    "hand back": "zurückgeben",
    "give up": "aufgeben",
    "Minutes are hands and money together, money at the bench's rate; opening and closing are in them.":
        "Minuten sind Handarbeit und Geld zusammen, Geld zum Satz des Platzes; Öffnen und Schliessen sind darin.",
    "After every finding, ask again with all findings.":
        "Nach jedem Befund mit allen Befunden wieder fragen.",
    "A word after an exclamation mark says what may hurt; its caution is said when the action comes next.":
        "Ein Wort nach einem Ausrufezeichen sagt, was verletzen kann; die Warnung dazu kommt, wenn der Handgriff an der Reihe ist.",
    "pack": "Akku",
    "mains": "Netz",
    "static": "Elektrostatik",
    "hot": "heiss",
    "glass": "Glas",
    "fumes": "Dämpfe",
    "data": "Daten",
}  # fmt: skip

CARDS = {
    **_FASTENERS, **_WORDS, **_PERSON, **_EMERGENCY, **STOPS, **_HANDOVER,
    **_POLICY,
}  # fmt: skip
"""Fixed words and sentences of the cards and of the two sheets beside them."""

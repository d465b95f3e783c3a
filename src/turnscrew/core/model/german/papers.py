"""What do the papers of the bench say in German?"""

BOXES = {
    "Each box is a letter that this font lacks: see the screen for": "Jedes Kästchen ist ein Zeichen, das dieser Schrift fehlt: am Bildschirm steht",
    "more words": "weitere Wörter",
    "boxes: see the screen": "Kästchen: s. Bildschirm",
}
"""What papers of every kind say of letters that they cannot print."""

PAPERS = {
    "revision": "Ausführung",
    "page": "Seite",
    "of": "von",
    # Command card.
    "Codes for the bench": "Befehle für den Arbeitsplatz",
    "One code to a scan: cover its neighbour, or hold the scanner close.":
        "Ein Befehl je Scan: den Nachbarn abdecken, oder den Scanner nah halten.",
    "key": "Taste",
    "Three more like that": "Drei mehr davon",
    "Photo": "Foto",
    "Next": "Weiter",
    "Stuck, will not come": "Sitzt fest",
    "Say the line again": "Zeile wiederholen",
    "Park": "Parken",
    "Undo the whole burst": "Alles Schnelle zurück",
    "Point": "Komma",
    "Turned over": "Gewendet",
    "Number": "Zahl",
    "Part": "Teil",
    "Joint": "Verbindung",
    "Space or Enter": "Leertaste oder Eingabe",
    "Space": "Leertaste",
    "Backspace": "Rücktaste",
    "Shift+Backspace": "Umschalt+Rücktaste",
    "Arrow right": "Pfeil rechts",
    "Arrow up": "Pfeil hoch",
    "Delete": "Entf",
    "Shift+{x}": "Umschalt+{x}",
    # Length scale.
    "Scale card": "Masskarte",
    "True size only if the bar measures 100 mm.":
        "Nur massstäblich, wenn der Balken 100 mm misst.",
    "Print without scaling; measure the bar with a rule before the card is used.":
        "Ohne Skalierung drucken; den Balken mit einem Lineal messen, bevor die Karte benutzt wird.",
    "Length of a fastener": "Länge einer Schraube",
    "head": "Kopf",
    "here": "hier",
    "Stick the sheet on stout card and cut it along the right side of the black edge: the edge is the stop.":
        "Das Blatt auf festen Karton kleben und rechts entlang der schwarzen Kante schneiden: Die Kante ist der Anschlag.",
    "Hook the head over it, its underside against it, and read at the tip; ticks of 0.5 mm.":
        "Den Kopf darüber einhängen, die Auflageseite an die Kante, und an der Spitze ablesen; Teilung 0,5 mm.",
    "A countersunk screw is measured with its head: lay the top of the head level with the edge.":
        "Eine Senkschraube wird mit dem Kopf gemessen: die Oberseite des Kopfes bündig an die Kante legen.",
    "Trade custom, no source.": "Brauch im Handwerk, ohne Quelle.",
    "Size of the letters on the screen": "Schriftgrösse auf dem Bildschirm",
    "85.6 × 54.0 mm": "85,6 × 54,0 mm",
    "card of the size ID-1, ISO/IEC 7810": "Karte der Grösse ID-1, ISO/IEC 7810",
    "cut along the line, or take any card of this size":
        "entlang der Linie schneiden, oder irgendeine Karte dieser Grösse nehmen",
    "Hold the card flat against the screen.": "Die Karte flach an den Bildschirm halten.",
    "Make the frame on the screen wider or narrower until it is as large as the card, and press Done.":
        "Den Rahmen auf dem Bildschirm breiter oder schmaler machen, bis er so gross ist wie die Karte, und Fertig drücken.",
    "The letters are then as large as they are meant to be.":
        "Dann ist die Schrift so gross, wie sie sein soll.",
    # Opening sheet.
    "Opening and refit sheet": "Blatt zum Öffnen und Zusammenbauen",
    "Follow local codes; leave mains parts to licensed people.":
        "Die örtlichen Vorschriften befolgen; Teile am Netz zugelassenen Fachleuten überlassen.",
    "To reach": "Zu erreichen",
    "Is it this one? How sure is this sheet?": "Ist es dieses? Wie sicher ist dieses Blatt?",
    "Before opening": "Vor dem Öffnen",
    "Easily mistaken: read before the first is taken out":
        "Leicht zu verwechseln: lesen, bevor die erste herausgenommen wird",
    "Used up by this opening: have it at hand first":
        "Wird beim Öffnen verbraucht: zuerst bereitlegen",
    "spare": "Ersatzteil",
    "how much": "wie viel",
    "why": "warum",
    "line": "Zeile",
    "item": "Pos.",
    "action": "Arbeit",
    "posture / tool": "Lage / Werkzeug",
    "Caution.": "Vorsicht.",
    # A person, and no cable as at the bench.
    "only: lead": "nur: Leitung",
    "only: {x}": "nur: {x}",
    "Before": "Bevor",
    "With": "Mit",
    "Renew at refit": "Beim Einbau erneuern",
    "Opening path": "Öffnungsweg",
    "Refit list": "Liste zum Zusammenbau",
    "Close gate: answer all before the last cover":
        "Schliesssperre: alles beantworten vor der letzten Abdeckung",
    "Tray count: taken = back + replaced + left out + in tray":
        "Schalenzählung: entnommen = zurück + ersetzt + weggelassen + in der Schale",
    "joint": "Verbindung",
    "taken": "entnommen",
    "back|tray": "zurück",
    "back": "Rückseite",
    "in tray": "in Schale",
    "After closing": "Nach dem Schliessen",
    "device number": "Gerätenummer",
    "done by": "getan von",
    "second look": "zweiter Blick",
    "Photos to compare with": "Fotos zum Vergleichen",
    "Time": "Zeit",
    "Saves": "Erspart",
    "Proof": "Beweis",
    "Way": "Weg",
    "hands on {n#} min; four of five such jobs take {low#} to {high#} min":
        "Handarbeit {n} min; vier von fünf solchen Arbeiten brauchen {low} bis {high} min",
    "one opening for {n#} saves {m#} min hands on against one for each":
        "ein Öffnen für {n} erspart {m} min Handarbeit gegenüber einem für jedes",
    "proved cheapest, way in and way back together":
        "bewiesen am günstigsten, Weg hinein und zurück zusammen",
    "not proved cheapest: the best saves {n#} % at most":
        "nicht bewiesen am günstigsten: das beste spart höchstens {n} %",
    **{
        f"{{n#}} {action} in, {{m#}} back; joints that stay as they are: {{k#}}":
        f"{{n}} {german} hinein, {{m}} zurück; Verbindungen, die bleiben, wie sie sind: {{k}}"
        for action, german in (("action", "Arbeit"), ("actions", "Arbeiten"))
    },
    "{x} is undone": "{x} wird gelöst",
    "at refit": "beim Einbau",
    "only if {x}": "nur wenn {x}",
    "does not survive, and no replacement is recorded":
        "überlebt nicht, und kein Ersatz ist eingetragen",
    "not recorded": "nicht eingetragen",
    **{
        f"{{n#}} {unit}": f"{{n}} {german}"
        for unit, german in (
            ("piece", "Stück"), ("pieces", "Stück"), ("set", "Satz"), ("sets", "Sätze"),
            ("g", "g"), ("ml", "ml"),
        )
    },
    "{posture} / {tool}": "{posture} / {tool}",
    "Face: {x} ({size})": "Seite: {x} ({size})",
    "true size": "wahre Grösse",
    "not true size, scale 1:{n#}": "nicht wahre Grösse, Massstab 1:{n}",
    "Scale in a photo: {x}, {n#} mm.": "Massstab im Foto: {x}, {n} mm.",
    "Scale in a photo: {x}.": "Massstab im Foto: {x}.",
    "Drawing without words: {x}.": "Zeichnung ohne Worte: {x}.",
    "Told by: {x}": "Zu erkennen an: {x}",
    "Revision {x}: {y}": "Ausführung {x}: {y}",
    "Sure only once open: {x}": "Erst offen sicher: {x}",
    "Order nothing before that is seen": "Nichts bestellen, bevor das gesehen ist",
    **{
        f"Description: {state}{english}{tried}": f"Beschreibung: {german}{by}{rebuilt}"
        for state, german in (
            ("draft", "Entwurf"),
            ("tried by another", "von anderen erprobt"),
            ("released", "freigegeben"),
            ("withdrawn", "zurückgezogen"),
        )
        for english, by in (
            ("", ""),
            (" by {who!}", " von {who}"),
            (" by {who!} on {day!}", " von {who} am {day}"),
        )
        for tried, rebuilt in (
            ("", ""),
            (", rebuilt by {other!}", ", zusammengebaut von {other}"),
        )
    },
    # Inside a drawing.
    "up; face: {x}; seen: {y}": "oben; Seite: {x}; gesehen: {y}",
    "as it lies": "wie es liegt",
    "no lever": "nicht hebeln",
    "at most {n#} mm deep": "höchstens {n} mm tief",
    "Photo {x}: {rest;}": "Foto {x}: {rest}",
    "face {x}": "Seite {x}",
    "light: {x}": "Licht: {x}",
    "scale: {x}": "Massstab: {x}",
    "Test {x}: {y;}": "Prüfen: {x}: {y}",
}  # fmt: skip
"""Fixed words of the command card, the length scale and the opening sheet."""
